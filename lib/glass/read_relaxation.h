#pragma once

#include "base/place.h"
#include "glass/relaxation_law.h"

#include <string_view>

namespace thickset {

/// H/R of the relaxation: "76200 K"; refused outside 20000 to 200000 K.
double read_activation_K(std::string_view text, const Place& place);

/// Mean shear time and where it holds: "1.000 s at 869 K", "34.9 s at 516 C".
struct MeanShearTime {
  double time_s;
  double reference_K;
};
MeanShearTime read_mean_shear_time(std::string_view text, const Place& place);

/// Share x of the temperature in the activation, the rest is the fictive temperature's: 0.2 to 1.
double read_activation_share(std::string_view text, const Place& place);

/// "relaxing", "elastic" or "constant-ratio".
Bulk read_bulk(std::string_view text, const Place& place);

}  // namespace thickset
