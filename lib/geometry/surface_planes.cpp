#include "geometry/surface_planes.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "numerics/as_index.h"

namespace thickset {
namespace {

// Cells filled less than this stay without an unknown.
constexpr double least_filled_cell = 1e-4;
// Planes whose normals differ by less (cosine) are one surface, seen from several links.
constexpr double same_surface = 0.8;

/// Shares of several planes multiply: exact for planes along the axes, at right angles.
CutCell cut_by_both(const CutCell& a, const CutCell& b) {
  CutCell both = a;
  for (std::size_t axis = 0; axis < 3; ++axis) {
    for (std::size_t side = 0; side < 2; ++side) both.open[axis][side] *= b.open[axis][side];
  }
  both.filled *= b.filled;
  return both;
}

bool same(double a, double b) {
  return a == b || std::abs(a - b) <= 1e-6 * std::abs(a);
}

bool same_wall(const SurfacePlanes::Surface& a, const SurfacePlanes::Surface& b) {
  return same(a.wall_length, b.wall_length) && same(a.level, b.level) && same(a.heat, b.heat);
}

}  // namespace

void SurfacePlanes::add(std::ptrdiff_t node,
                        Direction towards,
                        double distance,
                        const Surface& surface) {
  const double on_axis = surface.normal(axis_of(towards));
  const double along = is_on(towards) ? on_axis : -on_axis;
  const auto inside = static_cast<std::int32_t>(node);
  const std::ptrdiff_t beyond = node + problem_.lattice.step(towards);
  seen_.push_back({inside, inside, surface, along * distance});
  if (!problem_.has(beyond)) {
    seen_.push_back({static_cast<std::int32_t>(beyond), inside, surface, along * (distance - 1.0)});
  }
}

void SurfacePlanes::apply() {
  if (seen_.empty()) return;
  problem_.give_faces();
  make_cells();
  take_outside_nodes();
  problem_.put_in_order();
  weigh_ends();
  copy_ends();
  problem_.put_in_order();
  set_faces();
  set_sinks();
}

void SurfacePlanes::make_cells() {
  std::stable_sort(
      seen_.begin(), seen_.end(), [](const Seen& a, const Seen& b) { return a.node < b.node; });
  for (std::size_t first = 0; first < seen_.size();) {
    std::size_t last = first;
    while (last < seen_.size() && seen_[last].node == seen_[first].node) ++last;
    cells_.push_back(merged(first, last));
    first = last;
  }
}

SurfacePlanes::Cell SurfacePlanes::merged(std::size_t first, std::size_t last) const {
  Cell cell{seen_[first].node, {}, {}, {}};
  std::vector<int> counts;
  for (std::size_t s = first; s < last; ++s) {
    const Seen& seen = seen_[s];
    cell.insides.push_back(seen.inside);
    const auto same = std::find_if(cell.planes.begin(), cell.planes.end(), [&](const Plane& p) {
      return p.surface.normal.normalized().dot(seen.surface.normal) > same_surface &&
             same_wall(p.surface, seen.surface);
    });
    if (same == cell.planes.end()) {
      cell.planes.push_back({seen.surface, seen.offset});
      counts.push_back(1);
    } else {
      same->surface.normal += seen.surface.normal;
      same->offset += seen.offset;
      ++counts[as_index(same - cell.planes.begin())];
    }
  }
  for (std::size_t p = 0; p < cell.planes.size(); ++p) {
    Plane& plane = cell.planes[p];
    plane.offset /= counts[p];
    plane.surface.normal.normalize();
    const CutCell cut = cut_cell(plane.surface.normal, plane.offset);
    cell.cut = p == 0 ? cut : cut_by_both(cell.cut, cut);
  }
  return cell;
}

const SurfacePlanes::Cell* SurfacePlanes::cell(std::ptrdiff_t node) const {
  const auto found =
      std::lower_bound(cells_.begin(), cells_.end(), node, [](const Cell& c, std::ptrdiff_t n) {
        return c.node < n;
      });
  return found != cells_.end() && found->node == node ? &*found : nullptr;
}

void SurfacePlanes::take_outside_nodes() {
  for (const Cell& cell : cells_) {
    const auto node = as_index(cell.node);
    if (!problem_.has(cell.node)) {
      if (cell.cut.filled < least_filled_cell || problem_.lattice.is_outermost(cell.node)) continue;
      problem_.state[node] = LatticeProblem::inside;
      newcomers_.push_back(cell.node);
    }
    filled_[node] = static_cast<float>(cell.cut.filled);
  }
}

/// Share of the face between a node and its neighbour, as far as planes cut it.
double SurfacePlanes::open(std::ptrdiff_t node, Direction towards) const {
  const auto axis = as_index(axis_of(towards));
  const auto side = as_index(is_on(towards) ? 1 : 0);
  const Cell* const here = cell(node);
  const Cell* const there = cell(node + problem_.lattice.step(towards));
  if (here != nullptr && there != nullptr) {
    return 0.5 * (here->cut.open[axis][side] + there->cut.open[axis][1 - side]);
  }
  if (here != nullptr) return here->cut.open[axis][side];
  return there != nullptr ? there->cut.open[axis][1 - side] : 1.0;
}

void SurfacePlanes::weigh_ends() {
  for (LinkEnd& end : problem_.ends) {
    const Cell* const here = cell(end.node);
    if (here == nullptr) continue;
    const auto side = as_index(is_on(end.towards) ? 1 : 0);
    end.weight = static_cast<float>(here->cut.open[as_index(axis_of(end.towards))][side]);
  }
}

/// A node outside ends where the inside node that it hangs on ends: both share the surface.
void SurfacePlanes::copy_ends() {
  std::vector<LinkEnd> copies;
  for (const std::int32_t node : newcomers_) {
    const Cell* const here = cell(node);
    for (const Direction d : directions) {
      if (problem_.has(node + problem_.lattice.step(d))) continue;
      const LinkEnd* const end = problem_.end(here->insides.front(), d);
      const double share = here->cut.open[as_index(axis_of(d))][as_index(is_on(d) ? 1 : 0)];
      if (end != nullptr) {
        LinkEnd copy = *end;
        copy.node = node;
        copy.weight = static_cast<float>(share);
        copies.push_back(copy);
      }
    }
  }
  problem_.ends.insert(problem_.ends.end(), copies.begin(), copies.end());
}

void SurfacePlanes::set_faces() {
  for (const Cell& cut : cells_) {
    if (!problem_.has(cut.node)) continue;
    for (const Direction d : directions) {
      const std::ptrdiff_t lower = is_on(d) ? cut.node : cut.node + problem_.lattice.step(d);
      float& face = problem_.faces[as_index(axis_of(d))][as_index(lower)];
      if (face > 0.0F) face = static_cast<float>(open(cut.node, d));
    }
  }
  for (const LinkEnd& end : problem_.ends) {  // nothing beyond an end
    const std::ptrdiff_t lower =
        is_on(end.towards) ? end.node : end.node + problem_.lattice.step(end.towards);
    problem_.faces[as_index(axis_of(end.towards))][as_index(lower)] = 0.0F;
  }
}

/// What of a face something passes through.
double SurfacePlanes::passage(std::ptrdiff_t node, Direction towards) const {
  if (const LinkEnd* end = problem_.end(node, towards)) return static_cast<double>(end->weight);
  const bool linked = problem_.has(node + problem_.lattice.step(towards));
  return linked ? static_cast<double>(problem_.link(node, towards)) : 0.0;
}

/// The area of a wall in a cell is what its faces lack to be closed, so that a field of constant
/// slope leaves each cell as it enters it.
void SurfacePlanes::add_sink(std::int32_t node, const Plane& plane) {
  const Surface& surface = plane.surface;
  if (!std::isfinite(surface.wall_length)) return;
  Eigen::Vector3d lacking;
  for (int axis = 0; axis < 3; ++axis) {
    lacking(axis) = passage(node, direction(axis, false)) - passage(node, direction(axis, true));
  }
  const double area = lacking.dot(surface.normal);
  if (!(area > 0.0)) return;
  // straight line from the node to the surface, then through the wall
  const double strength = area / (surface.wall_length + plane.offset);
  problem_.sinks.push_back({node,
                            static_cast<float>(strength),
                            static_cast<float>(surface.level),
                            static_cast<float>(area * surface.heat)});
}

void SurfacePlanes::set_sinks() {
  std::vector<std::pair<std::int32_t, const Cell*>>
      beside;  // whole cells, one face of which is cut
  for (const Cell& cut : cells_) {
    if (!problem_.has(cut.node)) continue;
    for (const Plane& plane : cut.planes) add_sink(cut.node, plane);
    for (const Direction d : directions) {
      const std::ptrdiff_t next = cut.node + problem_.lattice.step(d);
      if (problem_.has(next) && cell(next) == nullptr) {
        beside.emplace_back(static_cast<std::int32_t>(next), &cut);
      }
    }
  }
  std::sort(beside.begin(), beside.end());
  for (std::size_t b = 0; b < beside.size(); ++b) {
    if (b > 0 && beside[b].first == beside[b - 1].first) continue;
    const auto [node, cut] = beside[b];
    const std::array<int, 3> to = problem_.lattice.place(node);
    const std::array<int, 3> from = problem_.lattice.place(cut->node);
    const Eigen::Vector3d way(to[0] - from[0], to[1] - from[1], to[2] - from[2]);
    for (Plane plane : cut->planes) {
      plane.offset -= plane.surface.normal.dot(way);
      add_sink(node, plane);
    }
  }
}

}  // namespace thickset
