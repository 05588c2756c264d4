#include "base/place.h"

#include <fmt/format.h>

namespace thickset {

std::string to_string(const Place& place) {
  if (place.line == 0) return place.source;
  if (place.source == standard_input) {
    return place.column == 0
               ? fmt::format("{}, line {}", place.source, place.line)
               : fmt::format("{}, line {}, column {}", place.source, place.line, place.column);
  }
  if (place.column == 0) return fmt::format("{}:{}", place.source, place.line);
  return fmt::format("{}:{}:{}", place.source, place.line, place.column);
}

}  // namespace thickset
