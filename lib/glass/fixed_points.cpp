#include "glass/fixed_points.h"

#include <fmt/format.h>

#include "glass/viscosity_curve.h"

namespace thickset {
namespace {

// Certified glasses have 40 to 45 K between annealing and strain point, fused silica 100 K.
constexpr double least_gap_K = 10.0;
constexpr double largest_gap_K = 120.0;
// Published activations near the transition, over the gas constant, are 45 000 to 76 000 K.
constexpr double least_activation_K = 20e3;
constexpr double largest_activation_K = 150e3;

void check_below(const Placed<Temperature>& low,
                 const char* low_name,
                 const Placed<Temperature>& high,
                 const char* high_name,
                 Problems& problems) {
  if (low.value < high.value) return;
  problems.add(low.place,
               fmt::format("{} point {:.5g} C is not below {} point {:.5g} C ({})",
                           low_name,
                           low.value.in_C(),
                           high_name,
                           high.value.in_C(),
                           to_string(high.place)),
               "compare both with the data sheet; the two are often swapped");
}

void check_gap(const Placed<Temperature>& strain,
               const Placed<Temperature>& annealing,
               Problems& problems) {
  const double gap_K = (annealing.value - strain.value).in_K();
  if (!(gap_K > 0.0)) return;  // said by check_below
  if (!(gap_K >= least_gap_K && gap_K <= largest_gap_K)) {
    problems.add(
        strain.place,
        fmt::format("strain point {:.5g} C is {:.4g} K below annealing point {:.5g} C ({}), "
                    "outside {:g}..{:g} K",
                    strain.value.in_C(),
                    gap_K,
                    annealing.value.in_C(),
                    to_string(annealing.place),
                    least_gap_K,
                    largest_gap_K),
        "compare both with the data sheet; most glasses have 30 to 50 K");
    return;
  }
  const double activation_K =
      ViscosityCurve{annealing.value, strain.value, std::nullopt}.activation_K();
  if (!(activation_K >= least_activation_K && activation_K <= largest_activation_K)) {
    problems.add(strain.place,
                 fmt::format("strain point {:.5g} C and annealing point {:.5g} C ({}) give an "
                             "activation of {:.0f} K, outside {:.0f}..{:.0f} K",
                             strain.value.in_C(),
                             annealing.value.in_C(),
                             to_string(annealing.place),
                             activation_K,
                             least_activation_K,
                             largest_activation_K),
                 "compare both with the data sheet; most glasses have 30 to 50 K between them");
  }
}

}  // namespace

void check_points(const FixedPoints& points, Problems& problems) {
  if (points.strain && points.annealing) {
    check_below(*points.strain, "strain", *points.annealing, "annealing", problems);
    check_gap(*points.strain, *points.annealing, problems);
  }
  if (points.annealing && points.softening) {
    check_below(*points.annealing, "annealing", *points.softening, "softening", problems);
  }
}

}  // namespace thickset
