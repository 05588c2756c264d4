#pragma once

#include <string>

namespace thickset {

/// What every report ends with, in short; no option hides it.
std::string short_cautions();

/// Besides, where glass that may be cracked is still warm or is to be heated.
std::string cautions_of_warm_glass();

/// The same in full, for the manual and pages.
std::string whole_cautions();

}  // namespace thickset
