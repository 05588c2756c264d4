#include "conduction/mass.h"

namespace thickset::conduction {

Mass::Mass(const Body& body, Face::Kind inner, Face::Kind outer)
    : lower{Eigen::ArrayXd::Zero(body.nodes())},
      diagonal{body.volume_m()},
      upper{Eigen::ArrayXd::Zero(body.nodes())} {
  const Eigen::Index first = body.first_glass();
  const Eigen::Index last = body.last_glass();
  const bool slab = body.solid() == Solid::slab;
  const double spacing_m = body.extent_m() / static_cast<double>(last - first);
  const auto set = [&](Eigen::Index row, double below, double own, double above) {
    lower(row) = spacing_m * below;
    diagonal(row) = spacing_m * own;
    upper(row) = spacing_m * above;
  };
  if (slab) {
    for (Eigen::Index row = first + 1; row < last; ++row)
      set(row, 1.0 / 12.0, 10.0 / 12.0, 1.0 / 12.0);
  }
  const auto set_face = [&](Face::Kind kind, Eigen::Index row, Eigen::Index neighbour) {
    const bool inside = row == first;
    const auto set_end = [&](double own, double other) {
      set(row, inside ? 0.0 : other, own, inside ? other : 0.0);
    };
    switch (kind) {
      case Face::Kind::insulated:
        if (slab) set_end(5.0 / 12.0, 1.0 / 12.0);
        break;
      case Face::Kind::exchange:
        if (slab) set_end(1.0 / 3.0, 1.0 / 6.0);
        break;
      case Face::Kind::prescribed:
        set(row, 0.0, 0.0, 0.0);
        if (slab) set(neighbour, 0.0, 1.0, 0.0);
        break;
    }
  };
  // Glass gives its heat to a layer as it does to a kiln; a layer's cells stand for themselves.
  const Eigen::Index end = body.nodes() - 1;
  const bool covered_inside = first > 0;
  const bool covered_outside = last < end;
  set_face(covered_inside ? Face::Kind::exchange : inner, first, first + 1);
  set_face(covered_outside ? Face::Kind::exchange : outer, last, last - 1);
  if (covered_inside && inner == Face::Kind::prescribed) set(0, 0.0, 0.0, 0.0);
  if (covered_outside && outer == Face::Kind::prescribed) set(end, 0.0, 0.0, 0.0);
  column_sum = diagonal;
  column_sum.head(end) += lower.tail(end);
  column_sum.tail(end) += upper.head(end);
}

}  // namespace thickset::conduction
