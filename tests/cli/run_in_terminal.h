#pragma once

#include <fcntl.h>
#include <poll.h>
#include <signal.h>
#include <stdlib.h>
#include <sys/ioctl.h>
#include <sys/wait.h>
#include <unistd.h>

#include <array>
#include <stdexcept>
#include <string>
#include <vector>

#include "cli/run_program.h"

namespace thickset {

/// A terminal of this size, and what the program finds in its environment: these and nothing else
/// but where the programs of the system are.
struct TerminalSettings {
  unsigned short columns = 80, rows = 50;
  std::vector<std::pair<std::string, std::string>> environment = {{"LANG", "C.UTF-8"},
                                                                  {"TERM", "xterm"}};
};

/// Runs the program with a terminal as its stdout and stderr; what it wrote is in `output`, with
/// plain line ends.
inline ProgramRun run_in_terminal(const std::vector<std::string>& words,
                                  const TerminalSettings& settings = {}) {
  const int ours = ::posix_openpt(O_RDWR | O_NOCTTY);
  if (ours < 0 || ::grantpt(ours) != 0 || ::unlockpt(ours) != 0) {
    throw std::runtime_error{"no terminal"};
  }
  const int theirs = ::open(::ptsname(ours), O_RDWR | O_NOCTTY);
  if (theirs < 0) throw std::runtime_error{"no other end of the terminal"};
  winsize size{};
  size.ws_col = settings.columns;
  size.ws_row = settings.rows;
  ::ioctl(theirs, TIOCSWINSZ, &size);

  std::vector<std::string> line = {THICKSET_BINARY};
  line.insert(line.end(), words.begin(), words.end());
  std::vector<char*> arguments;
  for (std::string& word : line) arguments.push_back(word.data());
  arguments.push_back(nullptr);
  std::vector<std::string> variables = {"PATH=/usr/bin:/bin"};
  for (const auto& [name, value] : settings.environment) variables.push_back(name + '=' + value);
  std::vector<char*> environment;
  for (std::string& variable : variables) environment.push_back(variable.data());
  environment.push_back(nullptr);

  const pid_t child = ::fork();
  if (child < 0) throw std::runtime_error{"no process"};
  if (child == 0) {
    ::dup2(theirs, STDOUT_FILENO);
    ::dup2(theirs, STDERR_FILENO);
    ::close(ours);
    ::close(theirs);
    if (::chdir(THICKSET_SOURCE) != 0) ::_exit(126);
    ::execve(arguments[0], arguments.data(), environment.data());
    ::_exit(127);
  }
  ::close(theirs);
  ProgramRun run{.exit_status = -1, .in_time = true, .output = {}, .errors = {}};
  for (;;) {
    pollfd end{ours, POLLIN, 0};
    constexpr int longest_ms = 120'000;
    if (::poll(&end, 1, longest_ms) <= 0) {
      run.in_time = false;
      ::kill(child, SIGKILL);
      break;
    }
    std::array<char, 4096> buffer;
    const ssize_t got = ::read(ours, buffer.data(), buffer.size());
    if (got <= 0) break;  // EIO: the other end is closed
    for (ssize_t i = 0; i < got; ++i) {
      const char c = buffer[static_cast<std::size_t>(i)];
      if (c == '\n' && run.output.ends_with('\r')) run.output.pop_back();
      run.output += c;
    }
  }
  ::close(ours);
  int status = 0;
  ::waitpid(child, &status, 0);
  if (WIFEXITED(status)) run.exit_status = WEXITSTATUS(status);
  return run;
}

}  // namespace thickset
