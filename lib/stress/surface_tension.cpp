#include "stress/surface_tension.h"

#include "numerics/smooth_interpolation.h"

#include <algorithm>
#include <array>
#include <type_traits>
#include <variant>

namespace thickset::stress {
namespace {

// Blocks with sides a <= b, c; rows a/b, columns a/c. 0 is a side without end: the first row and
// column are long bars, the corner the edge of a wide plate.
constexpr std::array<double, 8> block_ratio =
    {0.0, 1.0 / 6.0, 0.25, 1.0 / 3.0, 0.5, 2.0 / 3.0, 0.8, 1.0};
constexpr std::array<std::array<double, 8>, 8> block_factor = {
    {{1.042, 1.041, 1.043, 1.047, 1.114, 1.170, 1.172, 1.130},
     {1.041, 1.046, 1.042, 1.047, 1.117, 1.172, 1.175, 1.133},
     {1.043, 1.042, 1.044, 1.042, 1.115, 1.175, 1.175, 1.134},
     {1.047, 1.047, 1.042, 1.045, 1.089, 1.174, 1.180, 1.135},
     {1.114, 1.117, 1.115, 1.089, 1.041, 1.130, 1.167, 1.144},
     {1.170, 1.172, 1.175, 1.174, 1.130, 1.063, 1.115, 1.128},
     {1.172, 1.175, 1.175, 1.180, 1.167, 1.115, 1.065, 1.096},
     {1.130, 1.133, 1.134, 1.135, 1.144, 1.128, 1.096, 1.040}}};

// Added to it: between its points blocks are up to so much above it.
constexpr double above_table = 0.012;

// Long bars, against the shorter side over the longer; the first as above.
constexpr std::array<double, 13> bar_ratio = {0.0,
                                              0.1,
                                              1.0 / 6.0,
                                              0.25,
                                              1.0 / 3.0,
                                              0.4,
                                              0.5,
                                              1.0 / 1.75,
                                              2.0 / 3.0,
                                              1.0 / 1.4,
                                              0.8,
                                              1.0 / 1.1,
                                              1.0};
constexpr std::array<double, 13> bar_factor =
    {1.042, 1.042, 1.041, 1.043, 1.047, 1.061, 1.114, 1.145, 1.170, 1.175, 1.172, 1.153, 1.130};

constexpr double prism_factor = 1.127;
constexpr double grid_factor = 1.195;  // as the worst block, 1.4 x 3

// Discs no higher than wide, against height/diameter; higher ones stay below 1.
constexpr std::array<double, 11> disc_ratio =
    {0.0, 0.1, 0.25, 1.0 / 3.0, 0.4, 0.5, 0.6, 0.7, 0.75, 0.85, 1.0};
constexpr std::array<double, 11> disc_factor =
    {1.042, 1.016, 0.999, 0.998, 0.998, 1.024, 1.050, 1.050, 1.044, 1.024, 0.997};

double block(double side_1_m, double side_2_m, double side_3_m) {
  std::array<double, 3> side_m = {side_1_m, side_2_m, side_3_m};
  std::sort(side_m.begin(), side_m.end());
  return above_table +
         smooth_value(
             block_ratio, block_ratio, block_factor, side_m[0] / side_m[1], side_m[0] / side_m[2]);
}

double bar(double side_1_m, double side_2_m) {
  return smooth_value(
      bar_ratio, bar_factor, std::min(side_1_m, side_2_m) / std::max(side_1_m, side_2_m));
}

}  // namespace

double surface_tension_factor(const Shape& shape) {
  const double factor = std::visit(
      [](const auto& one) {
        using One = std::decay_t<decltype(one)>;
        if constexpr (std::is_same_v<One, Bar>) {
          return bar(one.a.in_m(), one.b.in_m());
        } else if constexpr (std::is_same_v<One, Block>) {
          return block(one.a.in_m(), one.b.in_m(), one.c.in_m());
        } else if constexpr (std::is_same_v<One, Prism>) {
          return prism_factor;
        } else if constexpr (std::is_same_v<One, Disc>) {
          return smooth_value(disc_ratio, disc_factor, one.height.in_m() / one.diameter.in_m());
        } else if constexpr (std::is_same_v<One, Gridded>) {
          return grid_factor * one.surface_factor;
        } else {
          return 1.0;
        }
      },
      shape);
  return std::max(factor, 1.0);
}

}  // namespace thickset::stress
