#include "fuzz/command_line.h"

#include <fcntl.h>
#include <unistd.h>

#include <algorithm>
#include <cstdio>
#include <exception>
#include <filesystem>
#include <stdexcept>
#include <system_error>

#include "base/error.h"
#include "cli/inputs.h"
#include "cli/options.h"
#include "cli/run.h"
#include "geometry/shape.h"
#include "simulation/casting.h"
#include "temporary_folder.h"

namespace thickset::fuzz {
namespace {

namespace fs = std::filesystem;

bool is_letter_or_digit(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9');
}

std::string_view take_line(std::string_view& text) {
  const std::size_t end = std::min(text.find('\n'), text.size());
  const std::string_view line = text.substr(0, end);
  text.remove_prefix(std::min(end + 1, text.size()));
  return line;
}

/// "C/h" stays, "/etc", "../a" and "./a" do not. No word can hold a zero byte.
std::string tame(const std::string& word) {
  std::string kept;
  for (const char c : word) {
    const bool climbs = kept.find("..") != kept.npos;
    const bool after_unit =
        !kept.empty() && (is_letter_or_digit(kept.back()) || kept.back() == ')');
    if (c == '\0' || (c == '/' && (climbs || !after_unit))) continue;
    kept += c;
  }
  return kept;
}

std::vector<std::string> words_of(std::string_view line) {
  std::vector<std::string> words;
  std::string word;
  bool in_quotes = false;
  bool begun = false;
  const auto end = [&] {
    if (begun) words.push_back(tame(word));
    word.clear();
    begun = false;
  };
  for (const char c : line) {
    if (c == ' ' && !in_quotes) {
      end();
    } else {
      begun = true;
      if (c == '"') {
        in_quotes = !in_quotes;
      } else {
        word += c;
      }
    }
  }
  end();
  return words;
}

std::string file_name(std::string_view text) {
  std::string name;
  for (const char c : text) {
    if (is_letter_or_digit(c) || c == '-' || (c == '.' && !name.empty() && name.back() != '.')) {
      name += c;
    }
  }
  return name.substr(0, 60);
}

/// The working folder and the three streams, put back at the end.
class Elsewhere {
 public:
  explicit Elsewhere(const std::string& folder)
      : folder_{::open(".", O_RDONLY | O_DIRECTORY | O_CLOEXEC)} {
    std::fflush(stdout);
    std::fflush(stderr);
    if (folder_ < 0 || ::chdir(folder.c_str()) != 0) throw std::runtime_error{"no folder"};
  }
  Elsewhere(const Elsewhere&) = delete;
  Elsewhere& operator=(const Elsewhere&) = delete;
  ~Elsewhere() {
    std::fflush(stdout);
    std::fflush(stderr);
    std::clearerr(stdin);
    for (const int stream : {STDIN_FILENO, STDOUT_FILENO, STDERR_FILENO}) {
      if (kept_[stream] < 0) continue;
      ::dup2(kept_[stream], stream);
      ::close(kept_[stream]);
    }
    if (::fchdir(folder_) != 0) std::terminate();
    ::close(folder_);
  }

  /// From now on this stream is that file.
  void redirect(int stream, int file) {
    kept_[stream] = ::fcntl(stream, F_DUPFD_CLOEXEC, 3);
    ::dup2(file, stream);
  }

 private:
  int folder_;
  int kept_[3] = {-1, -1, -1};
};

/// A file without a name.
class Sink {
 public:
  explicit Sink(std::string_view text = {}) : file_{std::tmpfile()} {
    if (file_ == nullptr) throw std::runtime_error{"no temporary file"};
    std::fwrite(text.data(), 1, text.size(), file_);
    std::rewind(file_);
  }
  Sink(const Sink&) = delete;
  Sink& operator=(const Sink&) = delete;
  ~Sink() { std::fclose(file_); }

  int descriptor() const { return ::fileno(file_); }

  std::string text() const {
    std::string text;
    char block[4096];
    ssize_t got = 0;
    off_t at = 0;
    while ((got = ::pread(descriptor(), block, sizeof block, at)) > 0) {
      text.append(block, static_cast<std::size_t>(got));
      at += got;
    }
    return text;
  }

 private:
  std::FILE* file_;
};

/// The one folder of this process, with the files of a command line while this lives.
class Folder {
 public:
  explicit Folder(const CommandLine& line) : input_{input_of(line)} {
    for (const CommandLine::File& file : line.files) {
      if (file.name != "-") here().file(file.name, file.text);
    }
  }
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;
  ~Folder() {
    std::error_code ignored;
    for (const fs::directory_entry& entry : fs::directory_iterator{path()}) {
      fs::remove_all(entry.path(), ignored);
    }
  }

  std::string path() const { return here().path(); }
  int input() const { return input_.descriptor(); }

 private:
  static const TemporaryFolder& here() {
    static const TemporaryFolder folder;
    return folder;
  }
  static std::string input_of(const CommandLine& line) {
    for (const CommandLine::File& file : line.files) {
      if (file.name == "-") return file.text;
    }
    return {};
  }

  Sink input_;
};

}  // namespace

CommandLine parse_command_line(std::string_view text) {
  CommandLine line{.words = words_of(take_line(text)), .files = {}};
  while (!text.empty()) {
    const std::string_view next = take_line(text);
    if (next.starts_with("--- ")) {
      line.files.push_back({file_name(next.substr(4)), {}});
    } else if (!line.files.empty()) {
      line.files.back().text.append(next) += '\n';
    }
  }
  std::erase_if(line.files, [](const CommandLine::File& file) { return file.name.empty(); });
  return line;
}

CommandRun run_in_process(const CommandLine& line) {
  CommandRun run{};
  const Folder folder{line};
  const Sink out, errors;
  {
    Elsewhere elsewhere{folder.path()};
    elsewhere.redirect(STDIN_FILENO, folder.input());
    elsewhere.redirect(STDOUT_FILENO, out.descriptor());
    elsewhere.redirect(STDERR_FILENO, errors.descriptor());
    run.exit_status = cli::run(line.words);
  }
  run.output = out.text();
  run.errors = errors.text();
  for (const fs::directory_entry& entry : fs::directory_iterator{folder.path()}) {
    const std::string name = entry.path().filename().string();
    const bool given = std::any_of(
        line.files.begin(), line.files.end(), [&](const auto& file) { return file.name == name; });
    if (!given) run.files_left.push_back(name);
  }
  std::sort(run.files_left.begin(), run.files_left.end());
  return run;
}

bool plans_long(const CommandLine& line, Length thickest, int most_steps) {
  const Folder folder{line};
  const Sink said;
  Elsewhere elsewhere{folder.path()};
  elsewhere.redirect(STDIN_FILENO, folder.input());
  elsewhere.redirect(STDERR_FILENO, said.descriptor());
  try {
    const cli::Options options = cli::read_options(line.words);
    if (options.steps.value_or(0) > most_steps) return true;
    if (options.command == cli::Command::table) return options.rows.back() > thickest;
    const std::vector<Casting> castings = cli::load_castings(options);
    return std::any_of(castings.begin(), castings.end(), [&](const Casting& casting) {
      return largest_ball(casting.governing_shape()) > thickest;
    });
  } catch (const Error&) {
    return false;
  }
}

}  // namespace thickset::fuzz
