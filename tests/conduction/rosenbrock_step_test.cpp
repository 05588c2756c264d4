#include "conduction/rosenbrock_step.h"

#include <cmath>
#include <initializer_list>
#include <limits>
#include <vector>

#include <doctest/doctest.h>

#include "conduction/unit_body.h"

using namespace thickset;
using namespace thickset::conduction;
using namespace unit_body;

namespace {

Body glass_body(Solid solid, double extent, Eigen::Index nodes) {
  return Body{solid,
              extent,
              nodes,
              ThermalLaw{{{.from_K = 200, .to_K = 1400, .a = 0.741, .b = 8.58e-4}}},
              ThermalLaw{{{.from_K = 200, .to_K = 850, .a = 893, .b = 0.4, .c = -1.8e7},
                          {.from_K = 850, .to_K = 1500, .a = 1433, .b = 6.5e-3}}},
              2530.0};
}
Body glass_slab(double extent, Eigen::Index nodes) {
  return glass_body(Solid::slab, extent, nodes);
}

constexpr double start_K = 900.0;
constexpr double step_s = 20.0;
constexpr double kiln_K_per_s = -0.1;

double kiln_K(double time_s) {
  return start_K + kiln_K_per_s * time_s;
}

/// Profiles of a body that cools in equal steps, across the jump of the heat capacity at 850 K.
std::vector<Eigen::ArrayXd> equal_steps(const Body& body, const Face& inner, const Face& outer) {
  RosenbrockStep step{body, inner, outer};
  step.start(uniform(body, start_K), start_K);
  std::vector<Eigen::ArrayXd> profiles;
  for (int i = 0; i < 100; ++i) {
    REQUIRE(std::isfinite(step.attempt(step_s, kiln_K_per_s)));
    step.accept(step_s, kiln_K((i + 1) * step_s));
    profiles.push_back(step.T_K());
  }
  return profiles;
}

// What is left of a temperature by Newton's method: 0.01 K squared, times half of c_p'/c_p. Beyond
// a jump of c_p the mirror images take different paths there.
constexpr double rounding_K = 5e-8;

}  // namespace

TEST_CASE("Rosenbrock step: the same face inside and outside give mirror images, to rounding") {
  const Body body = glass_slab(0.04, 21);
  for (const Face& face : {Face::exchange(8.0, 0.9), Face::prescribed()}) {
    CAPTURE(static_cast<int>(face.kind));
    const auto outside = equal_steps(body, Face::insulated(), face);
    const auto inside = equal_steps(body, face, Face::insulated());
    for (std::size_t i = 0; i < outside.size(); ++i) {
      CHECK((outside[i] - inside[i].reverse()).abs().maxCoeff() <= rounding_K);
    }
  }
}

TEST_CASE("Rosenbrock step: both faces alike give the half slab, to rounding") {
  for (const Face& face : {Face::exchange(8.0, 0.9), Face::prescribed()}) {
    CAPTURE(static_cast<int>(face.kind));
    const auto whole = equal_steps(glass_slab(0.08, 41), face, face);
    const auto half = equal_steps(glass_slab(0.04, 21), Face::insulated(), face);
    for (std::size_t i = 0; i < whole.size(); ++i) {
      CHECK((whole[i].tail(21) - half[i]).abs().maxCoeff() <= rounding_K);
    }
  }
}

TEST_CASE("Rosenbrock step: an attempt leaves the state as it is and may be repeated") {
  const Body body = glass_slab(0.04, 21);
  RosenbrockStep once{body, Face::insulated(), Face::exchange(8.0, 0.9)};
  RosenbrockStep often{body, Face::insulated(), Face::exchange(8.0, 0.9)};
  for (RosenbrockStep* step : {&once, &often}) step->start(uniform(body, start_K), 800.0);
  for (const double dt_s : {500.0, 1.0, 60.0}) often.attempt(dt_s, -0.5);
  CHECK((often.T_K() == start_K).all());
  CHECK(once.attempt(10.0, -0.2) == often.attempt(10.0, -0.2));
  once.accept(10.0, 798.0);
  often.accept(10.0, 798.0);
  CHECK((once.T_K() == often.T_K()).all());
  CHECK((once.T_before_K() == start_K).all());
}

TEST_CASE("Rosenbrock step: a step of a thousand time constants lands on the kiln's temperature") {
  for (const Solid solid : solids)  // L-stable: no ringing
    for (const Face& face : {Face::prescribed(), Face::exchange(1e3, 0.0)}) {
      CAPTURE(name(solid));
      CAPTURE(static_cast<int>(face.kind));
      const Body body = constant_body(solid, 21);
      RosenbrockStep step{body, Face::insulated(), face};
      step.start(uniform(body, 400.0), 400.0);
      step.jump(300.0);
      const double dt_s = 1000.0 * time_unit_s;
      REQUIRE(std::isfinite(step.attempt(dt_s, 0.0)));
      step.accept(dt_s, 300.0);
      // A mode is left with about 9/z, z = dt over its time constant, 2467 for the slab's slowest;
      // a method that is only A-stable leaves about all of the 100 K.
      constexpr double left_K = 0.6;
      CHECK((step.T_K() - 300.0).abs().maxCoeff() <= left_K);
    }
}

