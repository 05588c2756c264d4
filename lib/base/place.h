#pragma once

#include <string>
#include <string_view>

namespace thickset {

/// The source of what is read from standard input.
inline constexpr std::string_view standard_input = "standard input";

/// Where a piece of input stands: a file with line and column (both from 1), or the name of an
/// option such as "--thickness", for which line and column are 0.
struct Place {
  std::string source;
  int line = 0;
  int column = 0;
};

/// "file:line:column", "standard input, line 3, column 5", or just the source where there is no
/// line.
std::string to_string(const Place& place);

}  // namespace thickset
