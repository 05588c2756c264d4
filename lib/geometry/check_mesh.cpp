#include "geometry/check_mesh.h"

#include "base/error.h"
#include "geometry/mesh_edges.h"
#include "geometry/mesh_shells.h"
#include "geometry/self_crossing.h"
#include "geometry/solid_size.h"
#include "geometry/triangle_mesh.h"
#include "geometry/winding.h"

#include <utility>

#include <fmt/format.h>

namespace thickset {
namespace {

std::string counted(std::size_t count, std::string_view one, std::string_view many) {
  return fmt::format("{} {}", count, count == 1 ? one : many);
}

void check_crossings(const TriangleMesh& mesh,
                     const MeshTree& tree,
                     Lengths unit,
                     const Place& place) {
  const CrossingSearch search = find_self_crossing(mesh, tree, negligible_steps(mesh));
  if (search.first) {
    throw Error{place,
                fmt::format("the surface crosses itself near {}",
                            place_in_file(mesh.origin_m + mesh.step_m * search.first->place, unit)),
                "join (unite) parts that overlap, and repair the model, in the program that made "
                "it"};
  }
  if (!search.finished) {
    throw Error{place,
                "has too many triangles in one place: whether they cross could not be seen",
                "make the mesh anew, with triangles of even size"};
  }
}

void check_winding(const TriangleMesh& mesh,
                   const MeshTree& tree,
                   Lengths unit,
                   const Place& place) {
  const auto wrong = find_wrong_winding(mesh, tree, negligible_steps(mesh));
  if (!wrong) return;
  throw Error{place,
              fmt::format("the surface does not part inside from outside near {}: it goes through "
                          "itself, or parts lie in each other",
                          place_in_file(mesh.origin_m + mesh.step_m * *wrong, unit)),
              "join (unite) parts, and repair the model, in the program that made it"};
}

}  // namespace

CheckedMesh check_mesh(const TriangleSoup& soup,
                       Lengths unit,
                       const Place& place,
                       const Progress& progress) {
  const auto say = [&](std::string_view what) {
    if (progress) {
      progress(fmt::format("{} of {} triangles", what, soup.corners.size() / 3));
    }
  };
  std::vector<std::string> notes;
  say("joining the corners");
  TriangleMesh mesh = weld(soup, unit, place);
  if (const int joined = join_open_corners(mesh, negligible_steps(mesh)); joined > 0) {
    notes.push_back(
        fmt::format("{} of open edges, less than {:.2g} {} apart, were joined",
                    counted(static_cast<std::size_t>(joined), "corner", "corners"),
                    in_lengths(Length::from_m(negligible_steps(mesh) * mesh.step_m), unit),
                    unit_name(unit)));
  }
  if (mesh.triangles.empty()) {
    throw Error{place, "no triangle has an area", "export the model again"};
  }

  say("looking at the edges");
  Shells shells = orient(mesh, partners(mesh, unit, place), unit, place);
  if (shells.turned > 0) {
    notes.push_back(
        fmt::format("{} of {} faced the wrong way and {} turned",
                    counted(static_cast<std::size_t>(shells.turned), "triangle", "triangles"),
                    mesh.triangles.size(),
                    shells.turned == 1 ? "was" : "were"));
  }
  drop_without_area(mesh, shells);
  if (mesh.triangles.empty()) {
    throw Error{place, "no triangle has an area", "export the model again"};
  }
  if (const std::size_t dropped = soup.corners.size() / 3 - mesh.triangles.size(); dropped > 0) {
    notes.push_back(fmt::format("{} without area {} left out",
                                counted(dropped, "triangle", "triangles"),
                                dropped == 1 ? "was" : "were"));
  }

  say("looking for crossings");
  MeshTree tree{mesh};
  check_crossings(mesh, tree, unit, place);
  std::vector<std::string> turned = turn_shells_out(mesh, tree, shells, unit, place);
  notes.insert(notes.end(), turned.begin(), turned.end());
  check_winding(mesh, tree, unit, place);
  return {MeshRegion{std::move(mesh), std::move(tree)}, std::move(notes)};
}

}  // namespace thickset
