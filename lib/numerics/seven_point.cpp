#include "numerics/seven_point.h"

#include <utility>

#include "numerics/as_index.h"

namespace thickset {
namespace {

bool has_plain_links(const SevenPoint& a, std::ptrdiff_t node) {
  for (const Direction d : directions) {
    const bool linked = a.problem().has(node + a.lattice().step(d));
    if (linked && a.link(node, d) != 1.0F) return false;
  }
  return true;
}

}  // namespace

SevenPoint::SevenPoint(LatticeProblem problem)
    : problem_{std::move(problem)},
      diagonal_{problem_.lattice.size()},
      inverse_{problem_.lattice.size()} {
  set_rows();
  set_diagonal();
}

float SevenPoint::link(std::ptrdiff_t node, Direction towards) const {
  const bool linked = problem_.has(node) && problem_.has(node + lattice().step(towards));
  return linked ? problem_.link(node, towards) : 0.0F;
}

void SevenPoint::set_rows() {
  plane_begins_.push_back(0);
  for (int k = 0; k < lattice().nodes(2); ++k) {
    for (int j = 1; j + 1 < lattice().nodes(1); ++j) {
      const std::ptrdiff_t start = lattice().index(0, j, k);
      int first = 0;
      int last = lattice().nodes(0) - 1;
      while (first <= last && !problem_.has(start + first)) ++first;
      if (first > last) continue;
      while (!problem_.has(start + last)) --last;
      bool plain = true;
      for (int i = first; i <= last && !problem_.plain() && plain; ++i) {
        plain = !problem_.has(start + i) || has_plain_links(*this, start + i);
      }
      const int begin = first / 8 * 8;
      const auto end = static_cast<int>(Lattice::whole_eights(last + 1));
      rows_.push_back({start + begin, end - begin, plain ? 1 : 0});
    }
    plane_begins_.push_back(rows_.size());
  }
}

void SevenPoint::set_diagonal() {
  for (const Row& row : rows_) {
    for (std::ptrdiff_t node = row.first; node < row.first + row.length; ++node) {
      if (!problem_.has(node)) continue;
      ++unknowns_;
      float sum = 0.0F;
      for (const Direction d : directions) sum += link(node, d);
      diagonal_[as_index(node)] = sum;
    }
  }
  for (const LinkEnd& end : problem_.ends) {
    const float link_replaced = link(end.node, end.towards);
    diagonal_[as_index(end.node)] +=
        end.weight / end.distance - (problem_.plain() ? link_replaced : 0.0F);
  }
  for (const Sink& sink : problem_.sinks) diagonal_[as_index(sink.node)] += sink.strength;
  for (const Row& row : rows_) {
    for (std::ptrdiff_t node = row.first; node < row.first + row.length; ++node) {
      if (diagonal_[as_index(node)] > 0.0F)
        inverse_[as_index(node)] = 1.0F / diagonal_[as_index(node)];
    }
  }
}

lattice_rows::Faces SevenPoint::faces(std::ptrdiff_t first) const {
  return {problem_.faces[0].data() + first,
          problem_.faces[1].data() + first,
          problem_.faces[2].data() + first};
}

void SevenPoint::apply(const double* x, double* out) const {
  for (const Row& row : rows_) apply(row, x, out);
}

void SevenPoint::apply(const Row& row, const double* x, double* out) const {
  const float* const diagonal = diagonal_.data() + row.first;
  if (row.plain != 0) {
    lattice_rows::apply(row.length, around(row, x), diagonal, out + row.first);
  } else {
    lattice_rows::apply(row.length, around(row, x), faces(row.first), diagonal, out + row.first);
  }
}

void SevenPoint::residual(const Row& row, const float* x, const float* b, float* out) const {
  const float* const diagonal = diagonal_.data() + row.first;
  if (row.plain != 0) {
    lattice_rows::residual(row.length, around(row, x), b + row.first, diagonal, out + row.first);
  } else {
    lattice_rows::residual(
        row.length, around(row, x), faces(row.first), b + row.first, diagonal, out + row.first);
  }
}

void SevenPoint::jacobi(const Row& row, float w, const float* x, const float* b, float* out) const {
  const float* const inverse = inverse_.data() + row.first;
  if (row.plain != 0) {
    lattice_rows::jacobi(row.length, w, around(row, x), b + row.first, inverse, out + row.first);
  } else {
    lattice_rows::jacobi(
        row.length, w, around(row, x), faces(row.first), b + row.first, inverse, out + row.first);
  }
}

void SevenPoint::jacobi_from_zero(const Row& row, float w, const float* b, float* out) const {
  lattice_rows::jacobi_from_zero(
      row.length, w, b + row.first, inverse_.data() + row.first, out + row.first);
}

}  // namespace thickset
