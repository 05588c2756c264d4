#pragma once

#include <algorithm>
#include <array>
#include <cassert>
#include <cstddef>

namespace thickset {

/// A step from a node of a lattice to its neighbour.
enum class Direction { back_x, on_x, back_y, on_y, back_z, on_z };
inline constexpr std::array<Direction, 6> directions = {Direction::back_x,
                                                        Direction::on_x,
                                                        Direction::back_y,
                                                        Direction::on_y,
                                                        Direction::back_z,
                                                        Direction::on_z};

constexpr int axis_of(Direction d) {
  return static_cast<int>(d) / 2;
}
constexpr bool is_on(Direction d) {
  return static_cast<int>(d) % 2 == 1;
}
constexpr Direction direction(int axis, bool on) {
  return static_cast<Direction>(2 * axis + (on ? 1 : 0));
}
constexpr Direction opposite(Direction d) {
  return direction(axis_of(d), !is_on(d));
}

/// Nodes in rows (x), rows in planes (y), planes one behind another (z), numbered in one sequence.
///
/// Rows are filled up to whole eights, so that loops over them have no rest.
/// The outermost nodes on every side are never part of a solid, so that each node that is has six
/// neighbours.
class Lattice {
 public:
  Lattice() = default;
  explicit Lattice(std::array<int, 3> nodes) : nodes_{nodes} {
    assert(nodes[0] >= 3 && nodes[1] >= 3 && nodes[2] >= 3);
    row_ = whole_eights(nodes[0]);
    plane_ = row_ * nodes[1];
  }

  int nodes(int axis) const { return nodes_[static_cast<std::size_t>(axis)]; }
  std::ptrdiff_t row() const { return row_; }      ///< step from one row to the next
  std::ptrdiff_t plane() const { return plane_; }  ///< step from one plane to the next
  /// Of an array over it: with room for a loop over a row to read on.
  std::size_t size() const { return static_cast<std::size_t>(plane_ * nodes_[2] + slack); }

  static constexpr std::ptrdiff_t whole_eights(std::ptrdiff_t n) { return (n + 7) / 8 * 8; }

  std::ptrdiff_t index(int i, int j, int k) const { return i + j * row_ + k * plane_; }
  std::array<int, 3> place(std::ptrdiff_t index) const {
    const std::ptrdiff_t in_plane = index % plane_;
    return {static_cast<int>(in_plane % row_),
            static_cast<int>(in_plane / row_),
            static_cast<int>(index / plane_)};
  }
  bool is_outermost(std::ptrdiff_t index) const {
    const std::array<int, 3> p = place(index);
    for (std::size_t a = 0; a < 3; ++a) {
      if (p[a] == 0 || p[a] + 1 == nodes_[a]) return true;
    }
    return false;
  }
  std::ptrdiff_t step(Direction d) const {
    const std::array<std::ptrdiff_t, 3> along = {1, row_, plane_};
    const std::ptrdiff_t on = along[static_cast<std::size_t>(axis_of(d))];
    return is_on(d) ? on : -on;
  }

  /// Every second node of this one, from the first; its outermost nodes lie on this one's or
  /// beyond.
  Lattice every_second() const {
    std::array<int, 3> half = nodes_;
    for (int& n : half) n = std::max(3, n / 2 + 1);
    return Lattice{half};
  }

 private:
  static constexpr std::ptrdiff_t slack = 32;
  std::array<int, 3> nodes_{};
  std::ptrdiff_t row_ = 0, plane_ = 0;
};

}  // namespace thickset
