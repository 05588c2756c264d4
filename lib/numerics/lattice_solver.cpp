#include "numerics/lattice_solver.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace thickset {
namespace {

constexpr int most_lattice_iterations = 200;
using Row = SevenPoint::Row;

template <class A, class B>
double dot(const SevenPoint& a, const A* x, const B* y) {
  double sum = 0.0;
  for (const Row& row : a.rows()) {
    sum += lattice_rows::dot(row.length, x + row.first, y + row.first);
  }
  return sum;
}

using lattice_rows::Products;

Products products(const SevenPoint& a, const float* mass, const double* x, const double* p) {
  Products all{};
  for (const Row& row : a.rows()) {
    const lattice_rows::Products part =
        lattice_rows::products(row.length, mass + row.first, x + row.first, p + row.first);
    all.xx += part.xx;
    all.xp += part.xp;
    all.pp += part.pp;
  }
  return all;
}

/// The step t along p that makes the Rayleigh quotient of x + t p least.
///
/// (a.xx + 2 a.xp t + a.pp t^2) / (m.xx + 2 m.xp t + m.pp t^2) is stationary where
/// (a.pp m.xp - a.xp m.pp) t^2 + (a.pp m.xx - a.xx m.pp) t + (a.xp m.xx - a.xx m.xp) = 0.
double best_step(const Products& a, const Products& m) {
  const double A = a.pp * m.xp - a.xp * m.pp;
  const double B = a.pp * m.xx - a.xx * m.pp;
  const double C = a.xp * m.xx - a.xx * m.xp;
  const double root = std::sqrt(std::max(B * B - 4.0 * A * C, 0.0));
  // The root that stays finite as A goes to 0: the minimum. Where p is 0, so is the step.
  return B + root > 0.0 ? -2.0 * C / (B + root) : 0.0;
}

}  // namespace

LatticeSolver::LatticeSolver(LatticeProblem problem)
    : multigrid_{std::move(problem)},
      r_{matrix().lattice().size()},
      p_{matrix().lattice().size()},
      q_{matrix().lattice().size()} {}

double LatticeSolver::square_of_residual(const float* b) {
  double sum = 0.0;
  for (const Row& row : matrix().rows()) {
    for (std::ptrdiff_t i = row.first; i < row.first + row.length; ++i) {
      r_.data()[i] = static_cast<double>(b[i]);
      multigrid_.right_side()[i] = b[i];
      p_.data()[i] = 0.0;
      sum += r_.data()[i] * r_.data()[i];
    }
  }
  return sum;
}

double LatticeSolver::length_of(const float* b) const {
  return std::sqrt(dot(matrix(), b, b));
}

LatticeSolver::Outcome LatticeSolver::solve(const float* b,
                                            double relative_residual_tol,
                                            double* x,
                                            const Told& told) {
  for (const Row& row : matrix().rows()) std::fill_n(x + row.first, row.length, 0.0);
  const double whole = square_of_residual(b);
  return iterate(whole, relative_residual_tol * relative_residual_tol * whole, x, told);
}

LatticeSolver::Outcome LatticeSolver::solve_further(const float* change,
                                                    double residual,
                                                    double* x,
                                                    const Told& told) {
  return iterate(square_of_residual(change), residual * residual, x, told);
}

/// Adds to x until the square of the residual, at first `whole`, is `goal`.
LatticeSolver::Outcome LatticeSolver::iterate(double whole,
                                              double goal,
                                              double* x,
                                              const Told& told) {
  const SevenPoint& a = matrix();
  double rr = whole;
  double rz_before = 1.0;
  double alpha = 0.0;
  int iteration = 0;
  for (; iteration < most_lattice_iterations && rr > goal; ++iteration) {
    const float* const z = multigrid_.cycle();
    const double rz = dot(a, r_.data(), z);
    const double beta = iteration == 0 ? 0.0 : rz / rz_before;
    rz_before = rz;
    alpha = rz / turn_and_apply(alpha, beta, z, x);
    rr = 0.0;
    for (const Row& row : a.rows()) {
      rr += lattice_rows::add_and_copy(row.length,
                                       -alpha,
                                       q_.data() + row.first,
                                       r_.data() + row.first,
                                       multigrid_.right_side() + row.first);
    }
    if (told) told(iteration + 1, std::sqrt(rr / whole));
  }
  for (const Row& row : a.rows()) {
    lattice_rows::add(row.length, alpha, p_.data() + row.first, x + row.first);
  }
  return {iteration, whole > 0.0 ? std::sqrt(rr / whole) : 0.0, rr <= goal};
}

