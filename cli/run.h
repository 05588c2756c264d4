#pragma once

#include <string>
#include <vector>

#include "commands.h"

namespace thickset::cli {

/// One run of the program: reads the command line, its own name left out, does what it asks for,
/// and says what is wrong on stderr. A process may run it again and again.
ExitStatus run(std::vector<std::string> words);

}  // namespace thickset::cli
