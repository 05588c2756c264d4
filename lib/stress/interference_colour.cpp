#include "stress/interference_colour.h"

#include <algorithm>
#include <cmath>

namespace thickset::stress {
namespace {

constexpr InterferenceColour colours[] = {
    {"black", 1, 0e-9, 70e-9},       {"grey", 1, 20e-9, 220e-9},
    {"white", 1, 160e-9, 340e-9},    {"yellow", 1, 270e-9, 480e-9},
    {"orange", 1, 380e-9, 520e-9},   {"red", 1, 460e-9, 560e-9},
    {"violet", 1, 490e-9, 620e-9},   {"blue", 2, 540e-9, 730e-9},
    {"green", 2, 670e-9, 860e-9},    {"yellow", 2, 800e-9, 960e-9},
    {"orange", 2, 910e-9, 1010e-9},  {"red", 2, 950e-9, 1110e-9},
    {"violet", 2, 1000e-9, 1170e-9}, {"blue", 3, 1100e-9, 1270e-9},
    {"green", 3, 1170e-9, 1420e-9},  {"yellow", 3, 1360e-9, 1480e-9},
    {"orange", 3, 1420e-9, 1510e-9}, {"red", 3, 1440e-9, 1600e-9},
    {"violet", 3, 1520e-9, 1730e-9}, {"green", 4, 1690e-9, 2030e-9},
};

}  // namespace

std::span<const InterferenceColour> interference_colours() {
  return colours;
}

const InterferenceColour* find_colour(std::string_view name, int order) {
  const auto* const found =
      std::find_if(std::begin(colours), std::end(colours), [&](const InterferenceColour& colour) {
        return colour.name == name && colour.order == order;
      });
  return found == std::end(colours) ? nullptr : found;
}

ColourOrders orders_of(std::string_view name) {
  ColourOrders orders{0, 0};
  for (const InterferenceColour& colour : colours) {
    if (colour.name != name) continue;
    if (orders.count == 0) orders.first = colour.order;
    ++orders.count;
  }
  return orders;
}

Spread retardation_of_colour_m(const InterferenceColour& colour,
                               std::optional<double> tint_plate_m) {
  if (!tint_plate_m) {
    return {colour.low_m, 0.5 * (colour.low_m + colour.high_m), colour.high_m};
  }
  constexpr double plate_error_m = 10e-9;
  const double low_m = colour.low_m - *tint_plate_m - plate_error_m;
  const double high_m = colour.high_m - *tint_plate_m + plate_error_m;
  const double middle_m = std::abs(0.5 * (low_m + high_m));
  const bool holds_zero = low_m <= 0.0 && high_m >= 0.0;
  const double nearest_m = holds_zero ? 0.0 : std::min(std::abs(low_m), std::abs(high_m));
  return {nearest_m, middle_m, std::max(std::abs(low_m), std::abs(high_m))};
}

}  // namespace thickset::stress
