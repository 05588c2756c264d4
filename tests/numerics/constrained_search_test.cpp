#include "numerics/constrained_search.h"

#include <cmath>

#include <doctest/doctest.h>

using namespace thickset;
using Eigen::MatrixXd;
using Eigen::VectorXd;

namespace {

/// [HS81] problem 43, of Rosen and Suzuki: least -44 at (0, 1, 2, -1). From memory. Costs and
/// constraints over a unit of 10, for which steps of about 1 are large.
Trial rosen_suzuki(const VectorXd& x) {
  constexpr double unit = 10.0;
  const double a = x(0), b = x(1), c = x(2), d = x(3);
  const double squares = a * a + b * b + c * c + d * d;
  Trial trial{a * a + b * b + 2.0 * c * c + d * d - 5.0 * a - 5.0 * b - 21.0 * c + 7.0 * d,
              VectorXd(3)};
  trial.over << squares + a - b + c - d - 8.0,
      a * a + 2.0 * b * b + c * c + 2.0 * d * d - a - d - 10.0,
      2.0 * a * a + b * b + c * c + 2.0 * a - b - d - 5.0;
  trial.cost /= unit;
  trial.over /= unit;
  return trial;
}

// Slopes are taken over a difference of 0.1: the cost is flat to second order where they are off.
constexpr double cost_tol = 0.02;
constexpr double kept_tol = 2e-3;

}  // namespace

TEST_CASE(
    "constrained search: finds the published minimum of Rosen and Suzuki, from near and far") {
  for (const double from : {0.0, 1.0, -2.0}) {
    CAPTURE(from);
    const ConstrainedMinimum best = constrained_minimum(
        rosen_suzuki, VectorXd::Constant(4, from), 0.2 * MatrixXd::Identity(4, 4));
    CHECK(std::abs(best.trial.cost - -4.4) <= cost_tol);
    CHECK(best.trial.over.maxCoeff() <= kept_tol);
    CHECK(best.trials < 200);
  }
}

TEST_CASE("constrained search: bears noise as large as that of a simulation") {
  constexpr double noise = 1e-5;
  const auto noisy = [](const VectorXd& x) {
    Trial trial = rosen_suzuki(x);
    trial.over(0) += noise * std::sin(1e7 * x.sum());
    trial.cost += noise * std::cos(1e7 * x.sum());
    return trial;
  };
  const ConstrainedMinimum best =
      constrained_minimum(noisy, VectorXd::Zero(4), 0.2 * MatrixXd::Identity(4, 4));
  CHECK(std::abs(best.trial.cost - -4.4) <= cost_tol);
  CHECK(best.trial.over.maxCoeff() <= kept_tol);
}

TEST_CASE("constrained search: what cannot be kept is broken as little as can be") {
  const auto impossible = [](const VectorXd& x) {
    Trial trial{0.1 * x(0), VectorXd(2)};
    trial.over << 1.0 - x(0), x(0) - 0.5;  // x >= 1 and x <= 0.5
    return trial;
  };
  const ConstrainedMinimum best =
      constrained_minimum(impossible, VectorXd::Zero(1), MatrixXd::Identity(1, 1));
  CHECK(std::abs(best.x(0) - 0.75) <= 0.01);
}
