#include "base/problems.h"

namespace thickset {

void Problems::throw_if_any() const {
  if (lines_.empty()) return;
  std::string text;
  for (const std::string& line : lines_) {
    if (!text.empty()) text += '\n';
    text += line;
  }
  throw Error{text};
}

}  // namespace thickset
