#pragma once

#include "geometry/triangle_mesh.h"

#include <array>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <vector>

#include <Eigen/Core>

namespace thickset {

/// The triangles of a mesh in nested boxes, to find those near a point or on a line. All places and
/// distances are in lattice steps from the origin of the mesh.
///
/// Each box is halved at the middle triangle along its longest side, so that the depth is the
/// logarithm of the number of triangles, however they lie.
class MeshTree {
 public:
  /// In: a mesh with at least one triangle, none without area.
  explicit MeshTree(const TriangleMesh& mesh);

  struct Nearest {
    int triangle;
    Eigen::Vector3d point;
    double distance;
    std::int64_t looked_at;  ///< boxes, for those who limit their work
  };
  /// The point of the surface nearest to `place`. `guess` is a triangle likely to be near.
  Nearest nearest(const Eigen::Vector3d& place, int guess) const;

  struct Hit {
    int triangle;
    double distance;
  };
  /// The first triangle ahead of `place` in a direction of length 1. Not exact: a line through an
  /// edge may miss both triangles.
  std::optional<Hit> first_ahead(const Eigen::Vector3d& place,
                                 const Eigen::Vector3d& direction) const;

  /// Calls visit(triangle) for the triangles of the boxes for which meets(low, high) is true all
  /// the way down, until it returns false.
  template <class Meets, class Visit>
  void for_each_where(Meets&& meets, Visit&& visit) const;

  /// Calls visit(a, b) for pairs of triangles in leaves whose boxes overlap, each pair once, always
  /// in the same order, until it returns false.
  template <class Visit>
  void for_each_near_pair(Visit&& visit) const;

  double distance(const Eigen::Vector3d& place, int triangle) const;

  struct Corners {
    Eigen::Vector3d a, b, c;
    bool thin;  ///< so narrow that its sides alone stand for it
  };
  const Corners& corners(int triangle) const {
    return corners_[static_cast<std::size_t>(triangle)];
  }

 private:
  struct Box {
    Eigen::Vector3d low, high;
  };
  struct Node {
    Box box;
    int first, last;  ///< of order_
    int right;        ///< the second half; the first is the next node. 0 in a leaf
  };
  static constexpr int leaf_size = 4;
  static constexpr std::size_t deepest = 64;

  Box box_of(int triangle) const;
  int build(int first, int last);
  Eigen::Vector3d nearest_in(const Corners& corners, const Eigen::Vector3d& place) const;

  std::vector<Corners> corners_;  ///< by number of triangle
  std::vector<int> order_;
  std::vector<Node> nodes_;
};

template <class Meets, class Visit>
void MeshTree::for_each_where(Meets&& meets, Visit&& visit) const {
  std::array<int, deepest> waiting;
  std::size_t n_waiting = 0;
  waiting[n_waiting++] = 0;
  while (n_waiting > 0) {
    const int at = waiting[--n_waiting];
    const Node& node = nodes_[static_cast<std::size_t>(at)];
    if (!meets(node.box.low, node.box.high)) continue;
    if (node.right != 0) {
      waiting[n_waiting++] = node.right;
      waiting[n_waiting++] = at + 1;
      continue;
    }
    for (int i = node.first; i < node.last; ++i) {
      if (!visit(order_[static_cast<std::size_t>(i)])) return;
    }
  }
}

template <class Visit>
void MeshTree::for_each_near_pair(Visit&& visit) const {
  const auto overlap = [](const Box& a, const Box& b) {
    return (a.low.array() <= b.high.array()).all() && (b.low.array() <= a.high.array()).all();
  };
  struct Pair {
    int a, b;
  };
  std::vector<Pair> waiting{{0, 0}};
  while (!waiting.empty()) {
    const auto [a, b] = waiting.back();
    waiting.pop_back();
    const Node& first = nodes_[static_cast<std::size_t>(a)];
    const Node& second = nodes_[static_cast<std::size_t>(b)];
    if (a != b && !overlap(first.box, second.box)) continue;
    if (a == b && first.right != 0) {
      waiting.push_back({first.right, first.right});
      waiting.push_back({a + 1, first.right});
      waiting.push_back({a + 1, a + 1});
      continue;
    }
    const bool halve_first =
        first.right != 0 &&
        (second.right == 0 || first.last - first.first >= second.last - second.first);
    if (a != b && halve_first) {
      waiting.push_back({first.right, b});
      waiting.push_back({a + 1, b});
      continue;
    }
    if (a != b && second.right != 0) {
      waiting.push_back({a, second.right});
      waiting.push_back({a, b + 1});
      continue;
    }
    for (int i = first.first; i < first.last; ++i) {
      for (int k = a == b ? i + 1 : second.first; k < second.last; ++k) {
        if (!visit(order_[static_cast<std::size_t>(i)], order_[static_cast<std::size_t>(k)])) {
          return;
        }
      }
    }
  }
}

}  // namespace thickset
