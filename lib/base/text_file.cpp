#include "base/text_file.h"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstdio>
#include <cstring>
#include <filesystem>
#include <memory>
#include <string>
#include <system_error>

#include <fmt/format.h>

#include "base/error.h"
#include "base/text.h"
#include "base/unfinished_file.h"

namespace thickset {

namespace {

namespace fs = std::filesystem;

struct CloseFile {
  void operator()(std::FILE* file) const { std::fclose(file); }
};

/// A file being written; closed on leaving.
class OpenFile {
 public:
  explicit OpenFile(int descriptor) : descriptor_{descriptor} {}
  OpenFile(const OpenFile&) = delete;
  OpenFile& operator=(const OpenFile&) = delete;
  ~OpenFile() {
    if (descriptor_ >= 0) ::close(descriptor_);
  }

  bool write(std::string_view text) const {
    while (!text.empty()) {
      const ssize_t written = ::write(descriptor_, text.data(), text.size());
      if (written < 0 && errno == EINTR) continue;
      if (written < 0) return false;
      text.remove_prefix(static_cast<std::size_t>(written));
    }
    return true;
  }

  bool close() {
    const int descriptor = descriptor_;
    descriptor_ = -1;
    return ::close(descriptor) == 0;
  }

  int descriptor() const { return descriptor_; }

 private:
  int descriptor_;
};

Error cannot_write(const std::string& path, int error_number) {
  return Error{Place{path},
               fmt::format("cannot be written: {}", std::strerror(error_number)),
               "choose a folder you may write to, with room left"};
}

/// To a device or a pipe, which must not be replaced by a file. A pipe that nobody reads any more
/// is no error.
void write_in_place(const std::string& path, std::string_view text) {
  OpenFile file{::open(path.c_str(), O_WRONLY | O_CLOEXEC)};
  if (file.descriptor() >= 0 && file.write(text) && file.close()) return;
  if (file.descriptor() >= 0 && errno == EPIPE) return;
  throw cannot_write(path, errno);
}

std::string bytes_of(std::FILE* stream, const Place& place, std::size_t max_bytes) {
  std::string text;
  char block[1u << 16];
  while (const std::size_t got = std::fread(block, 1, sizeof block, stream)) {
    text.append(block, got);
    if (text.size() > max_bytes) {
      throw Error{place,
                  fmt::format("is larger than {} bytes", max_bytes),
                  "name a smaller file, or thin it out"};
    }
  }
  if (std::ferror(stream) != 0) {
    throw Error{place,
                fmt::format("cannot be read: {}", std::strerror(errno)),
                "check the file and its disk"};
  }
  return text;
}

/// The line of a byte of a file.
Place line_at(std::string_view text, std::size_t at, const std::string& path) {
  const std::string_view before = text.substr(0, at);
  return {path, static_cast<int>(1 + std::count(before.begin(), before.end(), '\n'))};
}

void refuse_controls(std::string_view text, const std::string& path) {
  const std::size_t control = first_control(text);
  if (control == text.npos) return;
  const Place place = line_at(text, control, path);
  if (text[control] == '\r') {
    throw Error{place,
                "a carriage return without a line feed",
                "save the file with line ends of one kind, LF or CRLF"};
  }
  throw Error{place,
              fmt::format("a control character, byte {:#04x}",
                          static_cast<unsigned>(static_cast<unsigned char>(text[control]))),
              "remove it: only text is read"};
}

/// Bytes as text, refused where they are none. empty_mend: what to do about nothing.
std::string as_text(std::string text, const std::string& source, const char* empty_mend) {
  const Place place{source};
  constexpr std::string_view byte_order_mark = "\xEF\xBB\xBF";
  if (std::string_view{text}.starts_with(byte_order_mark)) text.erase(0, byte_order_mark.size());
  if (text.find_first_not_of(" \t\r\n") == std::string::npos && text.find('\0') == text.npos) {
    throw Error{place, "is empty", empty_mend};
  }
  if (text.find('\0') != text.npos) {
    throw Error{place, "is not a text file", "name a text file, saved as UTF-8"};
  }
  const std::size_t bad = first_not_utf8(text);
  if (bad != text.npos) {
    throw Error{line_at(text, bad, source), "is not UTF-8 text", "save the file as UTF-8 text"};
  }

  std::size_t to = 0;
  const auto drop_returns = [&] {
    while (to > 0 && text[to - 1] == '\r') --to;
  };
  for (const char c : text) {
    if (c == '\n') drop_returns();
    text[to++] = c;
  }
  drop_returns();
  text.resize(to);
  refuse_controls(text, source);
  return text;
}

}  // namespace

std::string read_bytes(const std::string& path, std::size_t max_bytes) {
  const Place place{path};
  if (path.empty()) throw Error{place, "a file name is empty", "name a file"};
  std::error_code error;
  const fs::file_status status = fs::status(path, error);
  if (status.type() == fs::file_type::not_found) {
    throw Error{place, "no such file", "check the name and the folder"};
  }
  if (fs::is_directory(status)) throw Error{place, "is a folder", "name a file in it"};
  const std::unique_ptr<std::FILE, CloseFile> file{std::fopen(path.c_str(), "rb")};
  if (!file) {
    throw Error{place,
                fmt::format("cannot be read: {}", std::strerror(errno)),
                "check that you may read it"};
  }
  return bytes_of(file.get(), place, max_bytes);
}

std::string read_text_file(const std::string& path, std::size_t max_bytes) {
  return as_text(read_bytes(path, max_bytes), path, "check that it was saved whole");
}

std::string read_standard_input(std::size_t max_bytes) {
  const std::string source{standard_input};
  return as_text(
      bytes_of(stdin, Place{source}, max_bytes), source, "check the command that writes into it");
}

void write_text_file(const std::string& path, std::string_view text) {
  if (path.empty()) throw Error{Place{path}, "a file name is empty", "name a file to write"};
  std::error_code error;
  const fs::file_status status = fs::status(path, error);
  if (fs::is_directory(status)) throw Error{Place{path}, "is a folder", "name a file in it"};
  if (fs::exists(status) && !fs::is_regular_file(status)) return write_in_place(path, text);

  std::string target = path;
  mode_t mode = 0666;  // lessened by the user's mask, as for any new file
  if (fs::is_regular_file(status)) {
    if (::access(path.c_str(), W_OK) != 0) throw cannot_write(path, errno);
    // Through a link, the file it leads to is the one to replace.
    const fs::path behind_links = fs::canonical(path, error);
    if (!error) target = behind_links.string();
    mode = static_cast<mode_t>(status.permissions() & fs::perms::mask);
  }
  UnfinishedFile unfinished{fmt::format("{}.{}.part", target, ::getpid())};
  const std::string& temporary = unfinished.path();
  ::unlink(temporary.c_str());
  OpenFile file{::open(temporary.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, mode & 0777)};
  if (file.descriptor() < 0) {
    if (errno == ENOENT) {
      throw Error{Place{path},
                  "cannot be written: there is no such folder",
                  "make the folder first, or choose another"};
    }
    throw cannot_write(path, errno);
  }
  if (!file.write(text) || ::fsync(file.descriptor()) != 0 || !file.close()) {
    throw cannot_write(path, errno);
  }
  if (std::rename(temporary.c_str(), target.c_str()) != 0) throw cannot_write(path, errno);
  unfinished.keep();
}

}  // namespace thickset
