#include "conduction/mass.h"

#include <algorithm>
#include <cmath>
#include <initializer_list>

#include <doctest/doctest.h>

#include "conduction/unit_body.h"

using namespace thickset::conduction;
using namespace unit_body;

namespace {

constexpr double rounding = 1e-14;

double spacing_m(Eigen::Index nodes) {
  return extent_m / static_cast<double>(nodes - 1);
}

bool equal(double value, double expected) {
  return std::abs(value - expected) <= rounding;
}

/// How far the balance of row i is off for T = x^power with k = 1, over the spacing: heat that
/// flows in against the row's sum of d2T/dx2, which is what density c_p dT/dt is.
double row_error(Eigen::Index nodes,
                 Eigen::Index i,
                 int power,
                 Face::Kind face = Face::Kind::exchange) {
  const Body body = constant_body(Solid::slab, nodes);
  const Mass mass{body, face, face};
  const double h = spacing_m(nodes);
  const double start = 0.3;  // so that no power is even about a node
  const auto x = [&](Eigen::Index j) { return start + h * static_cast<double>(j); };
  const auto T = [&](Eigen::Index j) { return std::pow(x(j), power); };
  const auto curvature = [&](Eigen::Index j) {
    return power < 2 ? 0.0 : power * (power - 1) * std::pow(x(j), power - 2);
  };
  const auto slope = [&](Eigen::Index j) {
    return power < 1 ? 0.0 : power * std::pow(x(j), power - 1);
  };
  double in = 0.0;
  double held = mass.diagonal(i) * curvature(i);
  if (i > 0) {
    in -= (T(i) - T(i - 1)) / h;
    held += mass.lower(i) * curvature(i - 1);
  } else {
    in -= slope(0);
  }
  if (i + 1 < nodes) {
    in += (T(i + 1) - T(i)) / h;
    held += mass.upper(i) * curvature(i + 1);
  } else {
    in += slope(i);
  }
  return std::abs(in - held) / h;
}

}  // namespace

// [COL66] on compact differences (from memory): (1, 10, 1)/12 for the second derivative.
TEST_CASE("mass: a slab's rows are 1/12, 10/12, 1/12 inside and 1/6, 1/3 where heat is exchanged") {
  for (const Eigen::Index n : {3, 4, 11, 20}) {
    CAPTURE(n);
    const Body body = constant_body(Solid::slab, n);
    const double h = spacing_m(n);
    for (const Face::Kind inner : {Face::Kind::insulated, Face::Kind::exchange}) {
      const bool inner_face_exchanges = inner == Face::Kind::exchange;
      CAPTURE(inner_face_exchanges);
      const Mass mass{body, inner, Face::Kind::exchange};
      for (Eigen::Index i = 1; i + 1 < n; ++i) {
        CHECK(equal(mass.lower(i) / h, 1.0 / 12.0));
        CHECK(equal(mass.diagonal(i) / h, 10.0 / 12.0));
        CHECK(equal(mass.upper(i) / h, 1.0 / 12.0));
      }
      CHECK(equal(mass.lower(n - 1) / h, 1.0 / 6.0));
      CHECK(equal(mass.diagonal(n - 1) / h, 1.0 / 3.0));
      CHECK(equal(mass.diagonal(0) / h, inner_face_exchanges ? 1.0 / 3.0 : 5.0 / 12.0));
      CHECK(equal(mass.upper(0) / h, inner_face_exchanges ? 1.0 / 6.0 : 1.0 / 12.0));
      CHECK(mass.lower(0) == 0.0);
      CHECK(mass.upper(n - 1) == 0.0);
    }
  }
}

// Gregory's rule with first differences only: 5/12, 13/12, 1, ..., 1, 13/12, 5/12 (from memory, any
// text on numerical integration); half the sum of the mirrored body where the inside is a plane of
// symmetry: 1/2, 1, 1.
TEST_CASE("mass: a slab's columns sum to Gregory's weights") {
  constexpr Eigen::Index n = 11;
  const Body body = constant_body(Solid::slab, n);
  const double h = spacing_m(n);
  const Mass two_faces{body, Face::Kind::exchange, Face::Kind::exchange};
  const Mass half{body, Face::Kind::insulated, Face::Kind::exchange};
  for (Eigen::Index i = 0; i < n; ++i) {
    CAPTURE(i);
    const double from_end = static_cast<double>(std::min(i, n - 1 - i));
    const double gregory = from_end == 0.0 ? 5.0 / 12.0 : from_end == 1.0 ? 13.0 / 12.0 : 1.0;
    CHECK(equal(two_faces.column_sum(i) / h, gregory));
    if (i == 0) {
      CHECK(equal(half.column_sum(i) / h, 0.5));
    } else {
      CHECK(equal(half.column_sum(i) / h, i + 2 < n ? 1.0 : gregory));
    }
  }
}

