#include <algorithm>
#include <cmath>
#include <initializer_list>

#include <doctest/doctest.h>

#include "conduction/implicit_step.h"
#include "conduction/series.h"
#include "conduction/solve.h"
#include "conduction/unit_body.h"

using namespace thickset;
using namespace thickset::conduction;
using namespace unit_body;

namespace {

constexpr double from_K = 200.0;
constexpr double to_K = 1500.0;

/// k and c_p grow by one and the same factor, so the diffusivity is constant and the integral of
/// either obeys the linear equation: exact answers with properties that vary (Kirchhoff's
/// transformation, [CJ59] 1.6).
constexpr double k_a = 0.5, k_b = 1e-3;
Body kirchhoff_body(Solid solid, Eigen::Index nodes) {
  constexpr double ratio = heat_capacity_J_per_kg_K / k_W_per_m_K;
  return Body{solid,
              extent_m,
              nodes,
              ThermalLaw{{{.from_K = from_K, .to_K = to_K, .a = k_a, .b = k_b}}},
              ThermalLaw{{{.from_K = from_K, .to_K = to_K, .a = ratio * k_a, .b = ratio * k_b}}},
              density_kg_per_m3};
}

double kirchhoff(double T_K) {
  return (k_a + 0.5 * k_b * T_K) * T_K;
}
double inverse_kirchhoff(double U) {
  return (std::sqrt(k_a * k_a + 2.0 * k_b * U) - k_a) / k_b;
}

double first_mode_root(Solid solid) {
  return series::roots(solid, series::prescribed_surface, 1).front();
}

constexpr double surface_K = 400.0;
constexpr double centre_K = 1000.0;

/// The slowest mode of the integral, decaying over a surface at rest.
Eigen::ArrayXd decaying_mode_K(const Body& body, double fourier) {
  const double z = first_mode_root(body.solid());
  const double U_surface = kirchhoff(surface_K);
  const double amplitude = (kirchhoff(centre_K) - U_surface) * std::exp(-z * z * fourier);
  Eigen::ArrayXd T_K{body.nodes()};
  for (Eigen::Index i = 0; i < body.nodes(); ++i) {
    const double x = body.position_m()(i) / body.extent_m();
    T_K(i) = inverse_kirchhoff(U_surface + amplitude * series::mode(body.solid(), z * x));
  }
  return T_K;
}

constexpr double fourier_end = 0.15;

double space_error_K(Solid solid, Eigen::Index nodes) {
  const Body body = kirchhoff_body(solid, nodes);
  const AirCurve air{{{0.0, surface_K, -1}, {fourier_end * time_unit_s, surface_K, 0}}};
  Solver solver{body,
                Face::insulated(),
                Face::prescribed(),
                air,
                decaying_mode_K(body, 0.0),
                {.tolerance_K = 2e-3}};
  while (solver.advance()) continue;
  return (solver.T_K() - decaying_mode_K(body, fourier_end)).abs().maxCoeff();
}

/// Properties of soda-lime glass below the jump of its heat capacity: the diffusivity varies too.
Body glass_body(Solid solid, Eigen::Index nodes) {
  return Body{solid,
              extent_m,
              nodes,
              ThermalLaw{{{.from_K = 200, .to_K = 1400, .a = 0.741, .b = 8.58e-4}}},
              ThermalLaw{{{.from_K = 200, .to_K = 1400, .a = 893, .b = 0.4, .c = -1.8e7}}},
              2530.0};
}

constexpr double cooling_s = 1800.0;
double kiln_K(double time_s) {
  return 800.0 - 0.2 * time_s;
}

/// After half an hour in a kiln that cools steadily, with a number of equal steps. The start is a
/// parabola near the steady one, so that no rough beginning hides the order.
Eigen::ArrayXd after_equal_steps_K(Solid solid, Eigen::Index nodes, int steps) {
  const Body body = glass_body(solid, nodes);
  ImplicitStep step{body, Face::insulated(), Face::exchange(8.0, 0.9), 1e-9};
  const double lag_K = 40.0;
  step.start(790.0 - lag_K * (body.position_m() / body.extent_m()).square(), kiln_K(0.0));
  const double dt_s = cooling_s / steps;
  for (int i = 0; i < steps; ++i) {
    const double error_K =
        step.attempt(dt_s, kiln_K((i + ImplicitStep::gamma) * dt_s), kiln_K((i + 1) * dt_s));
    REQUIRE(std::isfinite(error_K));
    step.accept();
  }
  return step.T_K();
}

constexpr double second_order_least = 3.7;  // 4 less what higher orders take
constexpr double second_order_most = 4.3;

}  // namespace

