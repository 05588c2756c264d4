#include "base/text_file.h"

#include <sys/stat.h>
#include <unistd.h>

#include <filesystem>
#include <string>

#include <doctest/doctest.h>

#include "message_of.h"
#include "temporary_folder.h"

using namespace thickset;
using namespace std::string_literals;

namespace {

std::string reading(const std::string& path, std::size_t max_bytes = 1000) {
  return message_of([&] { read_text_file(path, max_bytes); });
}

std::string writing(const std::string& path) {
  return message_of([&] { write_text_file(path, "new\n"); });
}

}  // namespace

TEST_CASE("text file: the byte-order mark goes and line ends become one sign") {
  const TemporaryFolder folder;
  CHECK(read_text_file(folder.file("a",
                                   "\xEF\xBB\xBF"
                                   "a = 1\r\nb = 2\n")) == "a = 1\nb = 2\n");
  CHECK(read_text_file(folder.file("b", "a\r\r\nb\tc\r")) == "a\nb\tc");
  CHECK(read_text_file(folder.file("c", "T = 5 \u00B0C")) == "T = 5 \u00B0C");
}

TEST_CASE("text file: what cannot be read says why in one line") {
  const TemporaryFolder folder;
  const std::string missing = folder / "none.glass";
  CHECK(reading(missing) == missing + ": no such file; check the name and the folder");
  CHECK(reading("") == "a file name is empty; name a file");
  CHECK(reading(folder.path()) == folder.path() + ": is a folder; name a file in it");
  for (const std::string& bytes : {""s, "\xEF\xBB\xBF"s, " \r\n\t\n"s}) {
    const std::string path = folder.file("empty", bytes);
    CHECK(reading(path) == path + ": is empty; check that it was saved whole");
  }
  for (const std::string& bytes : {"ab\0cd"s,
                                   "\0"s,
                                   "\x7F"
                                   "ELF\x02\x01\x01\0\0"s}) {
    const std::string path = folder.file("binary", bytes);
    CHECK(reading(path) == path + ": is not a text file; name a text file, saved as UTF-8");
  }
  const std::string latin = folder.file("latin",
                                        "a = 1\nT = 5 \xB0"
                                        "C\n");
  CHECK(reading(latin) == latin + ":2: is not UTF-8 text; save the file as UTF-8 text");
  const std::string old = folder.file("old", "a = 1\rb = 2\r");
  CHECK(reading(old) == old +
                            ":1: a carriage return without a line feed; save the file with line "
                            "ends of one kind, LF or CRLF");
  const std::string escape = folder.file("escape", "a = 1\ntitle = \x1B[2J\n");
  CHECK(reading(escape) ==
        escape + ":2: a control character, byte 0x1b; remove it: only text is read");
  const std::string second_set = folder.file("second",
                                             "a = \xC2\x9B"
                                             "2J\n");
  CHECK(reading(second_set).starts_with(second_set + ":1: a control character, byte 0xc2"));
  const std::string under_a_file = latin + "/x";
  CHECK(reading(under_a_file) == under_a_file + ": no such file; check the name and the folder");
}

TEST_CASE("text file: size is limited, devices without end too") {
  const TemporaryFolder folder;
  CHECK(read_text_file(folder.file("fits", std::string(1000, 'a')), 1000).size() == 1000);
  const std::string large = folder.file("large", std::string(1001, 'a'));
  CHECK(reading(large) ==
        large + ": is larger than 1000 bytes; name a smaller file, or thin it out");
  CHECK(reading("/dev/zero", 100'000).starts_with("/dev/zero: is larger than"));
}

TEST_CASE("text file: unreadable files are refused" * doctest::skip(::geteuid() == 0)) {
  const TemporaryFolder folder;  // skipped for root, who may read every file
  const std::string path = folder.file("closed", "a = 1\n");
  ::chmod(path.c_str(), 0);
  CHECK(reading(path).starts_with(path + ": cannot be read: "));
}

TEST_CASE("text file: writing makes or replaces a file and leaves nothing else") {
  const TemporaryFolder folder;
  const std::string path = folder / "out.csv";
  write_text_file(path, "one\n");
  CHECK(read_text_file(path) == "one\n");
  ::chmod(path.c_str(), 0640);
  write_text_file(path, "two\n");
  CHECK(read_text_file(path) == "two\n");
  CHECK(folder.count() == 1);
  CHECK(std::filesystem::status(path).permissions() == std::filesystem::perms{0640});
}

TEST_CASE("text file: writing through a link keeps the link") {
  const TemporaryFolder folder;
  const std::string target = folder.file("target", "old\n");
  const std::string link = folder / "link";
  std::filesystem::create_symlink(target, link);
  write_text_file(link, "new\n");
  CHECK(std::filesystem::is_symlink(link));
  CHECK(read_text_file(target) == "new\n");
}

TEST_CASE("text file: a device is written to, never replaced") {
  write_text_file("/dev/null", "text");
  CHECK(std::filesystem::is_character_file("/dev/null"));
}

TEST_CASE("text file: what cannot be written is an error and leaves nothing behind") {
  const TemporaryFolder folder;
  const std::string nowhere = folder / "none/out.csv";
  CHECK(writing(nowhere) ==
        nowhere +
            ": cannot be written: there is no such folder; make the folder first, or choose "
            "another");
  CHECK(writing(folder.path()) == folder.path() + ": is a folder; name a file in it");
  CHECK(writing("") == "a file name is empty; name a file to write");
  const std::string under_a_file = folder.file("file", "x") + "/out.csv";
  CHECK(writing(under_a_file).starts_with(under_a_file + ": cannot be written: "));
  CHECK(writing("/proc/version").starts_with("/proc/version: cannot be written: "));
  CHECK(writing("/dev/full").starts_with("/dev/full: cannot be written: "));
  const std::string too_long = folder / std::string(300, 'a');
  CHECK(writing(too_long).starts_with(too_long + ": cannot be written: "));
  CHECK(folder.count() == 1);
}
