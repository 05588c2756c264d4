#include "material/inner_radiation.h"

#include <algorithm>
#include <cmath>

#include <doctest/doctest.h>
#include <Eigen/Dense>
#include <boost/math/quadrature/exp_sinh.hpp>
#include <boost/math/special_functions/expint.hpp>

#include "material/stefan_boltzmann.h"

using namespace thickset;

namespace {

bool near_share(double value, double expected, double share) {
  return std::abs(value / expected - 1.0) <= share;
}

double expint(int n, double x) {
  return boost::math::expint(static_cast<unsigned>(n), x);
}

/// Flux through a grey slab in radiative equilibrium between black walls, over the difference of
/// their emissive powers. The emissive power solves
///   e(t) = 1/2 [E2(t) + Integral_0^tau e(s) E1(|t - s|) ds]  (hot wall 1, cold wall 0),
/// here constant in each of n cells, whose integrals of E1 are differences of E2; the flux at the
/// hot wall is 1 - 2 Integral e E2.
double flux_between_walls(double optical_thickness, int cells) {
  const double h = optical_thickness / cells;
  Eigen::MatrixXd a = Eigen::MatrixXd::Identity(cells, cells);
  Eigen::VectorXd b(cells), weight(cells);
  for (int i = 0; i < cells; ++i) {
    b(i) = 0.5 * expint(2, (i + 0.5) * h);
    weight(i) = 2.0 * (expint(3, i * h) - expint(3, (i + 1) * h));
    // From a cell to those i further on, on either side.
    const double passed = i == 0 ? 2.0 * (1.0 - expint(2, 0.5 * h))
                                 : expint(2, (i - 0.5) * h) - expint(2, (i + 0.5) * h);
    a.diagonal(i).array() -= 0.5 * passed;
    if (i > 0) a.diagonal(-i).array() -= 0.5 * passed;
  }
  const Eigen::VectorXd emissive = a.partialPivLu().solve(b);
  return 1.0 - weight.dot(emissive);
}

constexpr InnerRadiation clear{.absorption_per_m = 200.0, .refractive_index = 1.5};

}  // namespace

TEST_CASE("radiation inside conducts 16/3 n^2 sigma T^3 / a: 1.672 W/(m K) at 516 C and 200 1/m") {
  // By hand: 16/3 x 2.25 x 5.670374419e-8 x 789.15^3 / 200.
  CHECK(near_share(radiative_conductivity_W_per_m_K(clear, 789.15), 1.6720207760939, 1e-12));
  // Twice the absorption halves it, twice the temperature makes it eight times as much.
  const InnerRadiation darker{.absorption_per_m = 400.0, .refractive_index = 1.5};
  CHECK(near_share(radiative_conductivity_W_per_m_K(darker, 789.15), 0.83601038804694, 1e-12));
  CHECK(near_share(radiative_conductivity_W_per_m_K(clear, 1578.3), 8.0 * 1.6720207760939, 1e-12));
}

TEST_CASE("its factor 16/3 is what a straight fall of emissive power sends through, ray by ray") {
  // Emissive power e0 + g x: the layers at s from a plane send 2 a (e(-s) - e(s)) E2(a s) ds
  // through it, net; -4 g/a times the integral of t E2(t), which is 1/3. And de/dx is 4 n^2 sigma
  // T^3 dT/dx.
  boost::math::quadrature::exp_sinh<double> integrator;
  const double third = integrator.integrate([](double t) { return t * expint(2, t); });
  CHECK(near_share(third, 1.0 / 3.0, 1e-9));
  const double T_K = 800.0;
  const double by_rays = 4.0 * third * 4.0 * 2.25 * stefan_boltzmann_W_per_m2_K4 * T_K * T_K * T_K /
                         clear.absorption_per_m;
  CHECK(near_share(radiative_conductivity_W_per_m_K(clear, T_K), by_rays, 1e-9));
}

