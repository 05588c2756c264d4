#pragma once

#include <cstddef>
#include <string>
#include <vector>

/// Commands in a page of Markdown, with the output the page says they have.
///
/// They stand in fenced blocks marked `console`:
///
///     ```console
///     $ thickset list glasses
///     the output, to the letter
///     ...
///     ```
///
/// A line "..." stands for any number of lines left out. Other fenced blocks are not run.
struct ReadmeCommand {
  int line;  ///< of the command in the page, from 1
  std::string command;
  std::vector<std::string> output;
};

inline std::vector<ReadmeCommand> readme_commands(const std::vector<std::string>& page) {
  std::vector<ReadmeCommand> commands;
  bool in_block = false;
  bool in_console = false;
  int number = 0;
  for (const std::string& line : page) {
    ++number;
    if (line.starts_with("```")) {
      in_block = !in_block;
      in_console = in_block && line == "```console";
    } else if (in_console && line.starts_with("$ ")) {
      commands.push_back({number, line.substr(2), {}});
    } else if (in_console && !commands.empty()) {
      commands.back().output.push_back(line);
    }
  }
  return commands;
}

/// Whether lines are as expected, from index `e` of the expected and `a` of the actual ones on.
inline bool lines_match(const std::vector<std::string>& expected,
                        const std::vector<std::string>& actual,
                        std::size_t e = 0,
                        std::size_t a = 0) {
  for (; e < expected.size(); ++e, ++a) {
    if (expected[e] == "...") {
      for (std::size_t rest = a; rest <= actual.size(); ++rest)
        if (lines_match(expected, actual, e + 1, rest)) return true;
      return false;
    }
    if (a >= actual.size() || actual[a] != expected[e]) return false;
  }
  return a == actual.size();
}
