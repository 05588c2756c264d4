#include <algorithm>
#include <cmath>
#include <initializer_list>
#include <vector>

#include <doctest/doctest.h>

#include "conduction/solve.h"
#include "conduction/unit_body.h"

using namespace thickset;
using namespace thickset::conduction;
using namespace unit_body;

namespace {

constexpr double jump_K = 850.0;
constexpr double low_J_per_kg_K = 1100.0;
constexpr double high_J_per_kg_K = 1450.0;
constexpr double rho = 2500.0;

Body jumping_body(Solid solid, Eigen::Index nodes) {
  return Body{solid,
              0.02,
              nodes,
              ThermalLaw::constant(1.3),
              ThermalLaw{{{.from_K = 100, .to_K = jump_K, .a = low_J_per_kg_K},
                          {.from_K = jump_K, .to_K = 2000, .a = high_J_per_kg_K}}},
              rho};
}

double temperature_K(double enthalpy_J_per_kg) {
  const double at_jump = low_J_per_kg_K * jump_K;
  return enthalpy_J_per_kg < at_jump ? enthalpy_J_per_kg / low_J_per_kg_K
                                     : jump_K + (enthalpy_J_per_kg - at_jump) / high_J_per_kg_K;
}
double enthalpy_J_per_kg(double T_K) {
  return T_K < jump_K ? low_J_per_kg_K * T_K
                      : low_J_per_kg_K * jump_K + high_J_per_kg_K * (T_K - jump_K);
}

constexpr double start_K = 950.0;
constexpr double kiln_end_K = 700.0;
constexpr double film = 60.0;

/// How fast a slab's enthalpies change with this heat into each cell: its compact rows (1, 10,
/// 1)/12 with (5, 1)/12 at the mid-plane and (1/6, 1/3) at the face, solved by elimination.
std::vector<double> rates_J_per_kg_s(const std::vector<double>& heat_W_per_m2, double dx_m) {
  const std::size_t n = heat_W_per_m2.size();
  std::vector<double> diagonal(n, 10.0 / 12.0), below(n, 1.0 / 12.0), above(n, 1.0 / 12.0);
  diagonal.front() = 5.0 / 12.0;
  diagonal.back() = 1.0 / 3.0;
  below.back() = 1.0 / 6.0;
  std::vector<double> rate = heat_W_per_m2;
  for (double& value : rate) value /= rho * dx_m;
  for (std::size_t i = 1; i < n; ++i) {
    const double factor = below[i] / diagonal[i - 1];
    diagonal[i] -= factor * above[i - 1];
    rate[i] -= factor * rate[i - 1];
  }
  rate[n - 1] /= diagonal[n - 1];
  for (std::size_t i = n - 1; i-- > 0;) rate[i] = (rate[i] - above[i] * rate[i + 1]) / diagonal[i];
  return rate;
}

/// A slab by small explicit Euler steps of the enthalpies, half the error removed by halving.
std::vector<double> explicit_slab_K(std::size_t n, double end_s, int steps) {
  const double dx_m = 0.02 / static_cast<double>(n - 1);
  std::vector<double> h(n, enthalpy_J_per_kg(start_K)), T(n, start_K), q(n);
  const double dt_s = end_s / steps;
  for (int step = 0; step < steps; ++step) {
    const double kiln_K = start_K + (kiln_end_K - start_K) * (step + 0.5) / steps;
    std::fill(q.begin(), q.end(), 0.0);
    for (std::size_t i = 0; i + 1 < n; ++i) {
      const double flow = 1.3 * (T[i + 1] - T[i]) / dx_m;
      q[i] += flow;
      q[i + 1] -= flow;
    }
    q[n - 1] += film * (kiln_K - T[n - 1]);
    const std::vector<double> rate = rates_J_per_kg_s(q, dx_m);
    for (std::size_t i = 0; i < n; ++i) {
      h[i] += dt_s * rate[i];
      T[i] = temperature_K(h[i]);
    }
  }
  return T;
}

constexpr double cooling_s = 1200.0;

struct Run {
  Eigen::ArrayXd T_K;
  double balance;
};

Run run(const Body& body,
        const Face& inner,
        const Face& outer,
        const AirCurve& air,
        double T_K,
        double tolerance_K = SolveSettings{}.tolerance_K) {
  Solver solver{body, inner, outer, air, uniform(body, T_K), {.tolerance_K = tolerance_K}};
  while (solver.advance()) continue;
  return {solver.T_K(), solver.heat_balance_error()};
}

AirCurve ramp() {
  return {{{0.0, start_K, -1}, {cooling_s, kiln_end_K, 0}}};
}

/// Of the heat exchanged.
constexpr double rounding_of_balance = 1e-12;

}  // namespace

TEST_CASE("heat capacity jump: temperatures agree with small explicit steps of the enthalpy") {
  constexpr int n = 11;
  const auto coarse = explicit_slab_K(n, cooling_s, 60000);
  const auto fine = explicit_slab_K(n, cooling_s, 120000);
  for (const double tolerance_K : {0.02, 0.002, 0.0005}) {
    CAPTURE(tolerance_K);
    const Run result = run(jumping_body(Solid::slab, n),
                           Face::insulated(),
                           Face::exchange(film, 0.0),
                           ramp(),
                           start_K,
                           tolerance_K);
    for (std::size_t i = 0; i < n; ++i) {
      CAPTURE(i);
      const double expected_K = 2.0 * fine[i] - coarse[i];
      CHECK(std::abs(result.T_K(static_cast<Eigen::Index>(i)) - expected_K) <= 1.5 * tolerance_K);
    }
  }
}