TEST_CASE("between black walls it is 14 % too much at ten optical thicknesses, 28 % at five") {
  // Computed, not published: the equation of radiative equilibrium solved in cells.
  struct Row {
    double optical_thickness, too_much;
  };
  for (const Row& row : {Row{1.0, 1.41}, Row{5.0, 0.28}, Row{10.0, 0.14}, Row{20.0, 0.07}}) {
    CAPTURE(row.optical_thickness);
    const int cells = 60 + static_cast<int>(5.0 * row.optical_thickness);
    const double coarse = flux_between_walls(row.optical_thickness, cells);
    const double exact = flux_between_walls(row.optical_thickness, 2 * cells);
    CHECK(near_share(coarse, exact, 5e-3));
    const double diffusion = 4.0 / (3.0 * row.optical_thickness);
    CHECK(std::abs(diffusion / exact - 1.0 - row.too_much) <= 0.01);
  }
  static_assert(optically_thick == 10.0);
}

TEST_CASE(
    "conduction and radiation in one law: within 0.18 % of T^3, no jump, from 150 to 1500 K") {
  const ThermalLaw nothing_else = with_inner_radiation(ThermalLaw::constant(1e-9), clear);
  CHECK(nothing_else.from_K() == inner_radiation_from_K);
  CHECK(nothing_else.to_K() == inner_radiation_to_K);
  double worst = 0.0;
  for (double T_K = 150.0; T_K <= 1500.0; T_K += 0.5) {
    const double exact = radiative_conductivity_W_per_m_K(clear, T_K);
    worst = std::max(worst, std::abs(nothing_else.at(T_K) / exact - 1.0));
  }
  CAPTURE(worst);
  CHECK(worst <= 1.8e-3);
  CHECK(worst >= 1e-4);  // it is an approximation: the test sees it
  for (const ThermalLaw::Piece& piece : nothing_else.pieces()) {
    CHECK(near_share(
        piece.at(piece.from_K), radiative_conductivity_W_per_m_K(clear, piece.from_K), 1e-6));
    CHECK(near_share(
        piece.at(piece.to_K), radiative_conductivity_W_per_m_K(clear, piece.to_K), 1e-6));
  }
  CHECK(nothing_else.jumps_K().empty());
}

TEST_CASE("the conduction's own pieces, jumps and range stay in the sum") {
  const ThermalLaw steps{{{.from_K = 300.0, .to_K = 600.0, .a = 1.0, .b = 1e-3},
                          {.from_K = 600.0, .to_K = 900.0, .a = 2.0, .c = 1e4}}};
  const ThermalLaw sum = with_inner_radiation(steps, clear);
  CHECK(sum.from_K() == 300.0);
  CHECK(sum.to_K() == 900.0);
  REQUIRE(sum.jumps_K().size() == 1);
  CHECK(sum.jumps_K()[0] == 600.0);
  for (const double T_K : {300.0, 450.0, 599.0, 601.0, 750.0, 899.0}) {
    CAPTURE(T_K);
    const double radiated = radiative_conductivity_W_per_m_K(clear, T_K);
    CHECK(std::abs(sum.at(T_K) - steps.at(T_K) - radiated) <= 1.8e-3 * radiated);
  }
  CHECK(takes_inner_radiation(steps));
  CHECK_FALSE(
      takes_inner_radiation(ThermalLaw{{{.from_K = 10.0, .to_K = 150.0, .a = 1.0, .b = 1e-3}}}));
}

TEST_CASE("the integral of the sum is that of its parts: heat passed is not lost between pieces") {
  const ThermalLaw sum = with_inner_radiation(ThermalLaw::constant(1.2), clear);
  const double span_K = 800.0 - 400.0;
  const double radiated =
      0.25 * (radiative_conductivity_W_per_m_K(clear, 800.0) * 800.0 -
              radiative_conductivity_W_per_m_K(clear, 400.0) * 400.0);  // integral of T^3
  CHECK(near_share(sum.integral(800.0) - sum.integral(400.0), 1.2 * span_K + radiated, 1e-3));
}
