#include "numerics/multigrid.h"

#include <array>
#include <cmath>
#include <numbers>
#include <utility>

#include "numerics/as_index.h"

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

/// More where coarse nodes around are missing that no surface held at 0 explains: an insulated
/// surface lies between, and the others stand for them. Wants to be exact: counted along the axes
/// alone it took 20 to 40 rounds near curved surfaces, instead of 10.
float share_of_missing(const LatticeProblem& p, const LatticeProblem& coarse, std::ptrdiff_t node) {
  if (p.plain()) return 1.0F;
  const std::array<int, 3> place = p.lattice.place(node);
  int counted = 0;
  for (int corner = 0; corner < 8; ++corner) {
    const std::array<int, 3> up = {corner & 1, corner >> 1 & 1, corner >> 2 & 1};
    bool counts = coarse.has(coarse.lattice.index(
        (place[0] + up[0]) / 2, (place[1] + up[1]) / 2, (place[2] + up[2]) / 2));
    for (int axis = 0; axis < 3 && !counts; ++axis) {
      const bool between = place[as_index(axis)] % 2 != 0;
      counts = between && p.end(node, direction(axis, up[as_index(axis)] != 0)) != nullptr;
    }
    if (counts) ++counted;
  }
  return counted > 0 ? 8.0F / static_cast<float>(counted) : 1.0F;
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

Multigrid::Level::Level(LatticeProblem problem, const LatticeProblem* coarse)
    : matrix{std::move(problem)},
      x{matrix.lattice().size()},
      b{matrix.lattice().size()},
      spare{matrix.lattice().size()} {
  const LatticeProblem& p = matrix.problem();
  if (coarse == nullptr) return;
  for (int k = 0; k < matrix.lattice().nodes(2); ++k) {
    share_begins.push_back(shares.size());
    for (const SevenPoint::Row& row : matrix.rows_of_plane(k)) {
      for (std::ptrdiff_t node = row.first; node < row.first + row.length; ++node) {
        if (!p.has(node)) continue;
        const float factor = share_of_missing(p, *coarse, node) * share_near_ends(p, node);
        if (factor != 1.0F) shares.push_back({static_cast<std::int32_t>(node), factor});
      }
    }
  }
  share_begins.push_back(shares.size());
}

Multigrid::Multigrid(LatticeProblem problem) {
  levels_.reserve(largest_level_count);
  while (levels_.size() + 1 < largest_level_count && problem.unknowns() > few_unknowns) {
    LatticeProblem coarse = on_every_second_node(problem);
    if (coarse.unknowns() == 0) break;
    levels_.emplace_back(std::move(problem), &coarse);
    problem = std::move(coarse);
  }
  levels_.emplace_back(std::move(problem), nullptr);
  row_ = ZeroedArray<float>{as_index(levels_.front().matrix.lattice().row()) + 32};
}

const float* Multigrid::cycle() {
  cycle(0);
  return levels_.front().x.data();
}

void Multigrid::cycle(std::size_t level) {
  Level& here = levels_[level];
  smooth_from_zero(here);
  if (level + 1 == levels_.size()) {
    for (int round = 0; round < coarsest_rounds; ++round) correct_and_smooth(nullptr, here);
    return;
  }
  restrict_residual(here, levels_[level + 1]);
  cycle(level + 1);
  correct_and_smooth(&levels_[level + 1], here);
}

/// Two Jacobi steps from x = 0, and what they leave, in `spare`.
void Multigrid::smooth_from_zero(Level& level) const {
  const SevenPoint& a = level.matrix;
  const float* const b = level.b.data();
  for (int k = 0; k < a.lattice().nodes(2) + 2; ++k) {
    for (const SevenPoint::Row& row : a.rows_of_plane(k)) {
      a.jacobi_from_zero(row, smoothing.first, b, level.spare.data());
    }
    for (const SevenPoint::Row& row : a.rows_of_plane(k - 1)) {
      a.jacobi(row, smoothing.second, level.spare.data(), b, level.x.data());
    }
    for (const SevenPoint::Row& row : a.rows_of_plane(k - 2)) {
      a.residual(row, level.x.data(), b, level.spare.data());
    }
  }
}

/// Adds what the coarse lattice says, if there is one; then two Jacobi steps, in reverse order.
void Multigrid::correct_and_smooth(const Level* coarse, Level& level) {
  const SevenPoint& a = level.matrix;
  const float* const b = level.b.data();
  for (int k = 0; k < a.lattice().nodes(2) + 2; ++k) {
    if (coarse != nullptr) add_correction(*coarse, level, k);
    for (const SevenPoint::Row& row : a.rows_of_plane(k - 1)) {
      a.jacobi(row, smoothing.second, level.x.data(), b, level.spare.data());
    }
    for (const SevenPoint::Row& row : a.rows_of_plane(k - 2)) {
      a.jacobi(row, smoothing.first, level.spare.data(), b, level.x.data());
    }
  }
}

void Multigrid::restrict_residual(Level& fine, Level& coarse) {
  float* const residual = fine.spare.data();
  for (const Share& share : fine.shares) residual[share.node] *= share.factor;
  const Lattice& lattice = fine.matrix.lattice();
  for (const SevenPoint::Row& row : coarse.matrix.rows()) {
    const std::array<int, 3> p = coarse.matrix.lattice().place(row.first);
    const std::ptrdiff_t first = lattice.index(2 * p[0], 2 * p[1], 2 * p[2]);
    const std::ptrdiff_t length = 2 * row.length + 1;  // may read on: into nodes without unknown
    lattice_rows::gather(
        length, {residual + first - 1, lattice.row(), lattice.plane()}, row_.data());
    lattice_rows::thin_out(row.length, row_.data() + 1, coarse.b.data() + row.first);
  }
}

void Multigrid::add_correction(const Level& coarse, Level& fine, int plane) {
  const std::span<const SevenPoint::Row> rows = fine.matrix.rows_of_plane(plane);
  if (rows.empty()) return;
  const Lattice& to = fine.matrix.lattice();
  const Lattice& from = coarse.matrix.lattice();
  const float* const x = coarse.x.data();
  for (const SevenPoint::Row& row : rows) {
    const std::array<int, 3> p = to.place(row.first);
    const auto coarse_row = [&](int j, int k) { return x + from.index(p[0] / 2, j / 2, k / 2); };
    lattice_rows::mean_of_four(row.length / 2 + 1,
                               0.25F,
                               coarse_row(p[1], p[2]),
                               coarse_row(p[1] + 1, p[2]),
                               coarse_row(p[1], p[2] + 1),
                               coarse_row(p[1] + 1, p[2] + 1),
                               row_.data());
    lattice_rows::spread(row.length,
                         row_.data(),
                         fine.matrix.inverse_diagonal() + row.first,
                         fine.x.data() + row.first);
  }
  const auto k = as_index(plane);
  for (std::size_t n = fine.share_begins[k]; n < fine.share_begins[k + 1]; ++n) {
    const Share& share = fine.shares[n];
    fine.x[as_index(share.node)] += (share.factor - 1.0F) * interpolated(to, from, x, share.node);
  }
}

}  // namespace thickset
