#include "geometry/mesh_tree.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <limits>
#include <numeric>

#include <Eigen/Geometry>

#include "numerics/as_index.h"

namespace thickset {
namespace {

constexpr double infinite = std::numeric_limits<double>::infinity();

double squared_distance(const Eigen::Vector3d& low,
                        const Eigen::Vector3d& high,
                        const Eigen::Vector3d& place) {
  return (low - place).cwiseMax(place - high).cwiseMax(0.0).squaredNorm();
}

/// Where the line from `place` along 1 / inverse enters a box; infinite where it does not.
double entry(const Eigen::Vector3d& low,
             const Eigen::Vector3d& high,
             const Eigen::Vector3d& place,
             const Eigen::Vector3d& inverse) {
  double enters = 0.0;
  double leaves = infinite;
  for (int axis = 0; axis < 3; ++axis) {
    const double one = (low[axis] - place[axis]) * inverse[axis];
    const double two = (high[axis] - place[axis]) * inverse[axis];
    // 0 times infinity is NaN: std::max and std::min with it second keep what they had.
    enters = std::max(enters, std::min(one, two));
    leaves = std::min(leaves, std::max(one, two));
  }
  return enters <= leaves ? enters : infinite;
}

Eigen::Vector3d nearest_on_side(const Eigen::Vector3d& from,
                                const Eigen::Vector3d& to,
                                const Eigen::Vector3d& place) {
  const Eigen::Vector3d along = to - from;
  const double part = (place - from).dot(along) / along.squaredNorm();
  return from + std::clamp(part, 0.0, 1.0) * along;
}

}  // namespace

MeshTree::MeshTree(const TriangleMesh& mesh) : order_(mesh.triangles.size()) {
  assert(!mesh.triangles.empty());
  corners_.reserve(mesh.triangles.size());
  for (const TriangleMesh::Triangle& triangle : mesh.triangles) {
    const Eigen::Vector3d a = mesh.steps(triangle[0]);
    const Eigen::Vector3d b = mesh.steps(triangle[1]);
    const Eigen::Vector3d c = mesh.steps(triangle[2]);
    const double longest =
        std::sqrt(std::max({(b - a).squaredNorm(), (c - b).squaredNorm(), (a - c).squaredNorm()}));
    const double height = (b - a).cross(c - a).norm() / longest;
    corners_.push_back({a, b, c, height < negligible_of_side * longest});
  }
  std::iota(order_.begin(), order_.end(), 0);
  nodes_.reserve(mesh.triangles.size());
  build(0, static_cast<int>(order_.size()));
}

MeshTree::Box MeshTree::box_of(int triangle) const {
  const Corners& t = corners_[as_index(triangle)];
  return {t.a.cwiseMin(t.b).cwiseMin(t.c), t.a.cwiseMax(t.b).cwiseMax(t.c)};
}

int MeshTree::build(int first, int last) {
  Box box = box_of(order_[as_index(first)]);
  Eigen::Vector3d low = Eigen::Vector3d::Constant(infinite);
  Eigen::Vector3d high = -low;
  const auto middle_of = [&](int triangle) -> Eigen::Vector3d {
    const Corners& t = corners_[as_index(triangle)];
    return t.a + t.b + t.c;
  };
  for (int i = first; i < last; ++i) {
    const Box one = box_of(order_[as_index(i)]);
    box.low = box.low.cwiseMin(one.low);
    box.high = box.high.cwiseMax(one.high);
    low = low.cwiseMin(middle_of(order_[as_index(i)]));
    high = high.cwiseMax(middle_of(order_[as_index(i)]));
  }
  const int node = static_cast<int>(nodes_.size());
  nodes_.push_back({box, first, last, 0});
  if (last - first <= leaf_size) return node;

  int axis = 0;
  (high - low).maxCoeff(&axis);
  const int middle = first + (last - first) / 2;
  std::nth_element(
      order_.begin() + first, order_.begin() + middle, order_.begin() + last, [&](int a, int b) {
        const double at_a = middle_of(a)[axis];
        const double at_b = middle_of(b)[axis];
        return at_a != at_b ? at_a < at_b : a < b;
      });
  build(first, middle);
  const int right = build(middle, last);
  nodes_[as_index(node)].right = right;
  return node;
}

// The region of a point's nearest place: a corner, a side or the inside. [ERI05] section 5.1.5.
Eigen::Vector3d MeshTree::nearest_in(const Corners& t, const Eigen::Vector3d& place) const {
  if (t.thin) {
    Eigen::Vector3d best = nearest_on_side(t.a, t.b, place);
    for (const Eigen::Vector3d& other :
         {nearest_on_side(t.b, t.c, place), nearest_on_side(t.c, t.a, place)}) {
      if ((other - place).squaredNorm() < (best - place).squaredNorm()) best = other;
    }
    return best;
  }
  const Eigen::Vector3d ab = t.b - t.a;
  const Eigen::Vector3d ac = t.c - t.a;
  const Eigen::Vector3d ap = place - t.a;
  const double d1 = ab.dot(ap);
  const double d2 = ac.dot(ap);
  if (d1 <= 0.0 && d2 <= 0.0) return t.a;
  const Eigen::Vector3d bp = place - t.b;
  const double d3 = ab.dot(bp);
  const double d4 = ac.dot(bp);
  if (d3 >= 0.0 && d4 <= d3) return t.b;
  const double vc = d1 * d4 - d3 * d2;
  if (vc <= 0.0 && d1 >= 0.0 && d3 <= 0.0) return t.a + d1 / (d1 - d3) * ab;
  const Eigen::Vector3d cp = place - t.c;
  const double d5 = ab.dot(cp);
  const double d6 = ac.dot(cp);
  if (d6 >= 0.0 && d5 <= d6) return t.c;
  const double vb = d5 * d2 - d1 * d6;
  if (vb <= 0.0 && d2 >= 0.0 && d6 <= 0.0) return t.a + d2 / (d2 - d6) * ac;
  const double va = d3 * d6 - d5 * d4;
  if (va <= 0.0 && d4 >= d3 && d5 >= d6) {
    return t.b + (d4 - d3) / ((d4 - d3) + (d5 - d6)) * (t.c - t.b);
  }
  const double sum = va + vb + vc;
  return t.a + vb / sum * ab + vc / sum * ac;
}

double MeshTree::distance(const Eigen::Vector3d& place, int triangle) const {
  return (nearest_in(corners_[as_index(triangle)], place) - place).norm();
}

MeshTree::Nearest MeshTree::nearest(const Eigen::Vector3d& place, int guess) const {
  Eigen::Vector3d best = nearest_in(corners_[as_index(guess)], place);
  double best_squared = (best - place).squaredNorm();
  int best_triangle = guess;
  std::int64_t looked_at = 0;

  struct Waiting {
    int node;
    double squared;
  };
  std::array<Waiting, deepest> waiting;
  std::size_t n_waiting = 0;
  const auto squared_to = [&](int node) {
    const Box& box = nodes_[as_index(node)].box;
    return squared_distance(box.low, box.high, place);
  };
  waiting[n_waiting++] = {0, squared_to(0)};
  while (n_waiting > 0) {
    const auto [at, squared] = waiting[--n_waiting];
    if (squared >= best_squared) continue;
    ++looked_at;
    const Node& node = nodes_[as_index(at)];
    if (node.right != 0) {
      Waiting near{at + 1, squared_to(at + 1)};
      Waiting far{node.right, squared_to(node.right)};
      if (far.squared < near.squared) std::swap(near, far);
      if (far.squared < best_squared) waiting[n_waiting++] = far;
      waiting[n_waiting++] = near;
      continue;
    }
    for (int i = node.first; i < node.last; ++i) {
      const int triangle = order_[as_index(i)];
      const Eigen::Vector3d point = nearest_in(corners_[as_index(triangle)], place);
      const double to_point = (point - place).squaredNorm();
      if (to_point < best_squared) {
        best = point;
        best_squared = to_point;
        best_triangle = triangle;
      }
    }
  }
  return {best_triangle, best, std::sqrt(best_squared), looked_at};
}

// Where a line meets a triangle: its coordinates there and the distance from three products.
// [MT97].
std::optional<MeshTree::Hit> MeshTree::first_ahead(const Eigen::Vector3d& place,
                                                   const Eigen::Vector3d& direction) const {
  const Eigen::Vector3d inverse = direction.cwiseInverse();
  Hit best{-1, infinite};
  std::array<int, deepest> waiting;
  std::size_t n_waiting = 0;
  waiting[n_waiting++] = 0;
  const auto entry_of = [&](int node) {
    const Box& box = nodes_[as_index(node)].box;
    return entry(box.low, box.high, place, inverse);
  };
  while (n_waiting > 0) {
    const int at = waiting[--n_waiting];
    if (!(entry_of(at) < best.distance)) continue;
    const Node& node = nodes_[as_index(at)];
    if (node.right != 0) {
      const bool left_first = entry_of(at + 1) <= entry_of(node.right);
      waiting[n_waiting++] = left_first ? node.right : at + 1;
      waiting[n_waiting++] = left_first ? at + 1 : node.right;
      continue;
    }
    for (int i = node.first; i < node.last; ++i) {
      const int triangle = order_[as_index(i)];
      const Corners& t = corners_[as_index(triangle)];
      const Eigen::Vector3d ab = t.b - t.a;
      const Eigen::Vector3d ac = t.c - t.a;
      const Eigen::Vector3d p = direction.cross(ac);
      const double determinant = p.dot(ab);
      if (determinant == 0.0) continue;
      const Eigen::Vector3d from_a = place - t.a;
      const double u = p.dot(from_a) / determinant;
      const Eigen::Vector3d q = from_a.cross(ab);
      const double v = q.dot(direction) / determinant;
      if (!(u >= 0.0 && v >= 0.0 && u + v <= 1.0)) continue;
      const double ahead = q.dot(ac) / determinant;
      if (ahead > 0.0 && ahead < best.distance) best = {triangle, ahead};
    }
  }
  if (best.triangle < 0) return std::nullopt;
  return best;
}

}  // namespace thickset