/// x += alpha p, p = z + beta p, q = A p; gives p.q. Plane by plane: q one plane behind.
double LatticeSolver::turn_and_apply(double alpha, double beta, const float* z, double* x) {
  const SevenPoint& a = matrix();
  double pq = 0.0;
  for (int k = 0; k <= a.lattice().nodes(2); ++k) {
    for (const Row& row : a.rows_of_plane(k)) {
      const std::ptrdiff_t n = row.first;
      lattice_rows::add_and_turn(row.length, alpha, beta, z + n, p_.data() + n, x + n);
    }
    for (const Row& row : a.rows_of_plane(k - 1)) {
      a.apply(row, p_.data(), q_.data());
      pq += lattice_rows::dot(row.length, p_.data() + row.first, q_.data() + row.first);
    }
  }
  return pq;
}

/// Half the steepest descent of the Rayleigh quotient, as the next right side.
void LatticeSolver::set_descent(const float* mass, double quotient, const double* x) {
  float* const descent = multigrid_.right_side();
  for (const Row& row : matrix().rows()) {
    for (std::ptrdiff_t i = row.first; i < row.first + row.length; ++i) {
      descent[i] =
          static_cast<float>(quotient * static_cast<double>(mass[i]) * x[i] - r_.data()[i]);
    }
  }
}

void LatticeSolver::scale_to_one(double* x) const {
  double largest = 0.0;
  for (const Row& row : matrix().rows()) {
    for (std::ptrdiff_t i = row.first; i < row.first + row.length; ++i) {
      if (std::abs(x[i]) > std::abs(largest)) largest = x[i];
    }
  }
  for (const Row& row : matrix().rows()) {
    for (std::ptrdiff_t i = row.first; i < row.first + row.length; ++i) x[i] /= largest;
  }
}

LatticeSolver::Mode LatticeSolver::slowest_mode(const float* mass,
                                                double relative_tol,
                                                double* x,
                                                const Told& told) {
  const SevenPoint& a = matrix();
  double* const ax = r_.data();
  for (const Row& row : a.rows()) std::fill_n(p_.data() + row.first, row.length, 0.0);
  a.apply(x, ax);
  double gz_before = 1.0;
  double before = 0.0;
  for (int iteration = 0; iteration < most_lattice_iterations; ++iteration) {
    Products of_m = products(a, mass, x, p_.data());
    const double quotient = dot(a, x, ax) / of_m.xx;
    const double change = std::abs(quotient - before) / quotient;
    before = quotient;
    if (told && iteration > 0) told(iteration, change);
    if (iteration > 1 && change < relative_tol) {
      scale_to_one(x);
      return {quotient, iteration, true};
    }
    set_descent(mass, quotient, x);
    const float* const z = multigrid_.cycle();
    const double gz = dot(a, multigrid_.right_side(), z);
    const double beta = iteration == 0 ? 0.0 : gz / gz_before;
    gz_before = gz;
    for (const Row& row : a.rows()) {
      lattice_rows::turn(row.length, beta, z + row.first, p_.data() + row.first);
    }
    a.apply(p_.data(), q_.data());
    of_m = products(a, mass, x, p_.data());
    const Products of_a = {quotient * of_m.xx, dot(a, x, q_.data()), dot(a, p_.data(), q_.data())};
    const double step = best_step(of_a, of_m);
    for (const Row& row : a.rows()) {
      lattice_rows::add(row.length, step, p_.data() + row.first, x + row.first);
      lattice_rows::add(row.length, step, q_.data() + row.first, ax + row.first);
    }
  }
  scale_to_one(x);
  return {before, most_lattice_iterations, false};
}

}  // namespace thickset
