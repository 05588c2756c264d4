#include "numerics/lattice_solver.h"

#include <cmath>
#include <vector>

#include <doctest/doctest.h>
#include <Eigen/Dense>

using namespace thickset;

namespace {

/// A block with a corner missing; one side held at 0 at odd distances, the others insulated, a wall
/// on one of them, some links half open.
LatticeProblem awkward_problem() {
  LatticeProblem p;
  p.lattice = Lattice{{11, 9, 10}};
  p.state = ZeroedArray<std::uint8_t>{p.lattice.size()};
  const auto node = [&](int i, int j, int k) {
    return static_cast<std::int32_t>(p.lattice.index(i, j, k));
  };
  for (int k = 1; k <= 8; ++k) {
    for (int j = 1; j <= 7; ++j) {
      for (int i = 1; i <= 9; ++i) {
        if (i > 6 && j > 4 && k > 3) continue;
        p.state[static_cast<std::size_t>(node(i, j, k))] = LatticeProblem::inside;
      }
    }
  }
  for (int k = 1; k <= 8; ++k) {
    for (int j = 1; j <= 7; ++j) {
      const float distance = 0.05F + 0.013F * static_cast<float>(k * j);
      p.ends.push_back({node(1, j, k), Direction::back_x, distance, distance});
      p.sinks.push_back({node(j, 1, k), 0.3F});
    }
  }
  p.give_faces();
  for (int k = 1; k <= 8; ++k) {
    for (int j = 1; j <= 7; ++j) p.faces[0][static_cast<std::size_t>(node(3, j, k))] = 0.4F;
  }
  p.put_in_order();
  return p;
}

std::vector<std::ptrdiff_t> unknowns_of(const LatticeProblem& p) {
  std::vector<std::ptrdiff_t> nodes;
  for (std::size_t n = 0; n < p.state.size(); ++n) {
    if (p.state[n] != LatticeProblem::outside) nodes.push_back(static_cast<std::ptrdiff_t>(n));
  }
  return nodes;
}

/// The same matrix, written out from the problem's definition.
Eigen::MatrixXd written_out(const LatticeProblem& p, const std::vector<std::ptrdiff_t>& nodes) {
  const auto n = static_cast<Eigen::Index>(nodes.size());
  std::vector<Eigen::Index> number(p.lattice.size(), -1);
  for (Eigen::Index i = 0; i < n; ++i) {
    number[static_cast<std::size_t>(nodes[static_cast<std::size_t>(i)])] = i;
  }
  Eigen::MatrixXd a = Eigen::MatrixXd::Zero(n, n);
  for (Eigen::Index i = 0; i < n; ++i) {
    const std::ptrdiff_t node = nodes[static_cast<std::size_t>(i)];
    for (int axis = 0; axis < 3; ++axis) {
      const std::ptrdiff_t next = node + p.lattice.step(direction(axis, true));
      const Eigen::Index j = number[static_cast<std::size_t>(next)];
      if (j < 0) continue;
      const double w = static_cast<double>(
          p.faces[static_cast<std::size_t>(axis)][static_cast<std::size_t>(node)]);
      a(i, i) += w;
      a(j, j) += w;
      a(i, j) -= w;
      a(j, i) -= w;
    }
  }
  for (const LinkEnd& end : p.ends) {
    const Eigen::Index i = number[static_cast<std::size_t>(end.node)];
    a(i, i) += static_cast<double>(end.weight) / static_cast<double>(end.distance);
  }
  for (const Sink& sink : p.sinks) {
    const Eigen::Index i = number[static_cast<std::size_t>(sink.node)];
    a(i, i) += static_cast<double>(sink.strength);
  }
  return a;
}

// Diagonals are kept in single precision.
constexpr double single_precision = 1e-6;

}  // namespace

