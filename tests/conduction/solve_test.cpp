#include "conduction/solve.h"

#include <algorithm>
#include <cmath>
#include <initializer_list>
#include <limits>
#include <vector>

#include <doctest/doctest.h>

#include "base/error.h"
#include "conduction/unit_body.h"

using namespace thickset;
using namespace thickset::conduction;
using namespace unit_body;

namespace {

Body glass_slab(double extent_m_, Eigen::Index nodes, Solid solid = Solid::slab) {
  return Body{solid,
              extent_m_,
              nodes,
              ThermalLaw{{{.from_K = 200, .to_K = 1400, .a = 0.741, .b = 8.58e-4}}},
              ThermalLaw{{{.from_K = 200, .to_K = 850, .a = 893, .b = 0.4, .c = -1.8e7},
                          {.from_K = 850, .to_K = 1500, .a = 1433, .b = 6.5e-3}}},
              2530.0};
}

AirCurve some_cooling() {
  return {{{0.0, 900.0, -1},
           {3600.0, 800.0, 0},
           {7200.0, 800.0, 1},
           {7200.0, 700.0, 2},
           {20000.0, 300.0, 2}}};
}

/// Profiles at the corners of some_cooling().
std::vector<Eigen::ArrayXd> at_corners(const Body& body, const Face& inner, const Face& outer) {
  const AirCurve air = some_cooling();
  Solver solver{body, inner, outer, air, uniform(body, 900.0)};
  std::vector<Eigen::ArrayXd> profiles;
  while (solver.advance()) {
    if (solver.time_s() == air.corners[solver.corner()].time_s) profiles.push_back(solver.T_K());
  }
  return profiles;
}

/// How far temperatures may leave the range of start and kiln: a few tolerances, and in thick slabs
/// what compact rows of the mass matrix overshoot by where a cell is wider than heat goes in the
/// time; 8 % of the change at most (notes/conduction.md#cells).
double overshoot_of_grid_K(const Body& body) {
  if (body.solid() != Solid::slab || body.extent_m() <= 0.1) return 0.1;
  return body.extent_m() <= 1.0 ? 0.8 : 0.08 * 600.0;
}

/// Rounding may tip a step over its tolerance in one of two equal runs and not in the other; their
/// time errors differ then.
constexpr double two_runs_K = 2.0 * SolveSettings{}.tolerance_K;

}  // namespace

TEST_CASE("solve: exchange on the inner face of a slab is the mirror image of the outer") {
  const Body body = glass_slab(0.04, 21);
  for (const Face& face : {Face::exchange(8.0, 0.9), Face::prescribed()}) {
    CAPTURE(static_cast<int>(face.kind));
    const auto outside = at_corners(body, Face::insulated(), face);
    const auto inside = at_corners(body, face, Face::insulated());
    REQUIRE(outside.size() == 3);
    REQUIRE(inside.size() == 3);
    for (std::size_t i = 0; i < outside.size(); ++i) {
      CHECK((outside[i] - inside[i].reverse()).abs().maxCoeff() <= two_runs_K);
    }
  }
}

TEST_CASE("solve: a slab that exchanges at both faces is two half slabs back to back") {
  for (const Face& face : {Face::exchange(8.0, 0.9), Face::prescribed()}) {
    CAPTURE(static_cast<int>(face.kind));
    const auto whole = at_corners(glass_slab(0.08, 41), face, face);
    const auto half = at_corners(glass_slab(0.04, 21), Face::insulated(), face);
    REQUIRE(whole.size() == 3);
    REQUIRE(half.size() == 3);
    for (std::size_t i = 0; i < whole.size(); ++i) {
      CHECK((whole[i].tail(21) - half[i]).abs().maxCoeff() <= two_runs_K);
      CHECK((whole[i] - whole[i].reverse()).abs().maxCoeff() <= 1e-6);  // one run: rounding
    }
  }
}

