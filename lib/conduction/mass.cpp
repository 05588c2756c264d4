#include "conduction/mass.h"

namespace thickset::conduction {

Mass::Mass(const Body& body, bool inner_face_exchanges)
    : lower{Eigen::ArrayXd::Zero(body.nodes())},
      diagonal{body.volume_m()},
      upper{Eigen::ArrayXd::Zero(body.nodes())} {
  const Eigen::Index last = body.nodes() - 1;
  if (body.solid() == Solid::slab) {
    const double spacing_m = body.extent_m() / static_cast<double>(last);
    lower.setConstant(spacing_m / 12.0);
    upper.setConstant(spacing_m / 12.0);
    diagonal.setConstant(spacing_m * 10.0 / 12.0);
    diagonal(0) = spacing_m * (inner_face_exchanges ? 1.0 / 3.0 : 5.0 / 12.0);
    upper(0) = spacing_m * (inner_face_exchanges ? 1.0 / 6.0 : 1.0 / 12.0);
    diagonal(last) = spacing_m / 3.0;
    lower(last) = spacing_m / 6.0;
    lower(0) = 0.0;
    upper(last) = 0.0;
  }
  column_sum = diagonal;
  column_sum.head(last) += lower.tail(last);
  column_sum.tail(last) += upper.head(last);
}

}  // namespace thickset::conduction