TEST_CASE("lattice solver: solves what a dense solver solves") {
  const LatticeProblem problem = awkward_problem();
  const std::vector<std::ptrdiff_t> nodes = unknowns_of(problem);
  const Eigen::MatrixXd a = written_out(problem, nodes);
  Eigen::VectorXd b(a.rows());
  ZeroedArray<float> b_on_lattice{problem.lattice.size()};
  for (Eigen::Index i = 0; i < b.size(); ++i) {
    const float value = std::sin(0.3F * static_cast<float>(i)) + 0.5F;
    b(i) = static_cast<double>(value);
    b_on_lattice[static_cast<std::size_t>(nodes[static_cast<std::size_t>(i)])] = value;
  }
  const Eigen::VectorXd expected = a.llt().solve(b);
  LatticeSolver solver{awkward_problem()};
  ZeroedArray<double> x{problem.lattice.size()};
  const LatticeSolver::Outcome outcome = solver.solve(b_on_lattice.data(), 1e-10, x.data());
  CHECK(outcome.reached);
  CHECK(outcome.iterations < 30);
  for (Eigen::Index i = 0; i < b.size(); ++i) {
    const double got = x[static_cast<std::size_t>(nodes[static_cast<std::size_t>(i)])];
    CHECK(std::abs(got - expected(i)) < single_precision * expected.lpNorm<Eigen::Infinity>());
  }
}

TEST_CASE("lattice solver: finds the smallest eigenvalue a dense solver finds") {
  const LatticeProblem problem = awkward_problem();
  const std::vector<std::ptrdiff_t> nodes = unknowns_of(problem);
  const Eigen::MatrixXd a = written_out(problem, nodes);
  Eigen::VectorXd mass(a.rows());
  ZeroedArray<float> mass_on_lattice{problem.lattice.size()};
  ZeroedArray<double> x{problem.lattice.size()};
  for (Eigen::Index i = 0; i < mass.size(); ++i) {
    const auto node = static_cast<std::size_t>(nodes[static_cast<std::size_t>(i)]);
    mass_on_lattice[node] = i % 5 == 0 ? 0.25F : 1.0F;
    mass(i) = static_cast<double>(mass_on_lattice[node]);
    x[node] = 1.0;
  }
  const Eigen::VectorXd scale = mass.cwiseSqrt().cwiseInverse();
  const Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd> dense{
      scale.asDiagonal() * a * scale.asDiagonal(), Eigen::EigenvaluesOnly};
  LatticeSolver solver{awkward_problem()};
  const LatticeSolver::Mode mode = solver.slowest_mode(mass_on_lattice.data(), 1e-9, x.data());
  CHECK(mode.settled);
  CHECK(std::abs(mode.eigenvalue / dense.eigenvalues()(0) - 1.0) < 10.0 * single_precision);
}

TEST_CASE("multigrid: a cycle is symmetric") {
  Multigrid multigrid{awkward_problem()};
  const std::vector<std::ptrdiff_t> nodes = unknowns_of(multigrid.matrix().problem());
  const auto cycle = [&](double pace) {
    std::vector<double> b(nodes.size());
    for (std::size_t i = 0; i < nodes.size(); ++i) {
      b[i] = std::sin(pace * static_cast<double>(i));
      multigrid.right_side()[nodes[i]] = static_cast<float>(b[i]);
    }
    const float* z = multigrid.cycle();
    std::vector<double> answer;
    for (const std::ptrdiff_t node : nodes) answer.push_back(static_cast<double>(z[node]));
    return std::pair{b, answer};
  };
  const auto [b, zb] = cycle(0.7);
  const auto [c, zc] = cycle(0.11);
  double one = 0.0;
  double other = 0.0;
  double size = 0.0;
  for (std::size_t i = 0; i < nodes.size(); ++i) {
    one += c[i] * zb[i];
    other += b[i] * zc[i];
    size += b[i] * zb[i];
  }
  CHECK(size > 0.0);
  CHECK(std::abs(one - other) < single_precision * size);
}