TEST_CASE("solve: a body insulated all round keeps its heat and evens out") {
  for (const Solid solid : solids) {
    CAPTURE(name(solid));
    const Body body = constant_body(solid, 21);
    const Eigen::ArrayXd start = 600.0 + 100.0 * (body.position_m() / extent_m).square();
    const double mean_K = (body.volume_m() * start).sum() / body.volume_m().sum();
    const AirCurve air{{{0.0, 300.0, -1}, {20.0 * time_unit_s, 300.0, 0}}};
    Solver solver{body, Face::insulated(), Face::insulated(), air, start};
    while (solver.advance()) continue;
    constexpr double rounding_K = 1e-6;
    CHECK((solver.T_K() - mean_K).abs().maxCoeff() <= rounding_K);
  }
}

TEST_CASE("solve: steps land on every corner and a jump of the kiln is seen") {
  const Body body = glass_slab(0.04, 11);
  const AirCurve air = some_cooling();
  Solver solver{body, Face::insulated(), Face::exchange(8.0, 0.9), air, uniform(body, 900.0)};
  std::vector<bool> seen(air.corners.size(), false);
  double before_s = 0.0;
  while (solver.advance()) {
    CHECK(solver.before_s() == before_s);
    CHECK(solver.time_s() > before_s);
    before_s = solver.time_s();
    const auto& corner = air.corners[solver.corner()];
    CHECK(solver.time_s() <= corner.time_s);
    if (solver.time_s() == corner.time_s) {
      seen[solver.corner()] = true;
      CHECK(solver.kiln_K() == corner.T_K);
    }
    if (solver.before_s() == 7200.0) CHECK(solver.kiln_before_K() == 700.0);
  }
  CHECK(seen[1]);
  CHECK(seen[2]);
  CHECK(seen[4]);
  CHECK(solver.time_s() == air.end_s());
}

TEST_CASE("solve: advance() is false at the end, and stays false") {
  const Body body = glass_slab(0.04, 11);
  const AirCurve air = some_cooling();
  Solver solver{body, Face::insulated(), Face::exchange(8.0, 0.9), air, uniform(body, 900.0)};
  while (solver.advance()) continue;
  const int steps = solver.steps();
  const Eigen::ArrayXd T_K = solver.T_K();
  CHECK_FALSE(solver.advance());
  CHECK_FALSE(solver.advance());
  CHECK(solver.steps() == steps);
  CHECK((solver.T_K() == T_K).all());
}

TEST_CASE("solve: a curve of one corner, or of no length, has no step") {
  const Body body = glass_slab(0.04, 11);
  for (const AirCurve& air :
       {AirCurve{{{0.0, 900.0, -1}}}, AirCurve{{{0.0, 900.0, -1}, {0.0, 500.0, 0}}}}) {
    Solver solver{body, Face::insulated(), Face::exchange(8.0, 0.9), air, uniform(body, 900.0)};
    CHECK_FALSE(solver.advance());
    CHECK(solver.steps() == 0);
    CHECK(solver.heat_balance_error() == 0.0);
    CHECK((solver.T_K() == 900.0).all());
  }
}

TEST_CASE("solve: a prescribed surface jumps with the kiln and its slope is the kiln's") {
  const Body body = glass_slab(0.04, 11);
  const AirCurve air = some_cooling();
  Solver solver{body, Face::insulated(), Face::prescribed(), air, uniform(body, 900.0)};
  while (solver.advance()) {
    CHECK(solver.T_K()(10) == solver.kiln_K());
    const bool crosses_jump = solver.kiln_K() < 850.0 && solver.kiln_before_K() > 850.0;
    if (solver.time_s() < 3600.0 && !crosses_jump) {
      // Newton's leftover of 1e-8 K over a step.
      constexpr double rounding_K_per_s = 1e-9;
      CHECK(std::abs(solver.dT_dt_K_per_s(10) + 100.0 / 3600.0) <= rounding_K_per_s);
    }
    if (solver.before_s() == 7200.0) CHECK(solver.T_before_K()(10) == 700.0);
  }
}