TEST_CASE("order: exact answers with varying k and c_p are met with second order in space") {
  for (const Solid solid : solids) {
    CAPTURE(name(solid));
    const double coarse_K = space_error_K(solid, 11);
    const double fine_K = space_error_K(solid, 21);
    const double finest_K = space_error_K(solid, 41);
    CHECK(coarse_K / fine_K >= second_order_least);
    CHECK(coarse_K / fine_K <= second_order_most);
    CHECK(fine_K / finest_K >= second_order_least);
    CHECK(fine_K / finest_K <= second_order_most);
    constexpr double finest_tol_K = 0.15;  // of 600 K, 41 nodes
    CHECK(finest_K <= finest_tol_K);
  }
}

TEST_CASE("order: equal steps are of second order in time with varying k, c_p and radiation") {
  for (const Solid solid : solids) {
    CAPTURE(name(solid));
    const Eigen::ArrayXd converged = after_equal_steps_K(solid, 21, 2048);
    const auto error_K = [&](int steps) {
      return (after_equal_steps_K(solid, 21, steps) - converged).abs().maxCoeff();
    };
    for (const int steps : {64, 128}) {
      CAPTURE(steps);
      const double ratio = error_K(steps) / error_K(2 * steps);
      CHECK(ratio >= second_order_least);
      CHECK(ratio <= second_order_most);
    }
  }
}

TEST_CASE("order: with varying diffusivity and radiation the grids differ by second order") {
  constexpr int steps = 512;
  for (const Solid solid : solids) {
    CAPTURE(name(solid));
    const Eigen::ArrayXd coarse = after_equal_steps_K(solid, 11, steps);
    const Eigen::ArrayXd fine = after_equal_steps_K(solid, 21, steps);
    const Eigen::ArrayXd finest = after_equal_steps_K(solid, 41, steps);
    for (const bool at_surface : {false, true}) {
      CAPTURE(at_surface);
      const auto value = [&](const Eigen::ArrayXd& T) {
        return at_surface ? T(T.size() - 1) : T(0);
      };
      const double ratio = (value(coarse) - value(fine)) / (value(fine) - value(finest));
      CHECK(ratio >= second_order_least);
      CHECK(ratio <= second_order_most);
    }
  }
}

TEST_CASE("order: the error estimate of one step falls with its third power") {
  const Body body = glass_body(Solid::slab, 21);
  ImplicitStep step{body, Face::insulated(), Face::exchange(8.0, 0.9), 1e-10};
  step.start(790.0 - 40.0 * (body.position_m() / body.extent_m()).square(), kiln_K(0.0));
  // One step away from the start, so that the profile is one the equation allows.
  for (int i = 0; i < 64; ++i) {
    step.attempt(10.0, kiln_K((i + ImplicitStep::gamma) * 10.0), kiln_K((i + 1) * 10.0));
    step.accept();
  }
  const auto estimate_K = [&](double dt_s) {
    return step.attempt(dt_s, kiln_K(640.0 + ImplicitStep::gamma * dt_s), kiln_K(640.0 + dt_s));
  };
  const double ratio = estimate_K(20.0) / estimate_K(10.0);
  CHECK(ratio >= 7.0);
  CHECK(ratio <= 9.0);
}
