#pragma once

#include "schedule/controller.h"

#include <string>

namespace thickset {

/// A controller from a .controller file. Throws: Error with every problem of the file.
Controller read_controller(const std::string& path);

}  // namespace thickset
