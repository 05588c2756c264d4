#include "base/error.h"

#include <fmt/format.h>

#include "base/text.h"

namespace thickset {

std::string error_line(const Place& where, std::string_view what, std::string_view mend) {
  const std::string place = to_string(where);
  return shown(fmt::format(
      "{}{}{}{}{}", place, place.empty() ? "" : ": ", what, mend.empty() ? "" : "; ", mend));
}

Error::Error(const Place& where, std::string_view what, std::string_view mend)
    : std::runtime_error{error_line(where, what, mend)} {}

}  // namespace thickset
