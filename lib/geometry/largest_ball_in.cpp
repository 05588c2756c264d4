#include "geometry/largest_ball_in.h"

#include "geometry/chords.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <numbers>
#include <queue>
#include <vector>

#include <fmt/format.h>

namespace thickset {
namespace {

/// A cube, in steps.
struct Cube {
  Eigen::Vector3d middle;
  double half_side;
  double at_most;      ///< no ball about a place in it is larger
  int near;            ///< a triangle near its middle
  bool wholly_inside;  ///< the surface does not pass through it
  std::int64_t number;
};

struct Later {
  bool operator()(const Cube& a, const Cube& b) const {
    return a.at_most != b.at_most ? a.at_most < b.at_most : a.number > b.number;
  }
};

class Search {
 public:
  Search(const MeshRegion& region, double accuracy, std::int64_t most_work)
      : region_{region}, tree_{region.tree()}, accuracy_{accuracy}, work_left_{most_work} {}

  LargestBall run(const Progress& progress) {
    constexpr std::int64_t between_words = 1'000'000;  // of work: some fiftieth of a second
    std::int64_t speak_at = work_left_ - between_words;
    // Where many are as large, the one in the middle is the one to show.
    const TriangleMesh& mesh = region_.mesh();
    const Eigen::Vector3d middle = (measure(mesh).centroid_m - mesh.origin_m) / mesh.step_m;
    if (region_.holds(middle)) take_if_larger(middle, nearest(middle, 0).distance);
    add_first_cubes();
    while (!cubes_.empty() && cubes_.top().at_most > good_enough() && work_left_ > 0) {
      const Cube cube = cubes_.top();
      cubes_.pop();
      if (progress && work_left_ < speak_at) {
        speak_at = work_left_ - between_words;
        const double to_mm = 2e3 * mesh.step_m;
        progress(fmt::format("looking for the largest ball that fits: {:.4g} to {:.4g} mm",
                             to_mm * radius_,
                             to_mm * cube.at_most));
      }
      for (int corner = 0; corner < 8; ++corner) {
        add({cube.middle + 0.5 * cube.half_side * towards(corner),
             0.5 * cube.half_side,
             cube.at_most,
             cube.near,
             cube.wholly_inside,
             0});
      }
    }
    const double at_most =
        cubes_.empty() ? good_enough() : std::max(good_enough(), cubes_.top().at_most);
    return {mesh.origin_m + mesh.step_m * centre_, mesh.step_m * radius_, mesh.step_m * at_most};
  }

 private:
  static Eigen::Vector3d towards(int corner) {
    return {(corner & 1) != 0 ? 1.0 : -1.0,
            (corner & 2) != 0 ? 1.0 : -1.0,
            (corner & 4) != 0 ? 1.0 : -1.0};
  }

  /// Cubes with larger bounds than this are worth dividing.
  double good_enough() const { return radius_ * (1.0 + accuracy_); }

  /// The box of the mesh in cubes as wide as its shortest side, or in 4096 of them.
  void add_first_cubes() {
    const TriangleMesh& mesh = region_.mesh();
    const Region::Box box = region_.bounds_m();
    const Eigen::Vector3d low = (box.low_m - mesh.origin_m) / mesh.step_m;
    const Eigen::Vector3d sides = (box.high_m - box.low_m) / mesh.step_m;
    const double side = std::max(sides.minCoeff(), sides.maxCoeff() / 16.0);
    const Eigen::Vector3d counts = (sides / side * (1.0 - 1e-9)).array().ceil().max(1.0);
    const Eigen::Vector3d first = low + 0.5 * sides - 0.5 * side * (counts.array() - 1.0).matrix();
    for (double x = 0.0; x < counts.x(); ++x) {
      for (double y = 0.0; y < counts.y(); ++y) {
        for (double z = 0.0; z < counts.z(); ++z) {
          const double no_bound = sides.maxCoeff();
          add({first + side * Eigen::Vector3d{x, y, z}, 0.5 * side, no_bound, 0, false, 0});
        }
      }
    }
  }

  MeshTree::Nearest nearest(const Eigen::Vector3d& place, int guess) {
    const MeshTree::Nearest found = tree_.nearest(place, guess);
    work_left_ -= found.looked_at + 10;
    return found;
  }

  void take_if_larger(const Eigen::Vector3d& centre, double radius) {
    if (radius <= radius_) return;
    centre_ = centre;
    radius_ = radius;
  }

  /// Bounds the balls about places in the cube and keeps it where they may be larger than the best.
  void add(Cube cube) {
    const double half_diagonal = std::numbers::sqrt3 * cube.half_side;
    const MeshTree::Nearest near = nearest(cube.middle, cube.near);
    const bool inside = cube.wholly_inside || region_.holds(cube.middle);
    cube.near = near.triangle;
    if (!inside) {
      // On the way in from the middle the surface is crossed first.
      cube.at_most = std::min(cube.at_most, half_diagonal - near.distance);
    } else {
      take_if_larger(cube.middle, near.distance);
      cube.at_most = std::min(cube.at_most, half_diagonal + near.distance);
      cube.wholly_inside = near.distance > half_diagonal;
      if (cube.at_most > good_enough() && near.distance > 0.0) bound_across(cube, near);
    }
    if (!(cube.at_most > good_enough())) return;
    cube.number = next_number_++;
    cubes_.push(cube);
  }

  /// Two triangles on opposite sides of the middle: a ball is held by the nearer of them, hence by
  /// the mean of both distances. The mean is convex, so its largest value is at a corner.
  void bound_across(Cube& cube, const MeshTree::Nearest& near) {
    const Eigen::Vector3d away = (cube.middle - near.point) / near.distance;
    const auto across = tree_.first_ahead(cube.middle, away);
    work_left_ -= 20;
    if (!across) return;
    double largest = 0.0;
    for (int corner = 0; corner < 8; ++corner) {
      const Eigen::Vector3d place = cube.middle + cube.half_side * towards(corner);
      largest = std::max(
          largest,
          0.5 * (tree_.distance(place, near.triangle) + tree_.distance(place, across->triangle)));
    }
    cube.at_most = std::min(cube.at_most, largest);
    if (cube.wholly_inside && cube.at_most > good_enough()) {
      const HalfChord chord = longest_half_chord(tree_,
                                                 {cube.middle,
                                                  away,
                                                  across->distance,
                                                  near.distance,
                                                  std::numbers::sqrt3 * cube.half_side});
      work_left_ -= chord.looked_at;
      cube.at_most = std::min(cube.at_most, chord.at_most);
    }
    // Midway between the two there is often a larger ball.
    const double half_way = 0.5 * (near.distance + across->distance);
    if (half_way <= good_enough()) return;
    const Eigen::Vector3d middle = near.point + half_way * away;
    if (!region_.holds(middle)) return;
    take_if_larger(middle, nearest(middle, near.triangle).distance);
  }

  const MeshRegion& region_;
  const MeshTree& tree_;
  double accuracy_;
  std::int64_t work_left_;
  std::int64_t next_number_ = 0;
  std::priority_queue<Cube, std::vector<Cube>, Later> cubes_;
  Eigen::Vector3d centre_ = Eigen::Vector3d::Zero();
  double radius_ = 0.0;
};

}  // namespace

LargestBall largest_ball_in(const MeshRegion& region,
                            double accuracy,
                            std::int64_t most_work,
                            const Progress& progress) {
  assert(accuracy > 0.0);
  return Search{region, accuracy, most_work}.run(progress);
}

}  // namespace thickset
