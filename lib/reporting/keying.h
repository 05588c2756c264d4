#pragma once

#include "schedule/controller.h"
#include "schedule/program.h"

#include <string>

namespace thickset {

/// The steps as the controller asks for them, in its order and unit, and what to key at the end.
/// Steps (lines) are numbered on from those of the user's own heat-up, which come before.
/// begin: when, of a program that starts from the reading.
std::string keying_table(const Controller& controller,
                         const Program& program,
                         int heat_up_steps = 0,
                         const char* begin = "begin at the end of the process hold");

/// How a controller with several settings is to be set, and what the others would lose; nothing for
/// an empty choice.
std::string setting_line(const std::string& choice);

/// The steps of a program that is not for a particular controller.
std::string program_table(const Program& program);

}  // namespace thickset