TEST_CASE("solve: the slopes are those of the temperatures") {
  const Body body = glass_slab(0.04, 11);
  const AirCurve air{{{0.0, 900.0, -1}, {7200.0, 700.0, 0}}};
  Solver solver{body,
                Face::insulated(),
                Face::exchange(8.0, 0.9),
                air,
                uniform(body, 900.0),
                {.tolerance_K = 1e-3, .longest_step_s = 5.0}};
  while (solver.advance()) {
    const Eigen::ArrayXd& slope = solver.slope_K_per_s();
    const Eigen::ArrayXd& slope_before = solver.slope_before_K_per_s();
    const double dt_s = solver.time_s() - solver.before_s();
    const Eigen::ArrayXd mean = (solver.T_K() - solver.T_before_K()) / dt_s;
    // Where a node crosses the jump its slope jumps, and what follows takes a few steps.
    const bool crosses_jump = (solver.T_K() < 850.0).any() && (solver.T_before_K() > 849.0).any();
    constexpr double trapezoid_error_K_per_s = 2e-5;  // of 0.03 K/s
    if (solver.before_s() > 60.0 && !crosses_jump) {
      CHECK((mean - 0.5 * (slope + slope_before)).abs().maxCoeff() <= trapezoid_error_K_per_s);
    }
  }
}

TEST_CASE("solve: bodies from a micrometre to ten metres stay between start and kiln") {
  for (const Solid solid : solids)
    for (const double extent : {1e-6, 1e-4, 1e-2, 1.0, 10.0})
      for (const Face& face :
           {Face::exchange(8.0, 0.9), Face::exchange(1e6, 1.0), Face::prescribed()}) {
        CAPTURE(name(solid));
        CAPTURE(extent);
        CAPTURE(face.film_coefficient_W_per_m2_K);
        const Body body = glass_slab(extent, 21, solid);
        const AirCurve air = some_cooling();
        Solver solver{body, Face::insulated(), face, air, uniform(body, 900.0)};
        const double overshoot_K = overshoot_of_grid_K(body);
        bool within = true;
        while (solver.advance()) {
          within = within && solver.T_K().minCoeff() >= 300.0 - overshoot_K &&
                   solver.T_K().maxCoeff() <= 900.0 + overshoot_K;  // false with NaN
        }
        CHECK(within);
        CHECK(solver.time_s() == air.end_s());
        constexpr double few_steps = 20000;
        CHECK(solver.steps() < few_steps);
        // Rounding of the flows: cells of 50 nm even out in nanoseconds, steps take hours.
        const double balance = extent < 1e-5 ? 1e-5 : 1e-9;
        CHECK(solver.heat_balance_error() <= balance);
      }
}

TEST_CASE("solve: a kiln thrown open makes a slab overshoot briefly, and by less than 8 %") {
  struct Row {
    double extent_m;
    Face face;
    double overshoot_K;  // of 600 K, at 11 nodes; computed, not published
  };
  const Row rows[] = {{0.006, Face::exchange(20.0, 0.9), 0.1},
                      {0.0375, Face::exchange(20.0, 0.9), 1.0},
                      {0.15, Face::exchange(20.0, 0.9), 4.0},
                      {0.0375, Face::exchange(1e6, 0.0), 48.0},
                      {0.0375, Face::prescribed(), 2.0}};
  constexpr double hot_K = 900.0;
  constexpr double room_K = 300.0;
  for (const Row& row : rows) {
    CAPTURE(row.extent_m);
    CAPTURE(row.face.film_coefficient_W_per_m2_K);
    const Body body = glass_slab(row.extent_m, 11);
    const double evening_s = row.extent_m * row.extent_m / 5e-7;
    const AirCurve air{{{0.0, hot_K, -1}, {0.0, room_K, 0}, {evening_s, room_K, 0}}};
    Solver solver{body, Face::insulated(), row.face, air, uniform(body, hot_K)};
    double most_K = 0.0;
    double later_K = 0.0;
    while (solver.advance()) {
      const double over_K = solver.T_K().maxCoeff() - hot_K;
      most_K = std::max(most_K, over_K);
      // Until heat has gone the length of a cell: a hundredth of the time in which the slab evens.
      if (solver.time_s() > 0.01 * evening_s) later_K = std::max(later_K, over_K);
      CHECK(solver.T_K().minCoeff() >= room_K);
    }
    CHECK(most_K > 0.01);  // else the numbers above say nothing
    CHECK(most_K <= row.overshoot_K);
    constexpr double gone_K = 0.05;
    CHECK(later_K <= gone_K);
  }
}

