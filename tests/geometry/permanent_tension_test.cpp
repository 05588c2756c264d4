#include "geometry/permanent_tension.h"

#include "geometry/centre_tension.h"
#include "geometry/solid_regions.h"
#include "message_of.h"
#include "slow_build.h"

#include <cmath>
#include <limits>
#include <string>
#include <vector>

#include <doctest/doctest.h>

using namespace thickset;
using namespace solid_regions;

namespace {

/// Of the stress; the thickness of the slab has half of it.
constexpr double allowed = 0.005;

PermanentTension tension(const Region& region, double cells_across) {
  TensionSettings settings;
  settings.cells = std::pow(cells_across, 3);
  return permanent_tension(region, {}, settings);
}

double error(const PermanentTension& found, double slab_m) {
  return found.at_hottest_m2 / (slab_m * slab_m / 24.0) - 1.0;
}

}  // namespace

// Tables and closed forms: lib/geometry/centre_tension.h. Its tables come from global polynomials,
// these values from cubes: two methods that share nothing.
TEST_CASE("permanent tension: agrees with the tables of another method" *
          doctest::skip(slow_build)) {
  namespace known = centre_tension;
  struct Row {
    std::string name;
    Convex region;
    double slab_m;
  };
  const Row rows[] = {{"ball", ball(1), known::ball_slab_m(2)},
                      {"cube", box(1, 1, 1), known::block_slab_m(1, 1, 1)},
                      {"block", box(1, 2, 3), known::block_slab_m(1, 2, 3)},
                      {"plate", box(1, 3, 3), known::block_slab_m(1, 3, 3)},
                      {"bar", box(1, 1, 5), known::bar_slab_m(1, 1)},
                      {"cylinder", cylinder(1, 1, 1), known::disc_slab_m(2, 2)},
                      {"disc", cylinder(1, 1, 0.25), known::disc_slab_m(2, 0.5)},
                      {"rod", cylinder(0.5, 0.5, 2), known::rod_slab_m(1)},
                      {"prism", prism(1, 2), known::prism_slab_m(1)}};
  for (const Row& row : rows) {
    CAPTURE(row.name);
    const PermanentTension found = tension(row.region, 40.0);
    CAPTURE(error(found, row.slab_m));
    CAPTURE(found.uncertainty);
    CHECK(std::abs(error(found, row.slab_m)) < allowed);
    CHECK(std::abs(error(found, row.slab_m)) < found.uncertainty + 0.002);
    CHECK(found.largest_m2 >= found.at_hottest_m2);
    CHECK(found.largest_m2 < 1.12 * found.at_hottest_m2);
    CHECK(found.iterations < 30);
  }
}

TEST_CASE("permanent tension: of second order in the spacing") {
  const double slab_m = centre_tension::block_slab_m(1, 3, 3);
  const double coarse = std::abs(error(tension(box(1, 3, 3), 24.0), slab_m));
  const double fine = std::abs(error(tension(box(1, 3, 3), 48.0), slab_m));
  CHECK(fine < 0.003);
  CHECK(coarse > 2.8 * fine);  // of 4; the table itself has four digits
  CHECK(std::abs(error(tension(ball(1), 48.0), centre_tension::ball_slab_m(2))) < 0.001);
}

TEST_CASE("permanent tension: where the solid lies does not matter, its size counts squared") {
  const double one = tension(box(1, 1.2, 1.5), 24.0).at_hottest_m2;
  const double other = tension(box(0.15, 0.1, 0.12), 24.0).at_hottest_m2;
  constexpr double solver_tol = 1e-4;
  CHECK(std::abs(other / (0.01 * one) - 1.0) < solver_tol);
}

TEST_CASE("permanent tension: two pieces apart each keep their own") {
  const Convex lower = box(1, 1, 1);
  const Convex upper = {Eigen::Matrix3d::Zero(),
                        {{Eigen::Vector3d::UnitX(), 0.4},
                         {-Eigen::Vector3d::UnitX(), 0.4},
                         {Eigen::Vector3d::UnitY(), 0.4},
                         {-Eigen::Vector3d::UnitY(), 0.4},
                         {Eigen::Vector3d::UnitZ(), 1.5},
                         {-Eigen::Vector3d::UnitZ(), -0.7}},
                        {Eigen::Vector3d(-0.4, -0.4, 0.7), Eigen::Vector3d(0.4, 0.4, 1.5)}};
  const PermanentTension found = tension(Stacked{lower, upper}, 40.0);
  CHECK(std::abs(error(found, centre_tension::block_slab_m(1, 1, 1))) < allowed);
}

TEST_CASE("permanent tension: settings that cannot be used are said") {
  TensionSettings settings;
  settings.cells = 1e9;
  const auto run = [&] { permanent_tension(ball(1), {}, settings); };
  CHECK(message_of(run).find("cells asked for") != std::string::npos);
  settings = {};
  for (const double ratio : {-0.1, 0.5, std::numeric_limits<double>::quiet_NaN()}) {
    settings.poisson_ratio = ratio;
    CHECK(message_of(run).find("Poisson's ratio") != std::string::npos);
  }
}
