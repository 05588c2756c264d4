#include "geometry/lattice_over.h"

#include "base/error.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>

#include <fmt/core.h>

namespace thickset {
namespace {

constexpr double fewest_cells = 1e3;
constexpr double most_cells = 4e7;

void check(const Region::Box& box) {
  for (int axis = 0; axis < 3; ++axis) {
    const double extent_m = box.high_m(axis) - box.low_m(axis);
    if (!(extent_m > 0.0) || !std::isfinite(extent_m) || !std::isfinite(box.low_m(axis))) {
      throw Error{{},
                  fmt::format("the solid is {} m along axis {}", extent_m, axis + 1),
                  "it needs a finite size above 0 in every direction"};
    }
  }
}

double spacing_for(const Eigen::Vector3d& extent_m, double cells) {
  if (!(cells >= fewest_cells && cells <= most_cells)) {
    throw Error{{},
                fmt::format("{} cells asked for", cells),
                fmt::format("between {:.0f} and {:.0g}", fewest_cells, most_cells)};
  }
  const double thinnest_m = extent_m.minCoeff();
  const double about_m = std::cbrt(extent_m.prod() / cells);
  constexpr double rounds_to_two = 1.5;
  const double across = thinnest_m / about_m;
  if (!(across >= rounds_to_two)) {
    throw Error{{},
                fmt::format("the solid is {:.3g} x {:.3g} x {:.3g} m: {:.2g} cells leave {:.2g} "
                            "across where it is thinnest",
                            extent_m(0),
                            extent_m(1),
                            extent_m(2),
                            cells,
                            across),
                "ask for more cells, or take a part of it"};
  }
  return thinnest_m / std::round(across);
}

}  // namespace

PlacedLattice lattice_over(const Region::Box& box, double cells) {
  check(box);
  const Eigen::Vector3d extent_m = box.high_m - box.low_m;
  const double spacing_m = spacing_for(extent_m, cells);
  std::array<int, 3> nodes{};
  Eigen::Vector3d intervals;
  for (int axis = 0; axis < 3; ++axis) {
    constexpr double rounding = 1e-6;
    const int across = static_cast<int>(std::ceil(extent_m(axis) / spacing_m - rounding));
    nodes[static_cast<std::size_t>(axis)] = across + 2;
    intervals(axis) = across + 1;
  }
  const Eigen::Vector3d middle_m = 0.5 * (box.low_m + box.high_m);
  return {Lattice{nodes}, middle_m - 0.5 * spacing_m * intervals, spacing_m};
}

}  // namespace thickset
