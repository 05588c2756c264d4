#include "numerics/elastic_cubes.h"

#include <algorithm>
#include <cassert>

#include <Eigen/Eigenvalues>

#include "numerics/lanes.h"

namespace thickset {
namespace {

constexpr int modes = 8;
constexpr int corners = 8;
constexpr std::ptrdiff_t at_once = 16;

int without(int mode, int axis) {
  return mode & ~(1 << axis);
}
bool has(int mode, int axis) {
  return (mode >> axis & 1) != 0;
}

/// Integral over the cube of d(mode m)/d(axis a) times d(mode n)/d(axis b); modes are products of
/// coordinates in [-1, 1], so that x gives 2 (per side), and products are orthogonal.
double integral(int m, int a, int n, int b) {
  if (!has(m, a) || !has(n, b) || without(m, a) != without(n, b)) return 0.0;
  double value = 4.0;
  for (int axis = 0; axis < 3; ++axis) {
    if (has(without(m, a), axis)) value /= 3.0;
  }
  return value;
}

/// One row of numbers for each mode or corner.
template <class Number>
using Lines = Number[modes][at_once];

/// Sums and differences of the eight corners along x, y, z.
template <class Number>
inline void to_modes(const Number* at,
                     std::ptrdiff_t row,
                     std::ptrdiff_t plane,
                     Lines<Number>& out) {
  const std::ptrdiff_t line[4] = {0, row, plane, plane + row};
  Number sum[4][at_once];
  Number difference[4][at_once];
  for (int r = 0; r < 4; ++r) {
    const Number* const p = at + line[r];
    for (std::ptrdiff_t l = 0; l < at_once; ++l) {
      sum[r][l] = p[l + 1] + p[l];
      difference[r][l] = p[l + 1] - p[l];
    }
  }
  for (int d = 0; d < 2; ++d) {
    const auto& from = d == 0 ? sum : difference;
    for (std::ptrdiff_t l = 0; l < at_once; ++l) {
      const Number low = from[1][l] + from[0][l];
      const Number low_y = from[1][l] - from[0][l];
      const Number high = from[3][l] + from[2][l];
      const Number high_y = from[3][l] - from[2][l];
      out[d][l] = high + low;
      out[d + 2][l] = high_y + low_y;
      out[d + 4][l] = high - low;
      out[d + 6][l] = high_y - low_y;
    }
  }
}

/// The transpose of to_modes, added.
template <class Number>
inline void add_from_modes(const Lines<Number>& in,
                           std::ptrdiff_t row,
                           std::ptrdiff_t plane,
                           Number* at) {
  const std::ptrdiff_t line[4] = {0, row, plane, plane + row};
  for (int r = 0; r < 4; ++r) {
    const Number y = (r & 1) != 0 ? Number{1} : Number{-1};
    const Number z = (r & 2) != 0 ? Number{1} : Number{-1};
    Number sum[at_once];
    Number difference[at_once];
    for (std::ptrdiff_t l = 0; l < at_once; ++l) {
      sum[l] = (in[0][l] + y * in[2][l]) + (z * in[4][l] + y * z * in[6][l]);
      difference[l] = (in[1][l] + y * in[3][l]) + (z * in[5][l] + y * z * in[7][l]);
    }
    Number* const p = at + line[r];
    for (std::ptrdiff_t l = 0; l < at_once; ++l) p[l] += sum[l] - difference[l];
    for (std::ptrdiff_t l = 0; l < at_once; ++l) p[l + 1] += sum[l] + difference[l];
  }
}

template <class Number>
inline void add_row(const ElasticCube& cube,
                    std::ptrdiff_t n,
                    std::ptrdiff_t row,
                    std::ptrdiff_t plane,
                    const float* filled,
                    Components<const Number> u,
                    Components<Number> f) {
  const Number* const from[3] = {u.x, u.y, u.z};
  Number* const to[3] = {f.x, f.y, f.z};
  for (std::ptrdiff_t i = 0; i < n; i += at_once) {
    Lines<Number> of[3];
    Lines<Number> resists[3] = {};
    Number share[at_once] = {};
    for (std::ptrdiff_t l = 0; l < std::min(at_once, n - i); ++l) {
      share[l] = static_cast<Number>(filled[i + l]);
    }
    for (int c = 0; c < 3; ++c) to_modes(from[c] + i, row, plane, of[c]);
    for (const ElasticCube::Entry& e : cube.entries()) {
      const auto value = static_cast<Number>(e.value);
      const Number* const column = of[e.column / modes][e.column % modes];
      Number* const line = resists[e.row / modes][e.row % modes];
      for (std::ptrdiff_t l = 0; l < at_once; ++l) line[l] += value * column[l];
    }
    for (int c = 0; c < 3; ++c) {
      for (auto& line : resists[c]) {
        for (std::ptrdiff_t l = 0; l < at_once; ++l) line[l] *= share[l];
      }
      add_from_modes(resists[c], row, plane, to[c] + i);
    }
  }
}

}  // namespace

ElasticCube::ElasticCube(double poisson_ratio) {
  assert(poisson_ratio > -1.0 && poisson_ratio < 0.5);
  const double shear = 0.5 / (1.0 + poisson_ratio);
  const double lame = poisson_ratio / ((1.0 + poisson_ratio) * (1.0 - 2.0 * poisson_ratio));
  // energy: lame/2 (div u)^2 + shear/2 (sum over c, d of G_cd G_cd + G_cd G_dc), G = grad u
  for (int c = 0; c < 3; ++c) {
    for (int m = 0; m < modes; ++m) {
      for (int d = 0; d < 3; ++d) {
        for (int n = 0; n < modes; ++n) {
          double value = lame * integral(m, c, n, d) + shear * integral(m, d, n, c);
          for (int axis = 0; axis < 3 && c == d; ++axis)
            value += shear * integral(m, axis, n, axis);
          if (value == 0.0) continue;
          // modes are sums over corners / 8, on both sides
          entries_.push_back({modes * c + m, modes * d + n, value / (corners * corners)});
          if (c == 0 && d == 0) corner_stiffness_ += m == n ? entries_.back().value : 0.0;
        }
      }
    }
  }
  Eigen::Matrix<double, 3 * modes, 3 * modes> all = Eigen::Matrix<double, 24, 24>::Zero();
  for (const Entry& e : entries_) all(e.row, e.column) = e.value;
  // modes are orthogonal, each of square length 8 over the corners
  const Eigen::SelfAdjointEigenSolver<Eigen::Matrix<double, 24, 24>> solved{all,
                                                                            Eigen::EigenvaluesOnly};
  largest_eigenvalue_ = corners * solved.eigenvalues().maxCoeff() / corner_stiffness_;
}

namespace elastic_cubes {

THICKSET_FOUR_AT_ONCE
void add_resistance(const ElasticCube& cube,
                    Size n,
                    Size row,
                    Size plane,
                    const float* filled,
                    Components<const float> displacement,
                    Components<float> force) {
  add_row<float>(cube, n, row, plane, filled, displacement, force);
}

THICKSET_FOUR_AT_ONCE
void add_resistance(const ElasticCube& cube,
                    Size n,
                    Size row,
                    Size plane,
                    const float* filled,
                    Components<const double> displacement,
                    Components<double> force) {
  add_row<double>(cube, n, row, plane, filled, displacement, force);
}

Eigen::Matrix3d gradient(Size row, Size plane, Components<const double> displacement) {
  const double* const u[3] = {displacement.x, displacement.y, displacement.z};
  const Size step[3] = {1, row, plane};
  Eigen::Matrix3d g = Eigen::Matrix3d::Zero();
  for (int corner = 0; corner < corners; ++corner) {
    Size at = 0;
    for (int a = 0; a < 3; ++a) at += has(corner, a) ? step[a] : 0;
    for (int c = 0; c < 3; ++c) {
      for (int a = 0; a < 3; ++a) g(c, a) += (has(corner, a) ? 0.25 : -0.25) * u[c][at];
    }
  }
  return g;
}

}  // namespace elastic_cubes
}  // namespace thickset
