#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <vector>

#include "numerics/lattice.h"
#include "numerics/zeroed_array.h"

namespace thickset {

/// Where a link out of a node ends on a surface that is held at 0, instead of at its neighbour.
struct LinkEnd {
  std::int32_t node;
  Direction towards;
  float distance;       ///< from the node, in spacings, > 0; more than 1 behind a thin wall
  float within;         ///< of which in the solid; the rest is a thin wall
  float weight = 1.0F;  ///< share of the face that is open
  float level = 0.0F;   ///< what it is held at instead of 0: for the right side alone
  float heat = 0.0F;    ///< what the wall there holds, in cells, over weight: for the mass alone
};

/// What else leaves a node, in proportion to its value.
struct Sink {
  std::int32_t node;
  float strength;
  float level = 0.0F;  ///< value at which nothing leaves: for the right side alone
  float heat = 0.0F;   ///< what the wall there holds, in cells: for the mass alone
};

/// A diffusion problem on the nodes of a lattice that have an unknown:
///
///   sum over links w (u - u_neighbour) + sum over ends w u / distance + sum over sinks s u = b,
///
/// u in units of its own, b per cell: for -Laplace(u) = 1 it is spacing^2 times the share of the
/// cell that is filled.
struct LatticeProblem {
  static constexpr std::uint8_t outside = 0;  ///< no unknown
  static constexpr std::uint8_t inside = 1;
  static constexpr std::uint8_t at_end = 2;  ///< inside, and links of it end on the surface

  Lattice lattice;
  ZeroedArray<std::uint8_t> state;
  std::vector<LinkEnd> ends;  ///< sorted by node, then direction
  std::vector<Sink> sinks;    ///< sorted by node
  /// w of the link from each node to the next in x, y, z; empty where all are 1.
  std::array<ZeroedArray<float>, 3> faces;

  bool has(std::ptrdiff_t node) const { return state[static_cast<std::size_t>(node)] != outside; }
  bool plain() const { return faces[0].empty(); }

  /// The end of a link, or null where it reaches its neighbour's place.
  const LinkEnd* end(std::ptrdiff_t node, Direction towards) const;

  /// w of a link, whether or not anything is at its other end.
  float link(std::ptrdiff_t node, Direction towards) const;

  /// Sorts ends and sinks and marks nodes that have ends.
  void put_in_order();

  std::size_t unknowns() const;

  /// How many unknowns no chain of links leads to an end or a sink: for these there is no solution.
  std::size_t cut_off() const;

  /// Makes the faces into numbers, all 1.
  void give_faces();
};

/// The same problem on every second node: ends lie where they lay, two links in line become one,
/// open as the fine faces around it are. Good enough to speed a solution up; not to be its answer.
LatticeProblem on_every_second_node(const LatticeProblem& fine);

}  // namespace thickset
