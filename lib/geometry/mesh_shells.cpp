#include "geometry/mesh_shells.h"

#include "base/error.h"
#include "geometry/mesh_region.h"
#include "geometry/solid_size.h"
#include "numerics/as_index.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <map>
#include <utility>

#include <fmt/format.h>

namespace thickset {
namespace {

constexpr int most_shells = 1000;

struct Shell {
  double volume = 0.0;  ///< with its sign, in steps cubed
  double area = 0.0;
  int some_vertex = -1;
  int top = -1;    ///< the vertex with the largest x
  int around = 0;  ///< shells around it
};

std::vector<Shell> describe_shells(const TriangleMesh& mesh, const Shells& shells) {
  std::vector<Shell> result(as_index(shells.count));
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
    const TriangleMesh::Triangle& triangle = mesh.triangles[t];
    Shell& shell = result[as_index(shells.of_triangle[t])];
    if (shell.top < 0) shell.top = shell.some_vertex = triangle[0];
    const Eigen::Vector3d normal = doubled_area(mesh, triangle).cast<double>();
    // From a corner of the shell itself, so that rounding is of its own size.
    shell.volume += (mesh.steps(triangle[0]) - mesh.steps(shell.some_vertex)).dot(normal) / 6.0;
    shell.area += normal.norm() / 2.0;
    for (const int vertex : triangle) {
      if (mesh.vertices[as_index(vertex)].x() > mesh.vertices[as_index(shell.top)].x()) {
        shell.top = vertex;
      }
    }
  }
  return result;
}

/// The number of other shells that a line from the top of a shell crosses an odd number of times.
int count_around(const TriangleMesh& mesh,
                 const MeshTree& tree,
                 const Shells& shells,
                 int own,
                 const Eigen::Vector3i& top) {
  std::map<int, int> crossings_above;
  for (const LineCrossing& crossing : line_crossings(mesh, tree, 0, top.y(), top.z())) {
    const int shell = shells.of_triangle[as_index(crossing.triangle)];
    if (shell != own && crossing.position > top.x()) ++crossings_above[shell];
  }
  return static_cast<int>(std::count_if(
      crossings_above.begin(), crossings_above.end(), [](const auto& c) { return c.second % 2; }));
}

std::string at_top(const TriangleMesh& mesh, const Shell& shell, Lengths unit) {
  return place_in_file(mesh.vertex_m(shell.top), unit);
}

void check_enclosing(const TriangleMesh& mesh,
                     const std::vector<Shell>& shells,
                     Lengths unit,
                     const Place& place) {
  const double thinnest = negligible_steps(mesh);
  for (const Shell& shell : shells) {
    if (std::abs(shell.volume) > thinnest * shell.area) continue;
    throw Error{place,
                fmt::format("a surface encloses nothing: two sides that lie on each other, near {}",
                            at_top(mesh, shell, unit)),
                "give it a thickness, or remove it, in the program that made the model"};
  }
}

void check_pieces(const TriangleMesh& mesh,
                  const std::vector<Shell>& shells,
                  Lengths unit,
                  const Place& place) {
  std::vector<Shell> pieces;
  for (const Shell& shell : shells) {
    if (shell.around % 2 == 0) pieces.push_back(shell);
  }
  if (pieces.size() == 1) return;
  std::stable_sort(pieces.begin(), pieces.end(), [](const Shell& a, const Shell& b) {
    return std::abs(a.volume) > std::abs(b.volume);
  });
  throw Error{
      place,
      fmt::format("the model is {} separate pieces; the second largest, near {}, has {:.2g} "
                  "% of the volume of the largest",
                  pieces.size(),
                  at_top(mesh, pieces[1], unit),
                  100.0 * std::abs(pieces[1].volume / pieces[0].volume)),
      "join (unite) what is one casting, remove crumbs, and give each casting a file of its "
      "own: pieces cool each for itself"};
}

}  // namespace

std::vector<std::string> turn_shells_out(TriangleMesh& mesh,
                                         const MeshTree& tree,
                                         const Shells& shells,
                                         Lengths unit,
                                         const Place& place) {
  if (shells.count > most_shells) {
    throw Error{
        place,
        fmt::format("the model is {} separate surfaces, more than {}", shells.count, most_shells),
        "join (unite) what is one casting, and remove crumbs"};
  }
  std::vector<Shell> described = describe_shells(mesh, shells);
  check_enclosing(mesh, described, unit, place);
  for (int number = 0; number < shells.count; ++number) {
    Shell& shell = described[as_index(number)];
    shell.around = count_around(mesh, tree, shells, number, mesh.vertices[as_index(shell.top)]);
  }
  check_pieces(mesh, described, unit, place);

  // One shell has none around it; each of the others has that one around it and no more.
  const auto outer = std::find_if(
      described.begin(), described.end(), [](const Shell& shell) { return shell.around == 0; });
  const bool inside_out = outer->volume < 0.0;
  double hollow = 0.0;
  for (const Shell& shell : described) {
    if (shell.around == 0) continue;
    if ((shell.volume < 0.0) == inside_out) {
      throw Error{
          place,
          fmt::format("a surface inside the piece, near {}, faces the same way as the outer "
                      "one: glass within glass",
                      at_top(mesh, shell, unit)),
          "remove it, or turn its normals towards the hollow if it is one"};
    }
    hollow += std::abs(shell.volume);
  }

  std::vector<std::string> notes;
  if (inside_out) {
    for (TriangleMesh::Triangle& triangle : mesh.triangles) std::swap(triangle[1], triangle[2]);
    notes.push_back("the whole surface was inside out and was turned");
  }
  if (shells.count > 1) {
    notes.push_back(fmt::format("{} closed hollow{} inside, {:.2g} % of the volume: taken as empty",
                                shells.count - 1,
                                shells.count == 2 ? "" : "s",
                                100.0 * hollow / std::abs(outer->volume)));
  }
  return notes;
}

}  // namespace thickset
