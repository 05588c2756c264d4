#pragma once

#include "options.h"

#include <span>

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

/// What an exit status of the program says.
struct ExitMeaning {
  int status;
  const char* meaning;
};

std::span<const ExitMeaning> exit_meanings();

}  // namespace thickset::cli
