#pragma once

#include <string>

namespace thickset {

/// What every report ends with, in short; no option hides it.
std::string short_cautions();

/// The same in full, for the manual and pages.
std::string whole_cautions();

}  // namespace thickset
