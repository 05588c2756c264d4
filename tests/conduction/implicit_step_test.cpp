#include "conduction/implicit_step.h"

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

Body glass_slab(double extent, Eigen::Index nodes) {
  return Body{Solid::slab,
              extent,
              nodes,
              ThermalLaw{{{.from_K = 200, .to_K = 1400, .a = 0.741, .b = 8.58e-4}}},
              ThermalLaw{{{.from_K = 200, .to_K = 850, .a = 893, .b = 0.4, .c = -1.8e7},
                          {.from_K = 850, .to_K = 1500, .a = 1433, .b = 6.5e-3}}},
              2530.0};
}

constexpr double tight_K = 1e-9;
constexpr double start_K = 900.0;
constexpr double step_s = 20.0;

double kiln_K(double time_s) {
  return start_K - 0.1 * time_s;
}

/// Profiles of a body that cools in equal steps, across the jump of the heat capacity at 850 K.
std::vector<Eigen::ArrayXd> equal_steps(const Body& body, const Face& inner, const Face& outer) {
  ImplicitStep step{body, inner, outer, tight_K};
  step.start(uniform(body, start_K), start_K);
  std::vector<Eigen::ArrayXd> profiles;
  for (int i = 0; i < 100; ++i) {
    const double error_K =
        step.attempt(step_s, kiln_K((i + ImplicitStep::gamma) * step_s), kiln_K((i + 1) * step_s));
    REQUIRE(std::isfinite(error_K));
    step.accept();
    profiles.push_back(step.T_K());
  }
  return profiles;
}

constexpr double rounding_K = 1e-8;  // the iteration's tolerance, and its growth over the steps

}  // namespace

TEST_CASE("implicit step: the same face inside and outside give mirror images, to rounding") {
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

TEST_CASE("implicit step: both faces alike give the half slab, to rounding") {
  for (const Face& face : {Face::exchange(8.0, 0.9), Face::prescribed()}) {
    CAPTURE(static_cast<int>(face.kind));
    const auto whole = equal_steps(glass_slab(0.08, 41), face, face);
    const auto half = equal_steps(glass_slab(0.04, 21), Face::insulated(), face);
    for (std::size_t i = 0; i < whole.size(); ++i) {
      CHECK((whole[i].tail(21) - half[i]).abs().maxCoeff() <= rounding_K);
    }
  }
}

TEST_CASE("implicit step: an attempt leaves the state as it is and may be repeated") {
  const Body body = glass_slab(0.04, 21);
  ImplicitStep once{body, Face::insulated(), Face::exchange(8.0, 0.9), tight_K};
  ImplicitStep often{body, Face::insulated(), Face::exchange(8.0, 0.9), tight_K};
  for (ImplicitStep* step : {&once, &often}) step->start(uniform(body, start_K), 800.0);
  for (const double dt_s : {500.0, 1.0, 60.0}) often.attempt(dt_s, 790.0, 780.0);
  CHECK((often.T_K() == start_K).all());
  CHECK(once.attempt(10.0, 799.0, 798.0) == often.attempt(10.0, 799.0, 798.0));
  once.accept();
  often.accept();
  CHECK((once.T_K() == often.T_K()).all());
  CHECK((once.T_before_K() == start_K).all());
}

TEST_CASE("implicit step: a step of a thousand time constants lands on the kiln's temperature") {
  for (const Solid solid : solids) {  // L-stable: no ringing
    CAPTURE(name(solid));
    const Body body = constant_body(solid, 21);
    ImplicitStep step{body, Face::insulated(), Face::prescribed(), tight_K};
    step.start(uniform(body, 400.0), 300.0);
    REQUIRE(std::isfinite(step.attempt(1000.0 * time_unit_s, 300.0, 300.0)));
    step.accept();
    // TR-BDF2 multiplies a mode by 4.83/z where z = dt/time constant, 2467 for the slab's slowest,
    // which is 4/pi of the 100 K; a method that is only A-stable leaves about all of it.
    constexpr double left_K = 0.25;
    CHECK((step.T_K() - 300.0).abs().maxCoeff() <= left_K);
  }
}

TEST_CASE("implicit step: heat stored and heat passed agree after every step") {
  const Body body = glass_slab(0.04, 21);
  for (const Face& face : {Face::exchange(8.0, 0.9), Face::prescribed()}) {
    CAPTURE(static_cast<int>(face.kind));
    ImplicitStep step{body, Face::insulated(), face, 1e-4};
    step.start(uniform(body, start_K), start_K - 50.0);
    for (int i = 0; i < 50; ++i) {
      step.attempt(step_s,
                   kiln_K((i + ImplicitStep::gamma) * step_s) - 50.0,
                   kiln_K((i + 1) * step_s) - 50.0);
      step.accept();
      // Left over: Newton's last correction squared, 1e-8 K2, times the change of capacity; 1e-4 K
      // times its jump where the correction itself crosses 850 K.
      constexpr double left_over = 1e-8;
      CHECK(std::abs(step.stored_J_per_m2() - step.passed_J_per_m2()) <=
            left_over * step.exchanged_J_per_m2());
    }
  }
}

TEST_CASE("implicit step: not a number is an infinite error, not a temperature") {
  const Body body = glass_slab(0.04, 21);
  ImplicitStep step{body, Face::insulated(), Face::exchange(8.0, 0.9), tight_K};
  step.start(uniform(body, start_K), start_K);
  const double nan = std::numeric_limits<double>::quiet_NaN();
  CHECK(std::isinf(step.attempt(10.0, nan, nan)));
  CHECK((step.T_K() == start_K).all());
}
