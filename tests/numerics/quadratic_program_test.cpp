#include "numerics/quadratic_program.h"

#include <cmath>

#include <doctest/doctest.h>

using namespace thickset;
using Eigen::MatrixXd;
using Eigen::VectorXd;

namespace {

constexpr double solver_tol = 1e-6;  // the method ends at complementarity 1e-10 of the scale

/// Deterministic numbers in -1 to 1.
double number(int i) {
  const double x = 43758.5453 * std::sin(12.9898 * i + 78.233);
  return 2.0 * (x - std::floor(x)) - 1.0;
}

}  // namespace

// [NW06] example 16.4: (x1 - 1)^2 + (x2 - 2.5)^2 under five inequalities is least at (1.4, 1.7).
// From memory.
TEST_CASE("quadratic program: the textbook's example comes out") {
  QuadraticProgram program{
      .H = 2.0 * MatrixXd::Identity(2, 2), .g = VectorXd(2), .A = MatrixXd(5, 2), .b = VectorXd(5)};
  program.g << -2.0, -5.0;
  program.A << -1.0, 2.0, 1.0, 2.0, 1.0, -2.0, -1.0, 0.0, 0.0, -1.0;
  program.b << 2.0, 6.0, 2.0, 0.0, 0.0;
  const QuadraticMinimum best = minimum(program);
  CHECK(std::abs(best.x(0) - 1.4) <= solver_tol);
  CHECK(std::abs(best.x(1) - 1.7) <= solver_tol);
  // Only the first constraint holds it back, at a price of 0.8.
  CHECK(std::abs(best.multipliers(0) - 0.8) <= solver_tol);
  for (Eigen::Index i = 1; i < 5; ++i) CHECK(std::abs(best.multipliers(i)) <= solver_tol);
}

TEST_CASE("quadratic program: at the minimum of any convex program the KKT conditions hold") {
  for (int seed = 0; seed < 20; ++seed) {
    CAPTURE(seed);
    constexpr Eigen::Index n = 6;
    constexpr Eigen::Index m = 10;
    int next = 1000 * seed;
    MatrixXd root(n, n);
    QuadraticProgram program{.H = {}, .g = VectorXd(n), .A = MatrixXd(m, n), .b = VectorXd(m)};
    for (double& value : root.reshaped()) value = number(++next);
    for (double& value : program.g) value = number(++next);
    for (double& value : program.A.reshaped()) value = number(++next);
    for (double& value : program.b) value = 1.0 + number(++next);  // 0 is feasible
    program.H = root * root.transpose() + 0.1 * MatrixXd::Identity(n, n);
    const QuadraticMinimum best = minimum(program);
    const VectorXd slack = program.b - program.A * best.x;
    const VectorXd slope =
        program.H * best.x + program.g + program.A.transpose() * best.multipliers;
    CHECK(slope.cwiseAbs().maxCoeff() <= solver_tol);
    CHECK(slack.minCoeff() >= -solver_tol);
    CHECK(best.multipliers.minCoeff() >= -solver_tol);
    CHECK(slack.cwiseProduct(best.multipliers).cwiseAbs().maxCoeff() <= solver_tol);
  }
}

TEST_CASE("quadratic program: a constraint that is never met changes nothing") {
  QuadraticProgram program{.H = MatrixXd::Identity(2, 2),
                           .g = VectorXd(2),
                           .A = MatrixXd(1, 2),
                           .b = VectorXd::Constant(1, 100.0)};
  program.g << -3.0, 4.0;
  program.A << 1.0, 1.0;
  const QuadraticMinimum best = minimum(program);
  CHECK(std::abs(best.x(0) - 3.0) <= solver_tol);
  CHECK(std::abs(best.x(1) - -4.0) <= solver_tol);
  CHECK(std::abs(best.multipliers(0)) <= solver_tol);
}

TEST_CASE("quadratic program: one constraint written twice is paid for once") {
  // x <= 1 twice and again at half its size: the minimum of (x - 3)^2/2 with slope -2 there.
  QuadraticProgram program{.H = MatrixXd::Identity(1, 1),
                           .g = VectorXd::Constant(1, -3.0),
                           .A = MatrixXd(3, 1),
                           .b = VectorXd(3)};
  program.A << 1.0, 1.0, 0.5;
  program.b << 1.0, 1.0, 0.5;
  const QuadraticMinimum best = minimum(program);
  CHECK(std::abs(best.x(0) - 1.0) <= solver_tol);
  CHECK(std::abs(program.A.col(0).dot(best.multipliers) - 2.0) <= solver_tol);
}

// A corner where three lines meet in the plane, and a constraint that only just touches the free
// minimum: both have multipliers that are not unique or zero with zero slack.
TEST_CASE("quadratic program: degenerate corners and touching constraints are found") {
  constexpr double degenerate_tol = 1e-4;  // slack times price is 1e-10, so each is about 1e-5
  QuadraticProgram corner{.H = MatrixXd::Identity(2, 2),
                          .g = VectorXd::Constant(2, -5.0),
                          .A = MatrixXd(3, 2),
                          .b = VectorXd(3)};
  corner.A << 1.0, 0.0, 0.0, 1.0, 1.0, 1.0;
  corner.b << 1.0, 1.0, 2.0;
  CHECK((minimum(corner).x - VectorXd::Ones(2)).cwiseAbs().maxCoeff() <= degenerate_tol);

  QuadraticProgram touching = corner;
  touching.g = VectorXd::Constant(2, -1.0);
  const QuadraticMinimum best = minimum(touching);
  CHECK((best.x - VectorXd::Ones(2)).cwiseAbs().maxCoeff() <= degenerate_tol);
  CHECK(best.multipliers.cwiseAbs().maxCoeff() <= degenerate_tol);
}
