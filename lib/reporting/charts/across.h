#pragma once

#include <string>
#include <vector>

#include "reporting/charts/panel.h"
#include "units/length.h"

namespace thickset {

/// Values across the whole thickness, from face to face.
struct Across {
  std::vector<double> position;  ///< mm or inches; from the middle where both sides are alike
  std::vector<double> value;
};

/// In: position_m from the middle to a face, or from face to face.
Across across(const std::vector<double>& position_m,
              const std::vector<double>& value,
              bool both_sides_alike,
              Lengths unit);

/// "mm from the middle", or from the face that cools worse.
std::string position_words(bool both_sides_alike, Lengths unit);

}  // namespace thickset
