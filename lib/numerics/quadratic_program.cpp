#include "numerics/quadratic_program.h"

#include <algorithm>
#include <cassert>
#include <cmath>

#include <Eigen/Cholesky>

namespace thickset {
namespace {

using Eigen::VectorXd;

constexpr int most_iterations = 60;
constexpr double gap_tol = 1e-10;         // largest mean complementarity over the scale of the cost
constexpr double to_the_boundary = 0.99;  // of the longest step that keeps all positive

/// Share of a step, at most 1, that leaves every value positive.
double longest_step(const VectorXd& values, const VectorXd& step) {
  double longest = 1.0;
  for (Eigen::Index i = 0; i < values.size(); ++i) {
    if (step(i) < 0.0) longest = std::min(longest, -values(i) / step(i));
  }
  return longest;
}

}  // namespace

QuadraticMinimum minimum(const QuadraticProgram& program) {
  const Eigen::MatrixXd& H = program.H;
  const VectorXd& g = program.g;
  const Eigen::MatrixXd& A = program.A;
  const VectorXd& b = program.b;
  const Eigen::Index n = g.size();
  const Eigen::Index m = b.size();
  assert(H.rows() == n && H.cols() == n && A.rows() == m && A.cols() == n && m >= 1);
  VectorXd x = VectorXd::Zero(n);
  VectorXd slack = b.cwiseMax(1.0);  // A x + slack = b in the end
  VectorXd price = VectorXd::Ones(m);
  const double scale = 1.0 + g.cwiseAbs().maxCoeff();

  for (int iteration = 0; iteration < most_iterations; ++iteration) {
    const VectorXd dual = H * x + g + A.transpose() * price;
    const VectorXd primal = A * x + slack - b;
    const double gap = slack.dot(price) / static_cast<double>(m);
    if (gap < gap_tol * scale && primal.cwiseAbs().maxCoeff() < 1e-9 &&
        dual.cwiseAbs().maxCoeff() < 1e-9 * scale)
      break;
    const VectorXd weight = price.cwiseQuotient(slack);
    const Eigen::LDLT<Eigen::MatrixXd> normal{H + A.transpose() * weight.asDiagonal() * A};
    VectorXd dx, dslack, dprice;
    // Newton's step towards slack * price = target - (what the last step's product adds).
    const auto towards = [&](const VectorXd& complementarity) {
      const VectorXd shift = (price.cwiseProduct(primal) - complementarity).cwiseQuotient(slack);
      dx = normal.solve(-dual - A.transpose() * shift);
      dslack = -primal - A * dx;
      dprice = -(complementarity + price.cwiseProduct(dslack)).cwiseQuotient(slack);
    };
    towards(slack.cwiseProduct(price));
    const double affine = std::min(longest_step(slack, dslack), longest_step(price, dprice));
    const double affine_gap =
        (slack + affine * dslack).dot(price + affine * dprice) / static_cast<double>(m);
    const double centring = std::pow(affine_gap / gap, 3.0);
    towards((slack.cwiseProduct(price) + dslack.cwiseProduct(dprice)).array() - centring * gap);
    const double step = std::min(
        1.0, to_the_boundary * std::min(longest_step(slack, dslack), longest_step(price, dprice)));
    x += step * dx;
    slack += step * dslack;
    price += step * dprice;
  }
  return {x, price};
}

}  // namespace thickset
