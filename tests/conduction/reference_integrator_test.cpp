#include "conduction/reference_integrator.h"

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
namespace reference = reference_integrator;

namespace {

std::vector<Eigen::ArrayXd> solved(Solid solid, Eigen::Index n, double tolerance_K) {
  const Body body{
      solid,
      reference::radius_m,
      n,
      ThermalLaw{{{.from_K = 200, .to_K = 900, .a = reference::k_a, .b = reference::k_b}}},
      ThermalLaw{{{.from_K = 200,
                   .to_K = 900,
                   .a = reference::c_a,
                   .b = reference::c_b,
                   .c = reference::c_c}}},
      reference::density_kg_per_m3};
  AirCurve air;
  for (const reference::Corner& corner : reference::kiln)
    air.corners.push_back({corner.time_s, corner.T_K, 0});
  Solver solver{body,
                Face::insulated(),
                Face::exchange(reference::film_W_per_m2_K, reference::emissivity),
                air,
                uniform(body, reference::start_K),
                {.tolerance_K = tolerance_K}};
  std::vector<Eigen::ArrayXd> profiles;
  while (solver.advance()) {
    if (solver.time_s() == air.corners[solver.corner()].time_s) profiles.push_back(solver.T_K());
  }
  return profiles;
}

double largest_difference_K(const std::vector<Eigen::ArrayXd>& a,
                            const std::vector<std::vector<double>>& b) {
  REQUIRE(a.size() == b.size());
  double largest = 0.0;
  for (std::size_t p = 0; p < a.size(); ++p)
    for (std::size_t i = 0; i < b[p].size(); ++i) {
      largest = std::max(largest, std::abs(a[p](static_cast<Eigen::Index>(i)) - b[p][i]));
    }
  return largest;
}

}  // namespace

TEST_CASE("reference integrator: its Jacobian is the derivative of its right side") {
  constexpr double difference_error = 1e-6;  // rounding of 1e-13 K/s over 2e-3 K, and h^2
  for (const int power : {0, 1, 2}) CHECK(reference::jacobian_error(power, 7) <= difference_error);
}

TEST_CASE("reference integrator: slab, cylinder and sphere agree through cooling, hold and jump") {
  constexpr double integrator_tol = 1e-8;
  for (const Solid solid : solids) {
    CAPTURE(name(solid));
    const int power = solid == Solid::slab ? 0 : solid == Solid::cylinder ? 1 : 2;
    const auto expected = reference::integrated(power, 15, integrator_tol);
    for (const double tolerance_K : {0.02, 0.002, 0.0002}) {
      CAPTURE(tolerance_K);
      CHECK(largest_difference_K(solved(solid, 15, tolerance_K), expected) <= tolerance_K);
    }
  }
}
