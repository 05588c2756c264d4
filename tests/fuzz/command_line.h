#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "units/length.h"

namespace thickset::fuzz {

/// A command line and the files it may name, as one text:
///   --casting a.casting --chart "a chart.svg"
///   --- a.casting
///   title = ...
/// The first line holds the words, with spaces between; one in quotes may hold spaces. A file
/// begins after a line of "--- " and its name; the one called "-" is what stands on standard input.
struct CommandLine {
  struct File {
    std::string name;
    std::string text;
  };
  std::vector<std::string> words;
  std::vector<File> files;
};

/// Takes every text. No word names a file outside the folder it is run in: "/" is left out but
/// after a letter, a digit or ")" that no ".." follows. Names of files are made of letters, digits,
/// "-" and ".".
CommandLine parse_command_line(std::string_view text);

/// What came of one run of the program in this process.
struct CommandRun {
  int exit_status;
  std::string output;                   ///< stdout
  std::string errors;                   ///< stderr
  std::vector<std::string> files_left;  ///< that were not there before, sorted
};

/// Runs the program in a temporary folder that holds the files, and empties that again.
CommandRun run_in_process(const CommandLine& line);

/// Whether the command line describes castings thicker than this, or steps so many, that planning
/// takes long; false for one that is refused.
bool plans_long(const CommandLine& line, Length thickest, int most_steps);

}  // namespace thickset::fuzz
