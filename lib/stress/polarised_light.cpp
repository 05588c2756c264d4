#include "stress/polarised_light.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <numbers>

namespace thickset::stress {
namespace {

struct Tristimulus {
  double x = 0.0, y = 0.0, z = 0.0;

  void add(const Tristimulus& other, double times) {
    x += times * other.x;
    y += times * other.y;
    z += times * other.z;
  }
};

/// One side steeper than the other. Source: [WSS13].
double lobe(double wavelength_nm, double middle_nm, double below_per_nm, double above_per_nm) {
  const double from_middle_nm = wavelength_nm - middle_nm;
  const double t = from_middle_nm * (from_middle_nm < 0.0 ? below_per_nm : above_per_nm);
  return std::exp(-0.5 * t * t);
}

/// The standard observer of 1931 as sums of lobes. Source: [WSS13].
Tristimulus eye(double w_nm) {
  return {0.362 * lobe(w_nm, 442.0, 0.0624, 0.0374) + 1.056 * lobe(w_nm, 599.8, 0.0264, 0.0323) -
              0.065 * lobe(w_nm, 501.1, 0.0490, 0.0382),
          0.821 * lobe(w_nm, 568.8, 0.0213, 0.0247) + 0.286 * lobe(w_nm, 530.9, 0.0613, 0.0322),
          1.217 * lobe(w_nm, 437.0, 0.0845, 0.0278) + 0.681 * lobe(w_nm, 459.0, 0.0385, 0.0725)};
}

/// Planck's law at 6500 K, without its factor.
double daylight(double w_nm) {
  constexpr double second_radiation_constant_nm_K = 1.438777e7;  // [CODATA18]
  constexpr double daylight_K = 6500.0;
  return std::pow(w_nm / 560.0, -5.0) /
         (std::exp(second_radiation_constant_nm_K / (w_nm * daylight_K)) - 1.0);
}

/// Source: [IEC61966].
double encoded(double linear) {
  const double cut = std::clamp(linear, 0.0, 1.0);
  return cut <= 0.0031308 ? 12.92 * cut : 1.055 * std::pow(cut, 1.0 / 2.4) - 0.055;
}

}  // namespace

ScreenColour colour_on_screen(double retardation_m) {
  assert(retardation_m >= 0.0);
  const double retardation_nm = retardation_m * 1e9;
  Tristimulus lamp, seen;
  for (double w_nm = 380.0; w_nm <= 780.0; w_nm += 5.0) {
    const Tristimulus e = eye(w_nm);
    const double light = daylight(w_nm);
    const double wave = std::sin(std::numbers::pi * retardation_nm / w_nm);
    lamp.add(e, light);
    seen.add(e, light * wave * wave);
  }
  // The lamp's white is the screen's.
  const double x = 0.9505 * seen.x / lamp.x, y = seen.y / lamp.y, z = 1.0890 * seen.z / lamp.z;
  return {encoded(3.2406 * x - 1.5372 * y - 0.4986 * z),
          encoded(-0.9689 * x + 1.8758 * y + 0.0415 * z),
          encoded(0.0557 * x - 0.2040 * y + 1.0570 * z)};
}

const InterferenceColour& colour_at(double retardation_m) {
  const auto colours = interference_colours();
  const auto off = [&](const InterferenceColour& colour) {
    return std::abs(retardation_m - 0.5 * (colour.low_m + colour.high_m)) /
           (colour.high_m - colour.low_m);
  };
  // The dark is what has no light, not the middle of its range.
  if (retardation_m <= colours[1].low_m) return colours.front();
  return *std::min_element(
      colours.begin(),
      colours.end(),
      [&](const InterferenceColour& a, const InterferenceColour& b) { return off(a) < off(b); });
}

}  // namespace thickset::stress
