#include "stress/elastic.h"

#include <algorithm>
#include <cmath>

namespace thickset::stress {
namespace {

using conduction::Body;
using conduction::Solid;

/// Slope of the straight line that carries the profile's moment about the middle of the slab:
/// T_linear(x) = slope (x - d/2), slope = 12/d^3 integral T (x - d/2) dx.
double moment_slope_K_per_m(const Body& body, const Eigen::ArrayXd& T_K) {
  const double thickness_m = body.extent_m();
  double moment = 0.0;
  for (Eigen::Index i = 0; i < T_K.size(); ++i) {
    moment += body.mean_weight()(i) * T_K(i) * (body.position_m()(i) - 0.5 * thickness_m);
  }
  return 12.0 / (thickness_m * thickness_m) * moment;
}

}  // namespace

ElasticStress elastic_stress(const Body& body,
                             const Eigen::ArrayXd& T_K,
                             double biaxial_Pa_per_K,
                             Support support,
                             bool symmetric) {
  const Eigen::Index last = T_K.size() - 1;
  const double mean_K = body.mean(T_K);
  const bool bends = body.solid() == Solid::slab && !symmetric && support == Support::free;
  const double slope = bends ? moment_slope_K_per_m(body, T_K) : 0.0;
  const double middle_m = 0.5 * body.extent_m();
  const auto at_Pa = [&](Eigen::Index i) {
    return biaxial_Pa_per_K * (mean_K + slope * (body.position_m()(i) - middle_m) - T_K(i));
  };

  // The centre of a ball is stressed alike in all directions, by 2/3 of the form above.
  const double inside_Pa = at_Pa(0) * (body.solid() == Solid::sphere ? 2.0 / 3.0 : 1.0);
  double highest_Pa = std::max(inside_Pa, 0.0);
  double lowest_Pa = std::min(inside_Pa, 0.0);
  const Eigen::Index first_checked = body.solid() == Solid::slab ? 1 : last;
  for (Eigen::Index i = first_checked; i <= last; ++i) {
    highest_Pa = std::max(highest_Pa, at_Pa(i));
    lowest_Pa = std::min(lowest_Pa, at_Pa(i));
  }
  return {.surface_Pa = at_Pa(last),
          .centre_Pa = symmetric ? inside_Pa : at_Pa(last / 2),
          .largest_tension_Pa = highest_Pa,
          .largest_compression_Pa = -lowest_Pa};
}

double opening_tension_Pa(double biaxial_Pa_per_K, double biot, double difference_K) {
  if (difference_K <= 0.0 || biot <= 0.0) return 0.0;
  const double fraction = 1.0 / (1.5 + 3.25 / biot - 0.5 * std::exp(-16.0 / biot));
  return biaxial_Pa_per_K * difference_K * fraction;
}

}  // namespace thickset::stress
