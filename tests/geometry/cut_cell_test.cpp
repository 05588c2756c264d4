#include "geometry/cut_cell.h"

#include <cmath>

#include <doctest/doctest.h>

using thickset::cut_cell;
using thickset::CutCell;
using V = Eigen::Vector3d;

namespace {
constexpr double rounding = 1e-12;
}

TEST_CASE("cut cell: a plane along two axes leaves a slice") {
  const CutCell cell = cut_cell(V::UnitZ(), 0.2);
  CHECK(std::abs(cell.filled - 0.7) < rounding);
  CHECK(cell.open[2][0] == 1.0);
  CHECK(cell.open[2][1] == 0.0);
  CHECK(std::abs(cell.open[0][1] - 0.7) < rounding);
  CHECK(std::abs(cell.open[1][0] - 0.7) < rounding);
}

TEST_CASE("cut cell: a plane across a corner leaves a tetrahedron") {
  const V normal = V::Ones().normalized();
  const double leg = 0.3;  // of the corner's three edges
  const CutCell cell = cut_cell(normal, -(1.5 - leg) / std::sqrt(3.0));
  CHECK(std::abs(cell.filled - leg * leg * leg / 6.0) < rounding);
  CHECK(std::abs(cell.open[0][0] - leg * leg / 2.0) < rounding);
  CHECK(cell.open[0][1] == 0.0);
}

TEST_CASE("cut cell: two opposite halves make a whole") {
  for (const V& way : {V(1, 2, 3), V(-1, 0.2, 0), V(0, -1, 1), V(0.01, 0.02, -1)}) {
    const V normal = way.normalized();
    for (const double offset : {-0.8, -0.4, 0.0, 0.1, 0.45, 0.7}) {
      CAPTURE(offset);
      const CutCell one = cut_cell(normal, offset);
      const CutCell other = cut_cell(-normal, -offset);
      CHECK(std::abs(one.filled + other.filled - 1.0) < rounding);
      for (std::size_t axis = 0; axis < 3; ++axis) {
        CHECK(std::abs(one.open[axis][0] + other.open[axis][0] - 1.0) < rounding);
        CHECK(std::abs(one.open[axis][1] + other.open[axis][1] - 1.0) < rounding);
      }
    }
  }
}

TEST_CASE("cut cell: a plane that misses the cube leaves all or nothing") {
  const V normal = V(1, 1, 1).normalized();
  CHECK(cut_cell(normal, 1.0).filled == 1.0);
  CHECK(cut_cell(normal, -1.0).filled == 0.0);
}
