#pragma once

#include <string>
#include <string_view>

namespace thickset {

/// A report for a terminal that shows ASCII alone: "513 °C" becomes "513 C", letters lose their
/// accents, any other sign becomes "?".
///
/// What follows a degree sign stays in its column where the number before it has room to move to
/// the right, so that tables keep their columns and no line becomes longer.
std::string in_ascii(std::string_view text);

}  // namespace thickset
