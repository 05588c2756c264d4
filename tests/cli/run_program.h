#pragma once

#include <poll.h>
#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <chrono>
#include <cstdio>
#include <filesystem>
#include <optional>
#include <stdexcept>
#include <string>
#include <utility>
#include <vector>

namespace thickset {

struct ProgramRun {
  int exit_status;     ///< -1 when a signal ended it
  bool in_time;        ///< false: it was stopped at the time limit
  std::string output;  ///< stdout
  std::string errors;  ///< stderr
};

/// How to run the program: where, with what in its environment, for how long at most.
struct RunSettings {
  std::filesystem::path folder = THICKSET_SOURCE;
  std::vector<std::pair<std::string, std::string>> environment = {};
  std::chrono::seconds longest{120};
  std::optional<std::string> input = {};  ///< what it finds on stdin; nullopt: ours
};

/// Runs the program with these words, without a shell.
inline ProgramRun run_program(const std::vector<std::string>& words,
                              const RunSettings& settings = {}) {
  std::array<int, 2> output{}, errors{};
  if (::pipe(output.data()) != 0 || ::pipe(errors.data()) != 0) throw std::runtime_error{"no pipe"};
  std::vector<std::string> line = {THICKSET_BINARY};
  line.insert(line.end(), words.begin(), words.end());
  std::vector<char*> arguments;
  for (std::string& word : line) arguments.push_back(word.data());
  arguments.push_back(nullptr);
  std::FILE* const input = settings.input ? std::tmpfile() : nullptr;
  if (settings.input) {
    if (input == nullptr) throw std::runtime_error{"no temporary file"};
    std::fwrite(settings.input->data(), 1, settings.input->size(), input);
    std::rewind(input);
  }
  const pid_t child = ::fork();
  if (child < 0) throw std::runtime_error{"no process"};
  if (child == 0) {
    if (input != nullptr) ::dup2(::fileno(input), STDIN_FILENO);
    ::dup2(output[1], STDOUT_FILENO);
    ::dup2(errors[1], STDERR_FILENO);
    for (const int end : {output[0], output[1], errors[0], errors[1]}) ::close(end);
    if (::chdir(settings.folder.c_str()) != 0) ::_exit(126);
    for (const auto& [name, value] : settings.environment) {
      ::setenv(name.c_str(), value.c_str(), 1);
    }
    ::execv(arguments[0], arguments.data());
    ::_exit(127);
  }
  if (input != nullptr) std::fclose(input);
  ::close(output[1]);
  ::close(errors[1]);
  ProgramRun run{.exit_status = -1, .in_time = true, .output = {}, .errors = {}};
  const auto deadline = std::chrono::steady_clock::now() + settings.longest;
  std::array<pollfd, 2> ends = {pollfd{output[0], POLLIN, 0}, pollfd{errors[0], POLLIN, 0}};
  while (ends[0].fd >= 0 || ends[1].fd >= 0) {
    const auto left = std::chrono::duration_cast<std::chrono::milliseconds>(
        deadline - std::chrono::steady_clock::now());
    if (left.count() <= 0) {
      run.in_time = false;
      ::kill(child, SIGKILL);
      break;
    }
    ::poll(ends.data(), ends.size(), static_cast<int>(left.count()));
    for (std::size_t i = 0; i < ends.size(); ++i) {
      if (ends[i].fd < 0 || ends[i].revents == 0) continue;
      std::array<char, 4096> buffer;
      const ssize_t got = ::read(ends[i].fd, buffer.data(), buffer.size());
      if (got <= 0) {
        ends[i].fd = -1;
        continue;
      }
      (i == 0 ? run.output : run.errors).append(buffer.data(), static_cast<std::size_t>(got));
    }
  }
  ::close(output[0]);
  ::close(errors[0]);
  int status = 0;
  ::waitpid(child, &status, 0);
  if (WIFEXITED(status)) run.exit_status = WEXITSTATUS(status);
  return run;
}

/// The lines of a text, without their ends.
inline std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> lines;
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t end = std::min(text.find('\n', at), text.size());
    lines.push_back(text.substr(at, end - at));
    at = end + 1;
  }
  return lines;
}

}  // namespace thickset
