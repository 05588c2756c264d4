#pragma once

#include <cstdint>
#include <vector>

#include <Eigen/Core>

#include "geometry/cut_cell.h"
#include "numerics/lattice_problem.h"

namespace thickset {

/// Surfaces that are not held at 0 (insulated, behind a wall), as planes that cut the cells around
/// nodes. Collected link by link, then worked into a lattice problem.
///
/// Nodes just outside whose cell reaches into the solid become unknowns too.
class SurfacePlanes {
 public:
  SurfacePlanes(LatticeProblem& problem, ZeroedArray<float>& filled)
      : problem_{problem}, filled_{filled} {}

  /// A surface as a link meets it, in spacings (level in their square).
  struct Surface {
    Eigen::Vector3d normal;
    double wall_length;  ///< at least 2, infinite if insulated
    double level = 0.0, heat = 0.0;
  };
  /// A link out of an inside node that meets such a surface, so many spacings along it.
  void add(std::ptrdiff_t node, Direction towards, double distance, const Surface& surface);

  void apply();

 private:
  /// A plane as one node sees it, and the inside node it was seen from.
  struct Seen {
    std::int32_t node, inside;
    Surface surface;
    double offset;  ///< of the plane from the node, in spacings, along the normal
  };
  struct Plane {
    Surface surface;
    double offset;
  };
  /// A cell cut by up to three planes that differ.
  struct Cell {
    std::int32_t node;
    std::vector<Plane> planes;
    std::vector<std::int32_t> insides;
    CutCell cut;
  };

  void make_cells();
  Cell merged(std::size_t first, std::size_t last) const;
  void take_outside_nodes();
  void set_faces();
  void weigh_ends();
  void copy_ends();
  void set_sinks();
  void add_sink(std::int32_t node, const Plane& plane);
  double passage(std::ptrdiff_t node, Direction towards) const;
  const Cell* cell(std::ptrdiff_t node) const;
  double open(std::ptrdiff_t node, Direction towards) const;

  LatticeProblem& problem_;
  ZeroedArray<float>& filled_;
  std::vector<Seen> seen_;
  std::vector<Cell> cells_;              ///< sorted by node
  std::vector<std::int32_t> newcomers_;  ///< nodes outside that became unknowns
};

}  // namespace thickset
