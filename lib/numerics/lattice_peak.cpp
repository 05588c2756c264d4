#include "numerics/lattice_peak.h"

#include <algorithm>
#include <array>
#include <cmath>

#include <Eigen/Eigenvalues>

namespace thickset {
namespace {

struct Neighbour {
  bool there = false;
  double distance = 1.0, value = 0.0;
};

Neighbour neighbour(const LatticeProblem& p,
                    const double* values,
                    std::ptrdiff_t node,
                    Direction d) {
  if (const LinkEnd* end = p.end(node, d)) return {true, static_cast<double>(end->distance), 0.0};
  const std::ptrdiff_t next = node + p.lattice.step(d);
  if (!p.has(next)) return {};
  return {true, 1.0, values[next]};
}

/// d2/dxdy from the four nodes across the corners; 0 if one is missing.
double mixed(const LatticeProblem& p, const double* values, std::ptrdiff_t node, int a, int b) {
  const std::ptrdiff_t x = p.lattice.step(direction(a, true));
  const std::ptrdiff_t y = p.lattice.step(direction(b, true));
  const std::array<std::ptrdiff_t, 4> corners = {
      node + x + y, node - x - y, node + x - y, node - x + y};
  if (!std::all_of(corners.begin(), corners.end(), [&](std::ptrdiff_t n) { return p.has(n); })) {
    return 0.0;
  }
  return 0.25 * (values[corners[0]] + values[corners[1]] - values[corners[2]] - values[corners[3]]);
}

}  // namespace

Peak peak_near(const LatticeProblem& problem,
               const double* values,
               const float* filled,
               std::ptrdiff_t node) {
  const double middle = values[node];
  const double to_face = std::clamp(static_cast<double>(filled[node]) - 0.5, 0.0, 0.5);
  Eigen::Vector3d slope = Eigen::Vector3d::Zero();
  Eigen::Matrix3d bend = Eigen::Matrix3d::Zero();
  for (int axis = 0; axis < 3; ++axis) {
    const Neighbour back = neighbour(problem, values, node, direction(axis, false));
    const Neighbour on = neighbour(problem, values, node, direction(axis, true));
    if (back.there && on.there) {
      const double below = (middle - back.value) / back.distance;
      const double above = (on.value - middle) / on.distance;
      const double whole = back.distance + on.distance;
      slope(axis) = (below * on.distance + above * back.distance) / whole;
      bend(axis, axis) = 2.0 * (above - below) / whole;
    } else if (back.there || on.there) {
      // value + a ((x - face)^2 - face^2), x towards the face
      const Neighbour& inner = back.there ? back : on;
      const double a = (inner.value - middle) / (inner.distance * (inner.distance + 2.0 * to_face));
      slope(axis) = (back.there ? -2.0 : 2.0) * a * to_face;
      bend(axis, axis) = 2.0 * a;
    }
  }
  for (int a = 0; a < 3; ++a) {
    for (int b = 0; b < a; ++b) bend(a, b) = bend(b, a) = mixed(problem, values, node, a, b);
  }
  // Only along those principal directions in which the field bends down.
  constexpr double level = 1e-4;  // of the sharpest bend
  const Eigen::SelfAdjointEigenSolver<Eigen::Matrix3d> principal{bend};
  const double sharpest = principal.eigenvalues().cwiseAbs().maxCoeff();
  Peak peak{middle, Eigen::Vector3d::Zero()};
  for (int i = 0; i < 3; ++i) {
    const double down = -principal.eigenvalues()(i);
    if (!(down > level * sharpest)) continue;
    const Eigen::Vector3d way = principal.eigenvectors().col(i);
    const double rise = way.dot(slope);
    const double step = std::clamp(rise / down, -1.0, 1.0);
    peak.value += rise * step - 0.5 * down * step * step;
    peak.from_node += step * way;
  }
  return peak;
}

}  // namespace thickset
