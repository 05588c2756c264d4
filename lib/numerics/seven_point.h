#pragma once

#include <array>
#include <cstdint>
#include <span>
#include <vector>

#include "numerics/lattice_problem.h"
#include "numerics/lattice_rows.h"

namespace thickset {

/// The symmetric matrix of a lattice problem, never formed: its diagonal, and links that are 1 but
/// where said otherwise.
class SevenPoint {
 public:
  explicit SevenPoint(LatticeProblem problem);

  /// Unknowns of one row: `length` nodes from `first`, both in whole eights within the row; some
  /// without unknown among them.
  struct Row {
    std::ptrdiff_t first;
    std::int32_t length;
    std::int32_t plain;  ///< 1: its links are 1
  };

  const Lattice& lattice() const { return problem_.lattice; }
  const LatticeProblem& problem() const { return problem_; }
  const std::vector<Row>& rows() const { return rows_; }
  /// Those of one plane; none before the first and after the last.
  std::span<const Row> rows_of_plane(int k) const {
    if (k < 0 || k >= lattice().nodes(2)) return {};
    const std::size_t from = plane_begins_[static_cast<std::size_t>(k)];
    const std::size_t to = plane_begins_[static_cast<std::size_t>(k) + 1];
    return {rows_.data() + from, to - from};
  }
  std::size_t unknowns() const { return unknowns_; }
  const float* diagonal() const { return diagonal_.data(); }
  const float* inverse_diagonal() const { return inverse_.data(); }
  float link(std::ptrdiff_t node, Direction towards) const;  ///< 0 where nothing is linked

  /// out = A x for the rows; both of the lattice's size, x = 0 where there is no unknown.
  void apply(const double* x, double* out) const;
  /// The same for one row.
  void apply(const Row& row, const double* x, double* out) const;

  void residual(const Row& row, const float* x, const float* b, float* out) const;
  /// One Jacobi step of weight w.
  void jacobi(const Row& row, float w, const float* x, const float* b, float* out) const;
  void jacobi_from_zero(const Row& row, float w, const float* b, float* out) const;

 private:
  void set_diagonal();
  void set_rows();
  lattice_rows::Faces faces(std::ptrdiff_t first) const;
  template <class Number>
  lattice_rows::Around<Number> around(const Row& row, const Number* x) const {
    return {x + row.first, lattice().row(), lattice().plane()};
  }

  LatticeProblem problem_;
  ZeroedArray<float> diagonal_, inverse_;
  std::vector<Row> rows_;
  std::vector<std::size_t> plane_begins_;  // among rows_
  std::size_t unknowns_ = 0;
};

}  // namespace thickset
