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

/// [HS81] problem 35, of Beale: least 1/9 at (4/3, 7/9, 4/9). From memory.
Trial beale(const VectorXd& x) {
  const double a = x(0), b = x(1), c = x(2);
  Trial trial{9.0 - 8.0 * a - 6.0 * b - 4.0 * c + 2.0 * a * a + 2.0 * b * b + c * c + 2.0 * a * b +
                  2.0 * a * c,
              VectorXd(4)};
  trial.over << a + b + 2.0 * c - 3.0, -a, -b, -c;
  return trial;
}

/// [HS81] problem 100, of Wong: least 680.630 at (2.330, 1.951, -0.478, 4.366, -0.624, 1.038,
/// 1.594). From memory. Over a unit of 100, for which steps of about 1 are large.
Trial wong(const VectorXd& x) {
  constexpr double unit = 100.0;
  const double a = x(0), b = x(1), c = x(2), d = x(3), e = x(4), f = x(5), g = x(6);
  Trial trial{std::pow(a - 10.0, 2) + 5.0 * std::pow(b - 12.0, 2) + std::pow(c, 4) +
                  3.0 * std::pow(d - 11.0, 2) + 10.0 * std::pow(e, 6) + 7.0 * f * f +
                  std::pow(g, 4) - 4.0 * f * g - 10.0 * f - 8.0 * g,
              VectorXd(4)};
  trial.over << 2.0 * a * a + 3.0 * std::pow(b, 4) + c + 4.0 * d * d + 5.0 * e - 127.0,
      7.0 * a + 3.0 * b + 10.0 * c * c + d - e - 282.0,
      23.0 * a + b * b + 6.0 * f * f - 8.0 * g - 196.0,
      4.0 * a * a + b * b - 3.0 * a * b + 2.0 * c * c + 5.0 * f - 11.0 * g;
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

TEST_CASE("constrained search: comes back from where every constraint is broken by far") {
  VectorXd start(4);
  start << 6.0, -7.0, 5.0, 6.0;
  REQUIRE(rosen_suzuki(start).over.minCoeff() > 5.0);
  const ConstrainedMinimum best =
      constrained_minimum(rosen_suzuki, start, 0.2 * MatrixXd::Identity(4, 4));
  CHECK(std::abs(best.trial.cost - -4.4) <= cost_tol);
  CHECK(best.trial.over.maxCoeff() <= kept_tol);
}

TEST_CASE("constrained search: finds the published minimum of Beale") {
  const ConstrainedMinimum best =
      constrained_minimum(beale, VectorXd::Constant(3, 0.5), MatrixXd::Identity(3, 3));
  CHECK(std::abs(best.trial.cost - 1.0 / 9.0) <= cost_tol);
  CHECK(best.trial.over.maxCoeff() <= kept_tol);
}

TEST_CASE("constrained search: finds the published minimum of Wong, seven variables") {
  VectorXd start(7);
  start << 1.0, 2.0, 0.0, 4.0, 0.0, 1.0, 1.0;  // the published one
  const ConstrainedMinimum best = constrained_minimum(wong, start, 0.1 * MatrixXd::Identity(7, 7));
  CHECK(std::abs(best.trial.cost - 6.80630) <= cost_tol);
  CHECK(best.trial.over.maxCoeff() <= kept_tol);
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
