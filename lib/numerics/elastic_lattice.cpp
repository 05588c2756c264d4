#include "numerics/elastic_lattice.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

#include "numerics/as_index.h"
#include "numerics/lattice_rows.h"

namespace thickset {
namespace {

constexpr int most_elastic_iterations = 300;
constexpr int coarsest_elastic_rounds = 40;
constexpr int fewest_nodes = 5;  // along an axis of the coarsest lattice
// What every second node cannot show begins at this share of the largest eigenvalue of D^-1 A.
constexpr double low_share = 0.115;

/// Of the Chebyshev polynomial of degree 2 over the upper part of the spectrum.
std::array<float, 2> elastic_weights(double largest) {
  const double middle = 0.5 * largest * (1.0 + low_share);
  const double root = 0.5 * largest * (1.0 - low_share) * std::numbers::sqrt2 / 2.0;
  return {static_cast<float>(1.0 / (middle + root)), static_cast<float>(1.0 / (middle - root))};
}

/// The coarse nodes around a fine one, one for each corner of a cube; the same several times where
/// fine and coarse coincide.
std::ptrdiff_t parent(const Lattice& coarse, const std::array<int, 3>& fine, int corner) {
  return coarse.index((fine[0] + (corner & 1)) / 2,
                      (fine[1] + (corner >> 1 & 1)) / 2,
                      (fine[2] + (corner >> 2 & 1)) / 2);
}

/// Mean of the eight fine cubes in each coarse one.
ZeroedArray<float> means(const Lattice& fine,
                         const ZeroedArray<float>& filled,
                         const Lattice& coarse) {
  ZeroedArray<float> mean{coarse.size()};
  for (int k = 0; k + 1 < fine.nodes(2); ++k) {
    for (int j = 0; j + 1 < fine.nodes(1); ++j) {
      for (int i = 0; i + 1 < fine.nodes(0); ++i) {
        mean[as_index(coarse.index(i / 2, j / 2, k / 2))] +=
            0.125F * filled[as_index(fine.index(i, j, k))];
      }
    }
  }
  return mean;
}

}  // namespace

ElasticLattice::Level::Level(Lattice lattice, ZeroedArray<float> shares, double corner_stiffness)
    : nodes{lattice},
      filled{std::move(shares)},
      inverse_diagonal{lattice.size()},
      x{zero<float>(lattice)},
      b{zero<float>(lattice)},
      ax{zero<float>(lattice)} {
  const std::array<std::ptrdiff_t, 3> step = {1, nodes.row(), nodes.plane()};
  cubes = rows_where(filled);
  for (const Row& row : cubes) {
    for (std::ptrdiff_t n = row.first; n < row.first + row.length; ++n) {
      for (int corner = 0; corner < 8; ++corner) {
        std::ptrdiff_t to = n;
        for (int a = 0; a < 3; ++a) to += (corner >> a & 1) * step[as_index(a)];
        inverse_diagonal[as_index(to)] += filled[as_index(n)];
      }
    }
  }
  corners = rows_where(inverse_diagonal);
  for (const Row& row : corners) {
    for (std::ptrdiff_t n = row.first; n < row.first + row.length; ++n) {
      float& d = inverse_diagonal[as_index(n)];
      if (d > 0.0F) d = static_cast<float>(1.0 / (corner_stiffness * static_cast<double>(d)));
    }
  }
}

std::vector<ElasticLattice::Row> ElasticLattice::Level::rows_where(
    const ZeroedArray<float>& positive) const {
  std::vector<Row> rows;
  for (int k = 0; k < nodes.nodes(2); ++k) {
    for (int j = 0; j < nodes.nodes(1); ++j) {
      const std::ptrdiff_t start = nodes.index(0, j, k);
      int first = 0;
      int last = nodes.nodes(0) - 1;
      while (first <= last && !(positive[as_index(start + first)] > 0.0F)) ++first;
      while (last >= first && !(positive[as_index(start + last)] > 0.0F)) --last;
      if (first <= last) rows.push_back({start + first, last - first + 1});
    }
  }
  return rows;
}

template <class Number>
ElasticLattice::Vector<Number> ElasticLattice::zero(const Lattice& nodes) {
  Vector<Number> v;
  for (ZeroedArray<Number>& c : v.component) c = ZeroedArray<Number>{nodes.size()};
  return v;
}

ElasticLattice::ElasticLattice(Lattice nodes, ZeroedArray<float> filled, double poisson_ratio)
    : poisson_ratio_{poisson_ratio},
      cube_{poisson_ratio},
      weights_{elastic_weights(cube_.largest_eigenvalue())},
      x_{zero<double>(nodes)},
      r_{zero<double>(nodes)},
      p_{zero<double>(nodes)},
      q_{zero<double>(nodes)} {
  const double stiffness = cube_.corner_stiffness();
  levels_.reserve(12);
  levels_.emplace_back(nodes, std::move(filled), stiffness);
  while (levels_.size() < 12) {
    const Lattice& fine = levels_.back().nodes;
    if (std::max({fine.nodes(0), fine.nodes(1), fine.nodes(2)}) <= fewest_nodes) break;
    const Lattice next = fine.every_second();
    ZeroedArray<float> mean = means(fine, levels_.back().filled, next);
    // A cube twice as wide resists with twice as much.
    for (std::size_t n = 0; n < mean.size(); ++n) mean[n] *= 2.0F;
    levels_.emplace_back(next, std::move(mean), stiffness);
  }
}

template <class Number>
void ElasticLattice::apply(const Level& level, const Vector<Number>& x, Vector<Number>& ax) const {
  for (const Row& row : level.corners) {
    for (ZeroedArray<Number>& c : ax.component)
      std::fill_n(c.data() + row.first, row.length, Number{0});
  }
  for (const Row& row : level.cubes) {
    elastic_cubes::add_resistance(cube_,
                                  row.length,
                                  level.nodes.row(),
                                  level.nodes.plane(),
                                  level.filled.data() + row.first,
                                  x.from(row.first),
                                  ax.from(row.first));
  }
}

/// b(node) = - integral of expansion * bulk over the cubes, times d(shape of the node): what the
/// cubes press with when held.
void ElasticLattice::set_load(const float* expansion) {
  const double press = 1.0 / (1.0 - 2.0 * poisson_ratio_);
  const Level& level = levels_.front();
  const std::array<std::ptrdiff_t, 3> step = {1, level.nodes.row(), level.nodes.plane()};
  for (const Row& row : level.corners) {
    for (ZeroedArray<double>& c : r_.component) std::fill_n(c.data() + row.first, row.length, 0.0);
  }
  for (const Row& row : level.cubes) {
    for (std::ptrdiff_t n = row.first; n < row.first + row.length; ++n) {
      const double force =
          0.25 * press * static_cast<double>(level.filled[as_index(n)] * expansion[n]);
      for (int corner = 0; corner < 8; ++corner) {
        std::ptrdiff_t to = n;
        for (int a = 0; a < 3; ++a) to += (corner >> a & 1) * step[as_index(a)];
        for (int a = 0; a < 3; ++a) {
          r_.component[as_index(a)][as_index(to)] += (corner >> a & 1) != 0 ? force : -force;
        }
      }
    }
  }
}

ElasticLattice::Outcome ElasticLattice::solve(const float* expansion,
                                              double relative_residual_tol,
                                              const Told& told) {
  Level& top = levels_.front();
  set_load(expansion);
  const auto sum_over = [&](auto&& of_row) {
    double sum = 0.0;
    for (std::size_t c = 0; c < 3; ++c) {
      for (const Row& row : top.corners) sum += of_row(c, row.first, row.length);
    }
    return sum;
  };
  const double whole = sum_over([&](std::size_t c, std::ptrdiff_t n, std::ptrdiff_t length) {
    std::fill_n(x_.component[c].data() + n, length, 0.0);
    std::fill_n(p_.component[c].data() + n, length, 0.0);
    double* const r = r_.component[c].data() + n;
    return lattice_rows::add_and_copy(length, 0.0, r, r, top.b.component[c].data() + n);
  });
  const double goal = relative_residual_tol * relative_residual_tol * whole;
  double rr = whole;
  double rz_before = 1.0;
  double alpha = 0.0;
  int iteration = 0;
  for (; iteration < most_elastic_iterations && rr > goal; ++iteration) {
    cycle(0);
    const double rz = sum_over([&](std::size_t c, std::ptrdiff_t n, std::ptrdiff_t length) {
      return lattice_rows::dot(length, r_.component[c].data() + n, top.x.component[c].data() + n);
    });
    const double beta = iteration == 0 ? 0.0 : rz / rz_before;
    rz_before = rz;
    sum_over([&](std::size_t c, std::ptrdiff_t n, std::ptrdiff_t length) {
      lattice_rows::add_and_turn(length,
                                 alpha,
                                 beta,
                                 top.x.component[c].data() + n,
                                 p_.component[c].data() + n,
                                 x_.component[c].data() + n);
      return 0.0;
    });
    apply(top, p_, q_);
    alpha =
        rz / sum_over([&](std::size_t c, std::ptrdiff_t n, std::ptrdiff_t length) {
          return lattice_rows::dot(length, p_.component[c].data() + n, q_.component[c].data() + n);
        });
    rr = sum_over([&](std::size_t c, std::ptrdiff_t n, std::ptrdiff_t length) {
      return lattice_rows::add_and_copy(length,
                                        -alpha,
                                        q_.component[c].data() + n,
                                        r_.component[c].data() + n,
                                        top.b.component[c].data() + n);
    });
    if (told) told(iteration + 1, std::sqrt(rr / whole));
  }
  sum_over([&](std::size_t c, std::ptrdiff_t n, std::ptrdiff_t length) {
    lattice_rows::add(length, alpha, p_.component[c].data() + n, x_.component[c].data() + n);
    return 0.0;
  });
  return {iteration, whole > 0.0 ? std::sqrt(rr / whole) : 0.0, rr <= goal};
}

Eigen::Matrix3d ElasticLattice::stress(std::ptrdiff_t cube, double expansion) const {
  const double nu = poisson_ratio_;
  const double shear = 0.5 / (1.0 + nu);
  const double lame = nu / ((1.0 + nu) * (1.0 - 2.0 * nu));
  const Eigen::Matrix3d g = elastic_cubes::gradient(nodes().row(), nodes().plane(), x_.from(cube));
  return shear * (g + g.transpose()) +
         (lame * g.trace() - expansion / (1.0 - 2.0 * nu)) * Eigen::Matrix3d::Identity();
}

void ElasticLattice::cycle(std::size_t level) {
  Level& here = levels_[level];
  smooth_from_zero(here);
  if (level + 1 == levels_.size()) {
    for (int round = 0; round < coarsest_elastic_rounds; ++round) {
      jacobi(here, weights_[1]);
      jacobi(here, weights_[0]);
    }
    return;
  }
  restrict_residual(here, levels_[level + 1]);
  cycle(level + 1);
  add_correction(levels_[level + 1], here);
  jacobi(here, weights_[1]);
  jacobi(here, weights_[0]);
}

void ElasticLattice::jacobi(Level& level, float weight) const {
  apply(level, level.x, level.ax);
  for (std::size_t c = 0; c < 3; ++c) {
    float* const x = level.x.component[c].data();
    const float* const b = level.b.component[c].data();
    const float* const ax = level.ax.component[c].data();
    for (const Row& row : level.corners) {
      for (std::ptrdiff_t n = row.first; n < row.first + row.length; ++n) {
        x[n] += weight * level.inverse_diagonal[as_index(n)] * (b[n] - ax[n]);
      }
    }
  }
}

void ElasticLattice::smooth_from_zero(Level& level) const {
  for (std::size_t c = 0; c < 3; ++c) {
    for (const Row& row : level.corners) {
      lattice_rows::jacobi_from_zero(row.length,
                                     weights_[0],
                                     level.b.component[c].data() + row.first,
                                     level.inverse_diagonal.data() + row.first,
                                     level.x.component[c].data() + row.first);
    }
  }
  jacobi(level, weights_[1]);
}

void ElasticLattice::restrict_residual(Level& fine, Level& coarse) const {
  apply(fine, fine.x, fine.ax);
  for (std::size_t c = 0; c < 3; ++c) {
    float* const to = coarse.b.component[c].data();
    for (const Row& row : coarse.corners) std::fill_n(to + row.first, row.length, 0.0F);
    for (const Row& row : fine.corners) {
      std::array<int, 3> p = fine.nodes.place(row.first);
      for (std::ptrdiff_t n = row.first; n < row.first + row.length; ++n, ++p[0]) {
        const float left =
            0.125F * (fine.b.component[c][as_index(n)] - fine.ax.component[c][as_index(n)]);
        for (int corner = 0; corner < 8; ++corner) to[parent(coarse.nodes, p, corner)] += left;
      }
    }
  }
}

void ElasticLattice::add_correction(const Level& coarse, Level& fine) const {
  for (std::size_t c = 0; c < 3; ++c) {
    const float* const from = coarse.x.component[c].data();
    for (const Row& row : fine.corners) {
      std::array<int, 3> p = fine.nodes.place(row.first);
      for (std::ptrdiff_t n = row.first; n < row.first + row.length; ++n, ++p[0]) {
        float sum = 0.0F;
        for (int corner = 0; corner < 8; ++corner) sum += from[parent(coarse.nodes, p, corner)];
        if (fine.inverse_diagonal[as_index(n)] > 0.0F)
          fine.x.component[c][as_index(n)] += 0.125F * sum;
      }
    }
  }
}

}  // namespace thickset