TEST_CASE("Rosenbrock step: heat stored and heat passed agree after every step") {
  const Face exchange = Face::exchange(8.0, 0.9);
  for (const Solid solid : solids)
    for (const Face& inner : {Face::insulated(), exchange, Face::prescribed()})
      for (const Face& outer : {exchange, Face::prescribed()}) {
        CAPTURE(name(solid));
        CAPTURE(static_cast<int>(inner.kind));
        CAPTURE(static_cast<int>(outer.kind));
        if (solid != Solid::slab && inner.kind != Face::Kind::insulated) continue;
        const Body body = glass_body(solid, 0.04, 21);
        RosenbrockStep step{body, inner, outer};
        step.start(uniform(body, start_K), start_K);
        step.jump(kiln_K(500.0));
        for (int i = 0; i < 50; ++i) {
          step.attempt(step_s, kiln_K_per_s);
          step.accept(step_s, kiln_K(500.0 + (i + 1) * step_s));
          constexpr double rounding = 1e-12;
          CHECK(std::abs(step.stored_J_per_m2() - step.passed_J_per_m2()) <=
                rounding * step.exchanged_J_per_m2());
        }
      }
}

TEST_CASE("Rosenbrock step: a prescribed surface has the kiln's temperature and slope") {
  const Body body = glass_slab(0.04, 21);
  RosenbrockStep step{body, Face::insulated(), Face::prescribed()};
  step.start(uniform(body, start_K), start_K);
  CHECK(step.T_K()(20) == start_K);
  for (int i = 0; i < 50; ++i) {
    step.attempt(step_s, kiln_K_per_s);
    step.accept(step_s, kiln_K((i + 1) * step_s));
    CHECK(step.T_K()(20) == kiln_K((i + 1) * step_s));
  }
  step.jump(700.0);
  CHECK(step.T_K()(20) == 700.0);
  CHECK(step.T_K()(19) > 700.0);
}

TEST_CASE("Rosenbrock step: the cubic of an accepted step follows its half steps") {
  for (const Solid solid : solids) {
    CAPTURE(name(solid));
    const Body body = constant_body(solid, 21);
    const double dt_s = 0.02 * time_unit_s;
    // A start that the equation allows: a few steps on from an even one.
    RosenbrockStep whole{body, Face::insulated(), Face::exchange(20.0, 0.9)};
    whole.start(uniform(body, start_K), start_K);
    for (int i = 0; i < 20; ++i) {
      whole.attempt(dt_s, kiln_K_per_s);
      whole.accept(dt_s, kiln_K((i + 1) * dt_s));
    }
    const auto error_K = [&](double length_s) {
      RosenbrockStep step = whole;
      RosenbrockStep half = whole;
      step.attempt(length_s, kiln_K_per_s);
      step.accept(length_s, kiln_K(20.0 * dt_s + length_s));
      half.attempt(0.5 * length_s, kiln_K_per_s);
      half.accept(0.5 * length_s, kiln_K(20.0 * dt_s + 0.5 * length_s));
      const Eigen::ArrayXd middle =
          0.5 * (step.T_before_K() + step.T_K()) +
          0.125 * length_s * (step.slope_before_K_per_s() - step.slope_K_per_s());
      return (middle - half.T_K()).abs().maxCoeff();
    };
    CAPTURE(error_K(dt_s));
    CAPTURE(error_K(0.5 * dt_s));
    CHECK(error_K(dt_s) <= 1e-2);  // of some 0.1 K/s times 125 s
    constexpr double third_order = 8.0;
    CHECK(error_K(dt_s) / error_K(0.5 * dt_s) >= third_order);
  }
}

TEST_CASE("Rosenbrock step: the time to a jump of the heat capacity is that of the first node") {
  const Body body = glass_slab(0.04, 21);
  RosenbrockStep step{body, Face::insulated(), Face::prescribed()};
  step.start(uniform(body, start_K), start_K);
  step.attempt(step_s, kiln_K_per_s);
  step.accept(step_s, kiln_K(step_s));
  // The surface cools by 0.1 K/s and is first at 850 K.
  const double expected_s = (start_K - 850.0) / 0.1 - step_s;
  CHECK(std::abs(step.time_to_jump_s() - expected_s) <= 1e-9 * expected_s);
  const Body smooth = constant_body(Solid::slab, 21);
  RosenbrockStep without{smooth, Face::insulated(), Face::prescribed()};
  without.start(uniform(smooth, start_K), start_K);
  without.attempt(step_s, kiln_K_per_s);
  without.accept(step_s, kiln_K(step_s));
  CHECK(std::isinf(without.time_to_jump_s()));
}

TEST_CASE("Rosenbrock step: not a number is an infinite error, not a temperature") {
  const Body body = glass_slab(0.04, 21);
  RosenbrockStep step{body, Face::insulated(), Face::exchange(8.0, 0.9)};
  step.start(uniform(body, start_K), start_K);
  const double nan = std::numeric_limits<double>::quiet_NaN();
  CHECK(std::isinf(step.attempt(10.0, nan)));
  CHECK(std::isinf(step.attempt(nan, kiln_K_per_s)));
  CHECK((step.T_K() == start_K).all());
  CHECK(std::isfinite(step.attempt(10.0, kiln_K_per_s)));  // none of it is left behind
}
