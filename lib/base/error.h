#pragma once

#include "base/place.h"

#include <stdexcept>
#include <string>
#include <string_view>

namespace thickset {

/// Input that cannot be used. The message is one line, "where: what; how to mend".
///
/// Thrown in lib/, caught in main, which prints it and exits with status 2. A schedule that is too
/// fast is not an error but a Finding.
class Error : public std::runtime_error {
 public:
  Error(const Place& where, std::string_view what, std::string_view mend);

  /// Several problems of one input, one line each; made by Problems.
  explicit Error(const std::string& lines) : std::runtime_error{lines} {}
};

/// The line an Error prints: "where: what; mend" (where, mend may be empty); "?" for control signs.
std::string error_line(const Place& where, std::string_view what, std::string_view mend);

}  // namespace thickset
