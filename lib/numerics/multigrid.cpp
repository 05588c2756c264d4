#include "numerics/multigrid.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <utility>

namespace thickset {
namespace {

constexpr std::size_t few_unknowns = 60;
constexpr int coarsest_rounds = 8;
constexpr int largest_level_count = 12;

// D^-1 A has its eigenvalues in (0, 2]. What a lattice of every second node cannot show begins at
// 1/3 in three dimensions. Weights 1 / root of the Chebyshev polynomial of degree 2 over (low, 2].
struct Weights {
  float first, second;
};
Weights chebyshev_weights(double low) {
  const double middle = 0.5 * (2.0 + low);
  const double half = 0.5 * (2.0 - low);
  const double root = half * std::numbers::sqrt2 / 2.0;
  return {static_cast<float>(1.0 / (middle + root)), static_cast<float>(1.0 / (middle - root))};
}
const Weights smoothing = chebyshev_weights(1.0 / 3.0);

std::size_t at(std::ptrdiff_t i) {
  return static_cast<std::size_t>(i);
}

/// More where coarse neighbours are missing that no surface held at 0 explains: an insulated
/// surface lies between, and the others stand for them.
float share_of_missing(const LatticeProblem& p, std::ptrdiff_t node) {
  const std::array<int, 3> place = p.lattice.place(node);
  float factor = 1.0F;
  for (int axis = 0; axis < 3; ++axis) {
    if (place[at(axis)] % 2 == 0) continue;
    int missing = 0;
    for (const bool on : {false, true}) {
      const Direction d = direction(axis, on);
      if (!p.has(node + p.lattice.step(d)) && p.end(node, d) == nullptr) ++missing;
    }
    if (missing == 1) factor *= 2.0F;
  }
  return factor;
}

/// Less where links end close by: the solution is nearly 0 there, whatever the coarse lattice,
/// which does not see how close, says. Without it the closest nodes cost 20 iterations of 30.
float share_near_ends(const LatticeProblem& p, std::ptrdiff_t node) {
  float far = 0.0F;
  float near = 0.0F;
  for (const Direction d : directions) {
    const LinkEnd* const end = p.end(node, d);
    const float link = end != nullptr ? end->weight : p.link(node, d);
    far += link;
    near += end != nullptr ? link / end->distance : link;
  }
  return far > 0.0F ? far / near : 1.0F;
}

float interpolated(const Lattice& fine,
                   const Lattice& coarse,
                   const float* x,
                   std::ptrdiff_t node) {
  const std::array<int, 3> p = fine.place(node);
  float sum = 0.0F;
  for (int corner = 0; corner < 8; ++corner) {
    sum += x[coarse.index(
        (p[0] + (corner & 1)) / 2, (p[1] + (corner >> 1 & 1)) / 2, (p[2] + (corner >> 2 & 1)) / 2)];
  }
  return 0.125F * sum;
}

}  // namespace

Multigrid::Level::Level(LatticeProblem problem)
    : matrix{std::move(problem)},
      x{matrix.lattice().size()},
      b{matrix.lattice().size()},
      spare{matrix.lattice().size()} {
  for (const SevenPoint::Row& row : matrix.rows()) {
    for (std::ptrdiff_t node = row.first; node < row.first + row.length; ++node) {
      const LatticeProblem& p = matrix.problem();
      if (!p.has(node)) continue;
      const float factor = share_of_missing(p, node) * share_near_ends(p, node);
      if (factor != 1.0F) shares.push_back({static_cast<std::int32_t>(node), factor});
    }
  }
}

Multigrid::Multigrid(LatticeProblem problem) {
  levels_.reserve(largest_level_count);
  levels_.emplace_back(std::move(problem));
  while (levels_.size() < largest_level_count && levels_.back().matrix.unknowns() > few_unknowns) {
    LatticeProblem coarse = on_every_second_node(levels_.back().matrix.problem());
    const auto& state = coarse.state;
    const bool any = std::any_of(
        state.data(), state.data() + state.size(), [](std::uint8_t s) { return s != 0; });
    if (!any) break;
    levels_.emplace_back(std::move(coarse));
  }
  row_ = ZeroedArray<float>{at(levels_.front().matrix.lattice().nodes(0)) + 8};
}

const float* Multigrid::cycle() {
  cycle(0);
  return levels_.front().x.data();
}

void Multigrid::cycle(std::size_t level) {
  Level& here = levels_[level];
  if (level + 1 == levels_.size()) return solve_coarsest(here);
  smooth_from_zero(here);
  restrict_residual(here, levels_[level + 1]);
  cycle(level + 1);
  add_correction(levels_[level + 1], here);
  smooth(here);
}

void Multigrid::smooth_from_zero(Level& level) const {
  const SevenPoint& a = level.matrix;
  const float* const b = level.b.data();
  for (const SevenPoint::Row& row : a.rows()) {
    a.jacobi_from_zero(row, smoothing.first, b, level.spare.data());
  }
  for (const SevenPoint::Row& row : a.rows()) {
    a.jacobi(row, smoothing.second, level.spare.data(), b, level.x.data());
  }
}

void Multigrid::smooth(Level& level) const {
  const SevenPoint& a = level.matrix;
  const float* const b = level.b.data();
  for (const SevenPoint::Row& row : a.rows()) {
    a.jacobi(row, smoothing.second, level.x.data(), b, level.spare.data());
  }
  for (const SevenPoint::Row& row : a.rows()) {
    a.jacobi(row, smoothing.first, level.spare.data(), b, level.x.data());
  }
}

void Multigrid::solve_coarsest(Level& level) const {
  smooth_from_zero(level);
  for (int round = 0; round < coarsest_rounds; ++round) smooth(level);
}

void Multigrid::restrict_residual(Level& fine, Level& coarse) {
  float* const residual = fine.spare.data();
  for (const SevenPoint::Row& row : fine.matrix.rows()) {
    fine.matrix.residual(row, fine.x.data(), fine.b.data(), residual);
  }
  for (const Share& share : fine.shares) residual[share.node] *= share.factor;
  const Lattice& lattice = fine.matrix.lattice();
  for (const SevenPoint::Row& row : coarse.matrix.rows()) {
    const std::array<int, 3> p = coarse.matrix.lattice().place(row.first);
    const std::ptrdiff_t first = lattice.index(2 * p[0], 2 * p[1], 2 * p[2]);
    const std::ptrdiff_t length = 2 * row.length + 1;
    lattice_rows::gather(
        length, {residual + first - 1, lattice.row(), lattice.plane()}, row_.data());
    lattice_rows::thin_out(row.length, row_.data() + 1, coarse.b.data() + row.first);
  }
  for (const SevenPoint::Row& row : coarse.matrix.rows()) {
    for (std::ptrdiff_t n = row.first; n < row.first + row.length; ++n) {
      if (!(coarse.matrix.diagonal()[n] > 0.0F)) coarse.b[at(n)] = 0.0F;
    }
  }
}

void Multigrid::add_correction(const Level& coarse, Level& fine) {
  const Lattice& to = fine.matrix.lattice();
  const Lattice& from = coarse.matrix.lattice();
  const float* const x = coarse.x.data();
  for (const SevenPoint::Row& row : fine.matrix.rows()) {
    const std::array<int, 3> p = to.place(row.first);
    const int i = p[0] / 2;
    const std::ptrdiff_t skipped = p[0] % 2;
    const std::ptrdiff_t length = row.length + skipped;
    const auto coarse_row = [&](int j, int k) { return x + from.index(i, j / 2, k / 2); };
    lattice_rows::mean_of_four(length / 2 + 1,
                               0.25F,
                               coarse_row(p[1], p[2]),
                               coarse_row(p[1] + 1, p[2]),
                               coarse_row(p[1], p[2] + 1),
                               coarse_row(p[1] + 1, p[2] + 1),
                               row_.data());
    lattice_rows::spread(length,
                         row_.data(),
                         fine.matrix.inverse_diagonal() + row.first - skipped,
                         fine.x.data() + row.first - skipped);
  }
  for (const Share& share : fine.shares) {
    fine.x[at(share.node)] += (share.factor - 1.0F) * interpolated(to, from, x, share.node);
  }
}

}  // namespace thickset
