#pragma once

#include <sys/wait.h>

#include <array>
#include <cstdio>
#include <filesystem>
#include <string>

struct CommandResult {
  std::string output;  ///< of both streams, in the order written
  int exit_status;     ///< -1 when the command could not be run or was ended by a signal
};

/// Text as one word of a shell command.
inline std::string shell_quoted(const std::string& text) {
  std::string quoted = "'";
  for (const char c : text) quoted += c == '\'' ? std::string{"'\\''"} : std::string{c};
  return quoted + "'";
}

/// Runs a shell command in a folder.
inline CommandResult run_command(const std::string& command, const std::filesystem::path& folder) {
  CommandResult result{"", -1};
  const std::string line = "cd " + shell_quoted(folder.string()) + " && { " + command + "\n} 2>&1";
  std::FILE* const pipe = popen(line.c_str(), "r");
  if (pipe == nullptr) return result;
  std::array<char, 4096> buffer;
  while (const std::size_t n = std::fread(buffer.data(), 1, buffer.size(), pipe))
    result.output.append(buffer.data(), n);
  const int status = pclose(pipe);
  if (WIFEXITED(status)) result.exit_status = WEXITSTATUS(status);
  return result;
}
