#include "numerics/uneven_ends.h"

namespace thickset {
namespace {

/// Half of the second difference's length that a link stands for, in spacings: 1/2 to a neighbour.
/// To an end after t of solid and a wall, together D, a parabola of bend s through node and surface
/// passes (u + s t^2 / 2) / D out of s t of solid: u / D is s (t - t^2 / (2 D)).
double half_length(const LinkEnd* end) {
  if (end == nullptr) return 0.5;
  const double t = static_cast<double>(end->within);
  const double D = static_cast<double>(end->distance);
  return t - t * t / (2.0 * D);
}

double passes(const LatticeProblem& p, const double* u, std::ptrdiff_t node, Direction d) {
  if (const LinkEnd* end = p.end(node, d)) {
    return static_cast<double>(end->weight) * (u[node] - static_cast<double>(end->level)) /
           static_cast<double>(end->distance);
  }
  const std::ptrdiff_t next = node + p.lattice.step(d);
  return p.has(next) ? static_cast<double>(p.link(node, d)) * (u[node] - u[next]) : 0.0;
}

}  // namespace

void change_at_ends(const LatticeProblem& problem, const double* u, float* change) {
  std::ptrdiff_t before = -1;
  for (const LinkEnd& some_end : problem.ends) {
    const std::ptrdiff_t node = some_end.node;
    if (node == before) continue;
    before = node;
    double too_much = 0.0;
    for (int axis = 0; axis < 3; ++axis) {
      double length = 0.0;
      double passing = 0.0;
      for (const bool on : {false, true}) {
        const Direction d = direction(axis, on);
        length += half_length(problem.end(node, d));
        passing += passes(problem, u, node, d);
      }
      too_much += (1.0 - length) * passing;
    }
    change[node] = static_cast<float>(-too_much);
  }
}

}  // namespace thickset
