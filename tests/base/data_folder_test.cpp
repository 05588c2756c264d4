#include "base/data_folder.h"

#include <cstdlib>
#include <filesystem>
#include <string>

#include <doctest/doctest.h>

#include "message_of.h"
#include "temporary_folder.h"

using namespace thickset;

namespace {

/// Sets or, with an empty value, unsets THICKSET_DATA; puts it back at the end of its scope.
class DataVariable {
 public:
  explicit DataVariable(const std::string& value) {
    if (const char* old = std::getenv("THICKSET_DATA")) old_ = old;
    set(value);
  }
  DataVariable(const DataVariable&) = delete;
  DataVariable& operator=(const DataVariable&) = delete;
  ~DataVariable() { set(old_); }

 private:
  static void set(const std::string& value) {
    if (value.empty()) {
      ::unsetenv("THICKSET_DATA");
    } else {
      ::setenv("THICKSET_DATA", value.c_str(), 1);
    }
  }
  std::string old_;
};

std::string with_glasses(const TemporaryFolder& folder) {
  folder.file("glasses/soda-lime-float.glass", "a = 1\n");
  folder.file("glasses/borosilicate-3.3.glass", "a = 1\n");
  folder.file("glasses/notes.txt", "text");
  std::filesystem::create_directories(folder / "glasses/folder.glass");
  return folder.path();
}

}  // namespace

TEST_CASE("data folder: the variable wins, and is the only one tried when it is set") {
  const TemporaryFolder chosen;
  const TemporaryFolder source;
  with_glasses(chosen);
  with_glasses(source);
  {
    const DataVariable variable{chosen.path()};
    CHECK(find_data_folder("", source.path()) == chosen.path());
  }
  const DataVariable variable{"/nowhere"};
  CHECK(
      message_of([&] { find_data_folder("", source.path()); }) ==
      "THICKSET_DATA: \"/nowhere\" is not a data folder: it has no glasses/ in it; name the folder "
      "that holds glasses/, or unset THICKSET_DATA");
}

TEST_CASE("data folder: then beside the running program, then the source tree") {
  const DataVariable none{""};
  const TemporaryFolder beside;
  const TemporaryFolder source;
  with_glasses(source);
  const std::string program =
      std::filesystem::read_symlink("/proc/self/exe").parent_path().string();
  const std::string to_beside = std::filesystem::relative(beside.path(), program).string();
  CHECK(find_data_folder(to_beside, source.path()) == source.path());
  with_glasses(beside);
  CHECK(std::filesystem::equivalent(find_data_folder(to_beside, source.path()), beside.path()));
}

TEST_CASE("data folder: where there is none, the message names what was tried") {
  const DataVariable none{""};
  const std::string message = message_of([] { find_data_folder("no/such", "/nowhere/data"); });
  CHECK(message.starts_with("no data folder found; tried /"));
  CHECK(
      message.find("no/such, /nowhere/data; set THICKSET_DATA to the folder that holds glasses/") !=
      std::string::npos);
}

TEST_CASE("data file: a shipped name, a path or a file is found") {
  const TemporaryFolder folder;
  const std::string data = with_glasses(folder);
  const auto find = [&](const std::string& name) {
    return find_data_file(data, "glasses", "glass", name, "--glass");
  };
  CHECK(find("soda-lime-float") == data + "/glasses/soda-lime-float.glass");
  CHECK(find("borosilicate-3.3") == data + "/glasses/borosilicate-3.3.glass");
  CHECK(find("./mine") == "./mine");
  CHECK(find("mine.glass") == "mine.glass");
}

TEST_CASE("data file: an unknown name is met with the nearest, or with all") {
  const TemporaryFolder folder;
  const std::string data = with_glasses(folder);
  const auto finding = [&](const std::string& name, const std::string& kind) {
    return message_of([&] { find_data_file(data, kind, "glass", name, "--glass"); });
  };
  CHECK(finding("soda-lime-flot", "glasses") ==
        "--glass: no glass is called \"soda-lime-flot\"; did you mean soda-lime-float?");
  CHECK(finding("quartz", "glasses") ==
        "--glass: no glass is called \"quartz\"; known: borosilicate-3.3, soda-lime-float");
  CHECK(finding("quartz", "none") ==
        "--glass: no glass is called \"quartz\"; there are no none in \"" + data + "\"");
  CHECK(finding("", "glasses") == "--glass: the name is empty; name a file, or one of glasses");
  CHECK(
      finding(std::string(5000, 'a'), "glasses").starts_with("--glass: no glass is called \"aaa"));
}

TEST_CASE("data names: are the files with the extension, sorted") {
  const TemporaryFolder folder;
  const std::string data = with_glasses(folder);
  CHECK(data_names(data, "glasses", "glass") ==
        std::vector<std::string>{"borosilicate-3.3", "soda-lime-float"});
  CHECK(data_names(data, "none", "glass").empty());
}