TEST_CASE("mass: rows and columns together hold the whole body, a straight profile its mean") {
  for (const Solid solid : solids)
    for (const Eigen::Index n : {3, 4, 11, 20, 21}) {
      CAPTURE(name(solid));
      CAPTURE(n);
      const Body body = constant_body(solid, n);
      const Mass mass{body,
                      solid == Solid::slab ? Face::Kind::exchange : Face::Kind::insulated,
                      Face::Kind::exchange};
      const double volume_m = body.volume_m().sum();
      CHECK(std::abs(mass.total(Eigen::ArrayXd::Ones(n)) - volume_m) <= rounding);
      CHECK(std::abs((mass.lower + mass.diagonal + mass.upper - body.volume_m()).sum()) <=
            rounding);
      if (solid == Solid::slab) {
        CHECK(std::abs(mass.total(body.position_m()) - 0.5 * extent_m * extent_m) <= rounding);
      }
    }
}

TEST_CASE("mass: a rod's and a ball's matrix is the cells' own volume") {
  for (const Solid solid : {Solid::cylinder, Solid::sphere}) {
    CAPTURE(name(solid));
    const Body body = constant_body(solid, 11);
    const Mass mass{body, Face::Kind::insulated, Face::Kind::exchange};
    CHECK((mass.diagonal == body.volume_m()).all());
    CHECK((mass.column_sum == body.volume_m()).all());
    CHECK((mass.lower == 0.0).all());
    CHECK((mass.upper == 0.0).all());
  }
}

TEST_CASE("mass: a prescribed node has no row and its neighbour stands for its own cell alone") {
  constexpr Eigen::Index n = 11;
  for (const Solid solid : solids) {
    CAPTURE(name(solid));
    const Body body = constant_body(solid, n);
    const Mass mass{body, Face::Kind::insulated, Face::Kind::prescribed};
    CHECK(mass.diagonal(n - 1) == 0.0);
    CHECK(mass.lower(n - 1) == 0.0);
    CHECK(mass.lower(n - 2) == 0.0);
    CHECK(equal(mass.diagonal(n - 2) / body.volume_m()(n - 2), 1.0));
    CHECK(mass.upper(n - 2) == 0.0);  // a jump of the face takes no heat with it
    CHECK(mass.column_sum(n - 1) == 0.0);
  }
  // All heat but that of the two half cells.
  const Body slab = constant_body(Solid::slab, n);
  const Mass both{slab, Face::Kind::prescribed, Face::Kind::prescribed};
  CHECK(equal(both.column_sum.sum(), extent_m - spacing_m(n)));
}

TEST_CASE("mass: inner rows are exact to fifth powers, rows of a face to cubes") {
  constexpr Eigen::Index n = 11;
  constexpr double divided_rounding = 1e-9;  // of values about 1 over the spacing squared
  for (int power = 0; power <= 5; ++power) {
    CAPTURE(power);
    CHECK(row_error(n, 5, power) <= divided_rounding);
    if (power > 3) continue;
    CHECK(row_error(n, 0, power) <= divided_rounding);
    CHECK(row_error(n, n - 1, power) <= divided_rounding);
    CHECK(row_error(n, 1, power, Face::Kind::prescribed) <= divided_rounding);
  }
}

TEST_CASE("mass: inner rows are of fourth order, rows of a face of second in their own balance") {
  const double inner = row_error(11, 5, 6) / row_error(21, 10, 6);
  CHECK(std::abs(inner - 16.0) <= 0.2);
  // The neighbour of a prescribed node too; it touches the temperatures by a spacing's share of a
  // spacing's share only, since the face beside it is held.
  const double beside =
      row_error(11, 1, 4, Face::Kind::prescribed) / row_error(21, 1, 4, Face::Kind::prescribed);
  CHECK(std::abs(beside - 4.0) <= 0.4);
  // A face's row of second order spoils the temperatures by third: the face holds one cell of all.
  const double face = row_error(11, 0, 4) / row_error(21, 0, 4);
  CHECK(std::abs(face - 4.0) <= 0.4);
}
