#pragma once

#include <string>

namespace thickset::cli {

/// Whether `help completion` knows this: bash, zsh or fish, or a kind that `list` shows.
bool is_completion_topic(const std::string& topic);

/// The script for bash, zsh or fish: the commands, the options of each, and the names that `list`
/// shows where an option takes one. Or, of a kind such as "glasses", those names, a line each: the
/// scripts ask for them when they are wanted, so that names added later are among them.
std::string completion_text(const std::string& topic);

}  // namespace thickset::cli
