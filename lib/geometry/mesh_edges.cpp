#include "geometry/mesh_edges.h"

#include "base/error.h"
#include "geometry/solid_size.h"
#include "numerics/as_index.h"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <map>
#include <numeric>
#include <unordered_map>
#include <utility>

#include <fmt/format.h>

namespace thickset {
namespace {

struct Ends {
  int from, to;
};

Ends ends(const TriangleMesh& mesh, int side) {
  const TriangleMesh::Triangle& triangle = mesh.triangles[as_index(side / 3)];
  return {triangle[as_index(side % 3)], triangle[as_index((side + 1) % 3)]};
}

/// A side under the key of its edge: the smaller vertex, then the larger.
struct KeyedSide {
  std::uint64_t edge;
  int side;
  bool operator<(const KeyedSide& other) const {
    return edge != other.edge ? edge < other.edge : side < other.side;
  }
};

std::vector<KeyedSide> sorted_sides(const TriangleMesh& mesh) {
  std::vector<KeyedSide> sides;
  sides.reserve(3 * mesh.triangles.size());
  const int n_sides = static_cast<int>(3 * mesh.triangles.size());
  for (int side = 0; side < n_sides; ++side) {
    const Ends edge = ends(mesh, side);
    const auto [low, high] = std::minmax(edge.from, edge.to);
    sides.push_back(
        {static_cast<std::uint64_t>(low) << 32 | static_cast<std::uint64_t>(high), side});
  }
  std::sort(sides.begin(), sides.end());
  return sides;
}

/// Calls visit(first, last) for the sides of each edge.
template <class Visit>
void for_each_edge(const std::vector<KeyedSide>& sides, Visit&& visit) {
  for (auto first = sides.begin(); first != sides.end();) {
    auto last = first;
    while (last != sides.end() && last->edge == first->edge) ++last;
    visit(first, last);
    first = last;
  }
}

std::vector<int> open_sides(const std::vector<KeyedSide>& sides) {
  std::vector<int> open;
  for_each_edge(sides, [&](auto first, auto last) {
    if (last - first == 1) open.push_back(first->side);
  });
  return open;
}

/// The representative of each number in a set of joined ones.
class JoinedNumbers {
 public:
  explicit JoinedNumbers(std::size_t count) : parent_(count) {
    std::iota(parent_.begin(), parent_.end(), 0);
  }
  int root(int number) {
    while (parent_[as_index(number)] != number) {
      parent_[as_index(number)] = parent_[as_index(parent_[as_index(number)])];
      number = parent_[as_index(number)];
    }
    return number;
  }
  void join(int a, int b) { parent_[as_index(root(a))] = root(b); }

