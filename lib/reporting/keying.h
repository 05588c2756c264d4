#pragma once

#include "schedule/controller.h"
#include "schedule/program.h"

#include <string>

namespace thickset {

/// The steps as the controller asks for them, in its order and unit, and what to key at the end.
std::string keying_table(const Controller& controller, const Program& program);

/// The steps of a program that is not for a particular controller.
std::string program_table(const Program& program);

}  // namespace thickset