TEST_CASE("heat capacity jump: the heat balance closes to rounding for every face") {
  for (const Solid solid : solids)
    for (const Face& outer :
         {Face::prescribed(), Face::exchange(film, 0.0), Face::exchange(8.0, 0.9)}) {
      CAPTURE(name(solid));
      CAPTURE(static_cast<int>(outer.kind));
      const Body body = jumping_body(solid, 21);
      CHECK(run(body, Face::insulated(), outer, ramp(), start_K).balance <= rounding_of_balance);
      if (solid != Solid::slab) continue;
      for (const Face& inner : {Face::prescribed(), Face::exchange(30.0, 0.5)}) {
        CAPTURE(static_cast<int>(inner.kind));
        CHECK(run(body, inner, outer, ramp(), start_K).balance <= rounding_of_balance);
      }
    }
}

TEST_CASE("heat capacity jump: the balance closes through jumps of the kiln") {
  const AirCurve air{{{0.0, start_K, -1},
                      {0.0, 800.0, 0},
                      {600.0, 780.0, 0},
                      {600.0, 900.0, 1},
                      {1200.0, 900.0, 1},
                      {1200.0, 300.0, 2},
                      {3000.0, 300.0, 2}}};
  for (const Face& outer : {Face::prescribed(), Face::exchange(8.0, 0.9)}) {
    CAPTURE(static_cast<int>(outer.kind));
    const Run result = run(jumping_body(Solid::slab, 21), Face::insulated(), outer, air, start_K);
    CHECK(result.balance <= rounding_of_balance);
  }
}

TEST_CASE("heat capacity jump: a body all at the kiln's temperature stays, at the jump too") {
  for (const double T_K : {700.0, jump_K, 1000.0}) {
    CAPTURE(T_K);
    const AirCurve air{{{0.0, T_K, -1}, {1e5, T_K, 0}}};
    constexpr double rounding_K = 1e-9;
    const Run result =
        run(jumping_body(Solid::sphere, 21), Face::insulated(), Face::exchange(8, 0.9), air, T_K);
    CHECK((result.T_K - T_K).abs().maxCoeff() <= rounding_K);
    CHECK(result.balance <= 1.0);  // nothing exchanged: no heat, or rounding of it
  }
}

// [CJ59] 11.2, Neumann's solution without latent heat: a thick slab above the jump, its face kept
// below it; the jump's temperature stands at the depth 2 lambda sqrt(kappa t), and as much heat
// arrives there as leaves.
TEST_CASE("heat capacity jump: a chilled thick slab follows Neumann's solution on both sides") {
  constexpr double face_K = 750.0;
  constexpr double k = 1.3;
  constexpr double end_s = 200.0;  // heat has not come to the inside yet
  const double low_m2_per_s = k / (rho * low_J_per_kg_K);
  const double high_m2_per_s = k / (rho * high_J_per_kg_K);
  const double ratio = std::sqrt(low_m2_per_s / high_m2_per_s);
  const auto flux_difference = [&](double lambda) {
    const double leaves = (jump_K - face_K) * std::exp(-lambda * lambda) / std::erf(lambda);
    const double beyond = ratio * lambda;
    const double arrives =
        (start_K - jump_K) * ratio * std::exp(-beyond * beyond) / std::erfc(beyond);
    return leaves - arrives;
  };
  double low = 1e-6, high = 3.0;
  for (int i = 0; i < 60; ++i) {
    const double middle = 0.5 * (low + high);
    (flux_difference(middle) > 0.0 ? low : high) = middle;
  }
  const double lambda = low;
  REQUIRE(lambda > 0.1);
  REQUIRE(lambda < 2.0);

  const Body body{Solid::slab,
                  0.05,
                  101,
                  ThermalLaw::constant(k),
                  ThermalLaw{{{.from_K = 100, .to_K = jump_K, .a = low_J_per_kg_K},
                              {.from_K = jump_K, .to_K = 2000, .a = high_J_per_kg_K}}},
                  rho};
  const AirCurve air{{{0.0, start_K, -1}, {0.0, face_K, 0}, {end_s, face_K, 0}}};
  const Run result = run(body, Face::insulated(), Face::prescribed(), air, start_K);
  // Of 200 K; a node's share of the spacing that the jump passes through.
  constexpr double tol_K = 0.05;
  for (Eigen::Index i = 0; i < body.nodes(); ++i) {
    const double depth_m = body.extent_m() - body.position_m()(i);
    CAPTURE(depth_m);
    const double in_low = depth_m / (2.0 * std::sqrt(low_m2_per_s * end_s));
    const double in_high = depth_m / (2.0 * std::sqrt(high_m2_per_s * end_s));
    const double expected_K =
        in_low < lambda
            ? face_K + (jump_K - face_K) * std::erf(in_low) / std::erf(lambda)
            : start_K - (start_K - jump_K) * std::erfc(in_high) / std::erfc(ratio * lambda);
    CHECK(std::abs(result.T_K(i) - expected_K) <= tol_K);
  }
  CHECK(result.balance <= rounding_of_balance);
}
