#pragma once

#include "options.h"

#include <span>
#include <vector>

namespace thickset::cli {

/// What a person is told of one command.
struct CommandInfo {
  Command command;
  const char* name;
  const char* operand;  ///< what follows the name, as help writes it: "PROGRAM"; "" for nothing
  const char* answers;
  const char* example;
};

/// All commands in the order help lists them; help and version themselves are not among them.
std::span<const CommandInfo> all_commands();

/// Of a command that is listed.
const CommandInfo& info_of(Command command);

/// Whether it takes a program or a log, and then what is said of "-".
bool reads_programs(Command command);
const char* standard_input_words();

/// A line of an example file and what it says.
struct FileLine {
  const char* text;
  const char* meaning;
};

/// What a kind of file that people write looks like.
struct FileForm {
  const char* what;
  std::span<const FileLine> lines;
  const char* more;
};

/// Of those that a command reads.
std::vector<FileForm> files_of(Command command);

/// What an exit status of the program says.
struct ExitMeaning {
  int status;
  const char* meaning;
};

std::span<const ExitMeaning> exit_meanings();

}  // namespace thickset::cli
