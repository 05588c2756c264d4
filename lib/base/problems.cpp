#include "base/problems.h"

#include <fmt/format.h>

namespace thickset {

void Problems::throw_if_any() const {
  if (lines_.empty()) return;
  std::string text;
  for (const std::string& line : lines_) {
    if (!text.empty()) text += '\n';
    text += line;
  }
  if (not_kept_ > 0) text += fmt::format("\nand {} more", not_kept_);
  throw Error{text};
}

}  // namespace thickset
