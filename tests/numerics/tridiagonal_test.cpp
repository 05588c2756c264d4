#include "numerics/tridiagonal.h"

#include <cmath>
#include <initializer_list>

#include <doctest/doctest.h>
#include <Eigen/LU>

using thickset::Tridiagonal;

namespace {

/// A diagonally dominant matrix without symmetry, the same at every run.
Tridiagonal some_matrix(Eigen::Index n) {
  Tridiagonal matrix{n};
  for (Eigen::Index i = 0; i < n; ++i) {
    const double x = static_cast<double>(i);
    matrix.lower(i) = -1.0 - 0.3 * std::sin(x);
    matrix.upper(i) = -0.7 + 0.4 * std::cos(3.0 * x);
    matrix.diagonal(i) = 0.2 + std::abs(matrix.lower(i)) + std::abs(matrix.upper(i));
  }
  return matrix;
}

Eigen::MatrixXd dense(const Tridiagonal& matrix) {
  const Eigen::Index n = matrix.diagonal.size();
  Eigen::MatrixXd full = Eigen::MatrixXd::Zero(n, n);
  for (Eigen::Index i = 0; i < n; ++i) {
    full(i, i) = matrix.diagonal(i);
    if (i > 0) full(i, i - 1) = matrix.lower(i);
    if (i + 1 < n) full(i, i + 1) = matrix.upper(i);
  }
  return full;
}

constexpr double rounding = 1e-12;  // the matrices below have condition numbers under 100

}  // namespace

TEST_CASE("tridiagonal: agrees with a dense solver that pivots") {
  for (const Eigen::Index n : {1, 2, 3, 21, 200}) {
    CAPTURE(n);
    Tridiagonal matrix = some_matrix(n);
    const Eigen::ArrayXd b = Eigen::ArrayXd::LinSpaced(n, 1.0, -2.0).sin();
    matrix.factor();
    Eigen::ArrayXd x = b;
    matrix.solve(x);
    const Eigen::VectorXd expected = dense(matrix).partialPivLu().solve(b.matrix());
    CHECK((x.matrix() - expected).cwiseAbs().maxCoeff() <= rounding);
  }
}

TEST_CASE("tridiagonal: second differences of a parabola are its curvature, back to rounding") {
  // -x(i-1) + 2 x(i) - x(i+1) = 1 with zero neighbours: x(i) = (i + 1)(n - i)/2.
  constexpr Eigen::Index n = 50;
  Tridiagonal matrix{n};
  matrix.lower.setConstant(-1.0);
  matrix.upper.setConstant(-1.0);
  matrix.diagonal.setConstant(2.0);
  matrix.factor();
  Eigen::ArrayXd x = Eigen::ArrayXd::Ones(n);
  matrix.solve(x);
  constexpr double condition_times_rounding = 1e-11;  // (n/2)^2 at the most, condition about 1000
  for (Eigen::Index i = 0; i < n; ++i) {
    const double expected = 0.5 * static_cast<double>((i + 1) * (n - i));
    CHECK(std::abs(x(i) - expected) <= condition_times_rounding * expected);
  }
}

TEST_CASE("tridiagonal: the factors serve any number of right sides") {
  Tridiagonal matrix = some_matrix(30);
  matrix.factor();
  const Eigen::MatrixXd full = dense(matrix);
  for (const double shift : {0.0, 0.5, 7.0}) {
    CAPTURE(shift);
    const Eigen::ArrayXd expected = Eigen::ArrayXd::LinSpaced(30, shift, 2.0 * shift + 1.0).cos();
    Eigen::ArrayXd x = (full * expected.matrix()).array();
    matrix.solve(x);
    CHECK((x - expected).abs().maxCoeff() <= rounding);
  }
}

TEST_CASE("tridiagonal: what stands outside the matrix is not read") {
  Tridiagonal matrix = some_matrix(10);
  matrix.factor();
  Eigen::ArrayXd x = Eigen::ArrayXd::Ones(10);
  matrix.solve(x);
  matrix.lower(0) = matrix.upper(9) = std::nan("");
  matrix.factor();
  Eigen::ArrayXd again = Eigen::ArrayXd::Ones(10);
  matrix.solve(again);
  CHECK((again == x).all());
}