TEST_CASE("solve: a film coefficient without bound is a prescribed surface") {
  const Body body = glass_slab(0.04, 21);
  const AirCurve air{{{0.0, 900.0, -1}, {3600.0, 600.0, 0}}};
  const auto end_K = [&](const Face& face) {
    Solver solver{body, Face::insulated(), face, air, uniform(body, 900.0), {.tolerance_K = 1e-3}};
    while (solver.advance()) continue;
    return solver.T_K();
  };
  constexpr double tol_K = 2e-3;
  CHECK((end_K(Face::exchange(1e9, 0.0)) - end_K(Face::prescribed())).abs().maxCoeff() <= tol_K);
}

TEST_CASE("solve: tolerances from a millionth of a kelvin to a hundred kelvin give numbers") {
  const Body body = glass_slab(0.04, 7);
  const AirCurve air{{{0.0, 900.0, -1}, {3600.0, 800.0, 0}}};
  Eigen::ArrayXd tightest;
  for (const double tolerance_K : {1e-6, 1e-4, 1e-2, 1.0, 100.0}) {
    CAPTURE(tolerance_K);
    Solver solver{body,
                  Face::insulated(),
                  Face::exchange(8.0, 0.9),
                  air,
                  uniform(body, 900.0),
                  {.tolerance_K = tolerance_K}};
    while (solver.advance()) continue;
    REQUIRE(solver.T_K().allFinite());
    if (tightest.size() == 0) tightest = solver.T_K();
    CHECK((solver.T_K() - tightest).abs().maxCoeff() <= tolerance_K);
  }
}

TEST_CASE("solve: a temperature that is not a number ends in an error, not in a loop") {
  const Body body = glass_slab(0.04, 11);
  const AirCurve air{{{0.0, 900.0, -1}, {3600.0, 800.0, 0}}};
  Solver solver{body,
                Face::insulated(),
                Face::exchange(8.0, 0.9),
                air,
                uniform(body, std::numeric_limits<double>::quiet_NaN())};
  CHECK_THROWS_AS(solver.advance(), Error);
}

TEST_CASE(
    "solve: one that goes on from another on a curve of its own takes the steps of one solver") {
  const Body body = glass_slab(0.03, 11);
  const Face outer = Face::exchange(8.0, 0.9);
  const AirCurve whole = some_cooling();
  // Broken at the hold's end, where the kiln's slope changes, and at the jump after it.
  for (const std::size_t broken_at : {std::size_t{1}, std::size_t{2}}) {
    CAPTURE(broken_at);
    AirCurve first{{whole.corners.begin(),
                    whole.corners.begin() + static_cast<std::ptrdiff_t>(broken_at) + 1}};
    AirCurve rest{
        {whole.corners.begin() + static_cast<std::ptrdiff_t>(broken_at), whole.corners.end()}};
    const double begin_s = rest.corners.front().time_s;
    for (AirCurve::Corner& corner : rest.corners) corner.time_s -= begin_s;

    Solver one{body, Face::insulated(), outer, whole, uniform(body, 900.0)};
    while (one.advance()) {
    }
    Solver before{body, Face::insulated(), outer, first, uniform(body, 900.0)};
    while (before.advance()) {
    }
    Solver after{before, rest};
    while (after.advance()) {
    }
    constexpr double rounding_K = 1e-8;
    CHECK(after.steps() == one.steps());
    CHECK((after.T_K() - one.T_K()).abs().maxCoeff() <= rounding_K);
    CHECK(after.heat_balance_error() <= 1e-10);
  }
}
