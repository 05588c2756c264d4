// How far the slabs that stand for a solid follow it in time. The solid, at one temperature, begins
// to cool at a steady rate; the difference centre - surface grows to its steady value. Printed: the
// times at which it has reached half and nine tenths of that, over those of the slab with the same
// steady difference and of the slab with the same slowest mode, and the largest gap between the
// courses as a share of the steady value.
//
// Build: cmake --build build --target transient_field   (not part of the default build)
#include <algorithm>
#include <cmath>
#include <cstdio>
#include <vector>

#include "geometry/cooling_field.h"
#include "geometry/solid_regions.h"
#include "geometry/transient_field.h"

using namespace thickset;
using namespace solid_regions;
using namespace transient_field;

namespace {

constexpr double cells = 40.0 * 40.0 * 40.0;
constexpr int steps_of_time_constant = 60;

/// When a rising course passes a level, between two steps on a straight line.
double time_at(const std::vector<double>& course, double dt, double level) {
  for (std::size_t i = 1; i < course.size(); ++i) {
    if (course[i] < level) continue;
    const double part = (level - course[i - 1]) / (course[i] - course[i - 1]);
    return dt * (static_cast<double>(i) - 1.0 + part);
  }
  return std::nan("");
}

void print(const char* name, const Region& region, const CoolingAt& cooling_at) {
  CoolingField field{region, cooling_at, {cells}};
  const CoolingField::Mode mode = field.slowest_mode();
  const double dt_m2 = 1.0 / mode.eigenvalue_per_m2 / steps_of_time_constant;
  TransientField solid{region, cooling_at, cells, dt_m2};
  std::vector<double> course = {0.0};
  for (int i = 0; i < 6 * steps_of_time_constant; ++i) {
    solid.step();
    course.push_back(solid.largest_m2() / field.largest_m2());
  }
  std::printf("%-18s", name);
  for (const double d_m : {field.steady_difference_slab().in_m(), mode.slab.in_m()}) {
    std::vector<double> slab;
    double gap = 0.0;
    for (std::size_t i = 0; i < course.size(); ++i) {
      slab.push_back(slab_share(static_cast<double>(i) * dt_m2, d_m));
      if (std::abs(course[i] - slab[i]) > std::abs(gap)) gap = course[i] - slab[i];
    }
    std::printf("   %.3f  %.3f  %.3f  %+.3f",
                d_m,
                time_at(course, dt_m2, 0.5) / time_at(slab, dt_m2, 0.5),
                time_at(course, dt_m2, 0.9) / time_at(slab, dt_m2, 0.9),
                gap);
  }
  std::printf("\n");
}

}  // namespace

int main() {
  const CoolingAt long_bar = [](const Eigen::Vector3d&, const Eigen::Vector3d& normal) {
    return std::abs(normal.z()) > 0.99 ? Cooling::insulated() : Cooling::exposed();
  };
  std::printf("%-18s   slab of the same difference      slab of the same mode\n", "");
  std::printf("%-18s   d      t half t 0.9  gap          d      t half t 0.9  gap\n", "");
  print("rod", cylinder(0.5, 0.5, 0.2), long_bar);
  print("square bar", box(1, 1, 0.3), long_bar);
  print("bar 1 x 2", box(1, 2, 0.3), long_bar);
  print("equilateral bar", prism(1, 0.2), long_bar);
  print("ball", ball(0.5), {});
  print("cube", box(1, 1, 1), {});
  print("block 1 x 2 x 3", box(1, 2, 3), {});
  print("disc, h = d/4", cylinder(2, 2, 0.5), {});
}