 private:
  std::vector<int> parent_;
};

struct Rim {
  double length_steps = 0.0;
  Eigen::Vector3d low = Eigen::Vector3d::Constant(INFINITY);
  Eigen::Vector3d high = Eigen::Vector3d::Constant(-INFINITY);
};

Error open_surface(const TriangleMesh& mesh,
                   const std::vector<int>& open,
                   Lengths unit,
                   const Place& place) {
  JoinedNumbers joined{mesh.vertices.size()};
  for (const int side : open) joined.join(ends(mesh, side).from, ends(mesh, side).to);
  std::map<int, Rim> rims;
  for (const int side : open) {
    const Eigen::Vector3d from = mesh.steps(ends(mesh, side).from);
    const Eigen::Vector3d to = mesh.steps(ends(mesh, side).to);
    Rim& rim = rims[joined.root(ends(mesh, side).from)];
    rim.length_steps += (to - from).norm();
    rim.low = rim.low.cwiseMin(from).cwiseMin(to);
    rim.high = rim.high.cwiseMax(from).cwiseMax(to);
  }
  const auto longest = std::max_element(rims.begin(), rims.end(), [](const auto& a, const auto& b) {
    return a.second.length_steps < b.second.length_steps;
  });
  const Rim& rim = longest->second;
  const Length across = Length::from_m((rim.high - rim.low).norm() * mesh.step_m);
  return Error{
      place,
      fmt::format("the surface is open: {} edges of {} triangles have no neighbour, in {} "
                  "hole{}; the largest, {:.3g} {} across, is around {}",
                  open.size(),
                  mesh.triangles.size(),
                  rims.size(),
                  rims.size() == 1 ? "" : "s",
                  in_lengths(across, unit),
                  unit_name(unit),
                  place_in_file(mesh.origin_m + mesh.step_m * (rim.low + rim.high) / 2.0, unit)),
      "fill the holes in the program that made the model and export it again"};
}

}  // namespace

Sides partners(const TriangleMesh& mesh, Lengths unit, const Place& place) {
  const std::vector<KeyedSide> sides = sorted_sides(mesh);
  if (const std::vector<int> open = open_sides(sides); !open.empty()) {
    throw open_surface(mesh, open, unit, place);
  }
  Sides partner(sides.size());
  int n_branching = 0;
  int first_branching = -1;
  for_each_edge(sides, [&](auto first, auto last) {
    if (last - first == 2) {
      partner[as_index(first->side)] = (first + 1)->side;
      partner[as_index((first + 1)->side)] = first->side;
    } else {
      if (n_branching == 0) first_branching = first->side;
      ++n_branching;
    }
  });
  if (n_branching == 0) return partner;
  const Ends edge = ends(mesh, first_branching);
  throw Error{place,
              fmt::format("the surface branches: {} edge{} shared by more than two triangles, one "
                          "from {} to {}",
                          n_branching,
                          n_branching == 1 ? " is" : "s are",
                          place_in_file(mesh.vertex_m(edge.from), unit),
                          place_in_file(mesh.vertex_m(edge.to), unit)),
              "remove double faces and inner walls, or join (unite) the parts, in the program that "
              "made the model"};
}

int join_open_corners(TriangleMesh& mesh, double within_steps) {
  const std::vector<int> open = open_sides(sorted_sides(mesh));
  if (open.empty()) return 0;
  std::vector<int> corners;
  for (const int side : open) {
    corners.push_back(ends(mesh, side).from);
    corners.push_back(ends(mesh, side).to);
  }
  std::sort(corners.begin(), corners.end());
  corners.erase(std::unique(corners.begin(), corners.end()), corners.end());

  // Cells as wide as the distance hold one kept corner each: two in one cell would have been
  // joined.
  const auto cell = [&](int vertex, int axis) {
    return static_cast<std::int64_t>(std::floor(mesh.steps(vertex)[axis] / within_steps)) +
           (1 << 20);
  };
  const auto key = [](std::int64_t x, std::int64_t y, std::int64_t z) {
    return static_cast<std::uint64_t>(x) << 42 ^ static_cast<std::uint64_t>(y) << 21 ^
           static_cast<std::uint64_t>(z);
  };
  const auto near = [&](int a, int b) {
    return (mesh.steps(a) - mesh.steps(b)).cwiseAbs().maxCoeff() <= within_steps;
  };
  std::unordered_map<std::uint64_t, int> kept;
  std::vector<int> becomes(mesh.vertices.size());
  std::iota(becomes.begin(), becomes.end(), 0);
  int joined = 0;
  for (const int vertex : corners) {
    const std::int64_t x = cell(vertex, 0);
    const std::int64_t y = cell(vertex, 1);
    const std::int64_t z = cell(vertex, 2);
    int found = vertex;
    for (int around = 0; around < 27 && found == vertex; ++around) {
      const auto beside =
          kept.find(key(x + around % 3 - 1, y + around / 3 % 3 - 1, z + around / 9 - 1));
      if (beside != kept.end() && near(vertex, beside->second)) found = beside->second;
    }
    if (found == vertex) {
      kept.emplace(key(x, y, z), vertex);
    } else {
      becomes[as_index(vertex)] = found;
      ++joined;
    }
  }
  for (TriangleMesh::Triangle& triangle : mesh.triangles) {
    for (int& vertex : triangle) vertex = becomes[as_index(vertex)];
  }
  drop_collapsed(mesh);
  return joined;
}

Shells orient(TriangleMesh& mesh, const Sides& partners, Lengths unit, const Place& place) {
  const std::size_t n = mesh.triangles.size();
  constexpr int not_reached = -1;
  Shells shells{std::vector<int>(n, not_reached), 0, 0};
  std::vector<char> turn(n, 0);
  std::vector<int> reached;  // the triangles of one shell, in the order they were come to
  for (std::size_t seed = 0; seed < n; ++seed) {
    if (shells.of_triangle[seed] != not_reached) continue;
    reached.assign(1, static_cast<int>(seed));
    shells.of_triangle[seed] = shells.count;
    std::size_t n_turned = 0;
    for (std::size_t next = 0; next < reached.size(); ++next) {
      const int triangle = reached[next];
      if (turn[as_index(triangle)] != 0) ++n_turned;
      for (int side = 3 * triangle; side < 3 * triangle + 3; ++side) {
        const int partner = partners[as_index(side)];
        const int beside = partner / 3;
        // Neighbours that agree run along their edge in opposite directions.
        const bool agree = ends(mesh, side).from == ends(mesh, partner).to;
        const char wanted = static_cast<char>((turn[as_index(triangle)] != 0) == agree);
        if (shells.of_triangle[as_index(beside)] == not_reached) {
          shells.of_triangle[as_index(beside)] = shells.count;
          turn[as_index(beside)] = wanted;
          reached.push_back(beside);
        } else if (turn[as_index(beside)] != wanted) {
          throw Error{place,
                      fmt::format("the surface has one side only, like a twisted ring: no choice "
                                  "of an outer side fits at {}",
                                  place_in_file(mesh.vertex_m(ends(mesh, side).from), unit)),
                      "make the model anew as a closed solid"};
        }
      }
    }
    const bool turn_the_others = 2 * n_turned > reached.size();
    for (const int triangle : reached) {
      if ((turn[as_index(triangle)] != 0) == turn_the_others) continue;
      std::swap(mesh.triangles[as_index(triangle)][1], mesh.triangles[as_index(triangle)][2]);
      ++shells.turned;
    }
    ++shells.count;
  }
  return shells;
}

void drop_without_area(TriangleMesh& mesh, Shells& shells) {
  constexpr int unnumbered = -1;
  std::vector<int> new_number(as_index(shells.count), unnumbered);
  shells.count = 0;
  std::size_t kept = 0;
  for (std::size_t triangle = 0; triangle < mesh.triangles.size(); ++triangle) {
    if (doubled_area(mesh, mesh.triangles[triangle]).isZero()) continue;
    mesh.triangles[kept] = mesh.triangles[triangle];
    int& shell = new_number[as_index(shells.of_triangle[triangle])];
    if (shell == unnumbered) shell = shells.count++;
    shells.of_triangle[kept] = shell;
    ++kept;
  }
  mesh.triangles.resize(kept);
  shells.of_triangle.resize(kept);
}

}  // namespace thickset
