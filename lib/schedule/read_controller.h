#pragma once

#include "schedule/controller.h"

#include <string>
#include <string_view>

namespace thickset {

/// A controller from a .controller file. Throws: Error with every problem of the file.
Controller read_controller(const std::string& path);

/// The same from a text; path: where it was read, for messages.
Controller parse_controller(std::string_view text, const std::string& path);

}  // namespace thickset
