#include "glass/viscosity_curve.h"

#include <doctest/doctest.h>

#include <cmath>
#include <optional>

using namespace thickset;

namespace {

Temperature C(double t_C) {
  return Temperature::from_C(t_C);
}

constexpr double round_off = 1e-10;

/// A glass measured by its isokoms (temperatures of equal viscosity), in C, and its published VFT
/// curve log10(viscosity in dPa s) = A + B/(T - T0), T in C.
///
/// Isokoms: [FLUEGEL07] table 12, "experimental", printed to 1 C.
/// Curves: DGG I from [EGST21]; SRM 710 and 711 from their certificates [SRM710], [SRM711], from
/// memory, both reproduce the isokoms of [FLUEGEL07] to 0.6 C.
struct StandardGlass {
  const char* name;
  double at_1_5_C, at_6_6_C, at_12_C;
  double A, B_C, T0_C;

  double vft_C(double log10_viscosity_Pa_s) const {
    return T0_C + B_C / (log10_viscosity_Pa_s + 1.0 - A);
  }
};
constexpr StandardGlass standard_glasses[] = {
    {"SRM 710", 1293.0, 725.0, 556.0, -1.626, 4239.0, 266.0},
    {"SRM 711", 1185.0, 614.0, 443.0, -1.621, 4254.649, 152.1},
    {"DGG I", 1301.0, 721.0, 539.0, -1.601, 4330.9, 246.1}};

/// The curve through a glass's own isokoms at 10^12, 10^13.5 (from its VFT curve) and 10^6.6 Pa s.
ViscosityCurve curve_of(const StandardGlass& glass) {
  return {C(glass.at_12_C), C(glass.vft_C(13.5)), C(glass.at_6_6_C)};
}

}  // namespace

TEST_CASE("a viscosity curve meets its three points to round-off and goes back from each") {
  const ViscosityCurve curve{C(548.0), C(510.0), C(728.0)};
  CHECK(std::abs(curve.log10_viscosity_Pa_s(C(548.0)) - 12.0) <= round_off);
  CHECK(std::abs(curve.log10_viscosity_Pa_s(C(510.0)) - 13.5) <= round_off);
  CHECK(std::abs(curve.log10_viscosity_Pa_s(C(728.0)) - 6.6) <= round_off);
  for (double log10_Pa_s = -1.0; log10_Pa_s < 20.0; log10_Pa_s += 0.25) {
    CAPTURE(log10_Pa_s);
    const Temperature there = curve.at_log10_viscosity(log10_Pa_s);
    CHECK(std::abs(curve.log10_viscosity_Pa_s(there) - log10_Pa_s) <= round_off);
  }
}

TEST_CASE("a viscosity curve falls steadily with temperature, with and without a softening point") {
  for (const auto& softening : {std::optional<Temperature>{}, std::optional{C(690.0)}}) {
    const ViscosityCurve curve{C(516.0), C(480.0), softening};
    for (double t_C = 20.0; t_C < 1400.0; t_C += 1.0) {
      CAPTURE(t_C);
      CHECK(curve.log10_viscosity_Pa_s(C(t_C + 1.0)) < curve.log10_viscosity_Pa_s(C(t_C)));
    }
  }
}

TEST_CASE("two points 516 and 480 C give an activation of 57 000 K, whatever the softening point") {
  // By hand: ln(10^1.5) / (1/753.15 - 1/789.15) = 3.453878 / 6.05704e-5.
  constexpr double expected_K = 57022.0;
  constexpr double last_digit_by_hand_K = 1.0;
  CHECK(std::abs(ViscosityCurve(C(516.0), C(480.0), std::nullopt).activation_K() - expected_K) <=
        last_digit_by_hand_K);
  CHECK(ViscosityCurve(C(516.0), C(480.0), C(690.0)).activation_K() ==
        ViscosityCurve(C(516.0), C(480.0), std::nullopt).activation_K());
}

TEST_CASE("without a softening point the line through the two points goes on above them") {
  const ViscosityCurve curve{C(516.0), C(480.0), std::nullopt};
  // Equal steps of 1/T are equal steps of log10(viscosity).
  const double step_per_K = 1.0 / C(480.0).in_K() - 1.0 / C(516.0).in_K();
  const Temperature above = Temperature::from_K(1.0 / (1.0 / C(516.0).in_K() - step_per_K));
  CHECK(std::abs(curve.log10_viscosity_Pa_s(above) - 10.5) <= round_off);
}

TEST_CASE("between annealing and softening point the curve is that of the standard glasses") {
  // Through two points of a published curve; between them only the rounding of A to -2.6 is left,
  // which is under 0.03 decades where the slope is 0.02 decades per K or more.
  constexpr double rounding_of_A_K = 1.0;
  for (const StandardGlass& glass : standard_glasses) {
    const ViscosityCurve curve{C(glass.vft_C(12.0)), C(glass.vft_C(13.5)), C(glass.vft_C(6.6))};
    for (double log10_Pa_s = 6.6; log10_Pa_s <= 12.0; log10_Pa_s += 0.6) {
      CAPTURE(glass.name);
      CAPTURE(log10_Pa_s);
      CHECK(std::abs(curve.at_log10_viscosity(log10_Pa_s).in_C() - glass.vft_C(log10_Pa_s)) <=
            rounding_of_A_K);
    }
  }
}

TEST_CASE("from annealing and softening point alone the melting range is met to 3 %") {
  // Five decades beyond the softening point; the one number taken from elsewhere is A = -2.6. The
  // exact three-point A of these glasses is -2.60, -2.64 and -2.92 (computed), and 0.32 in A moves
  // the 10^1.5 isokom by 32 K: 3 % of its distance from 0 C.
  constexpr double largest_share = 0.03;
  for (const StandardGlass& glass : standard_glasses) {
    CAPTURE(glass.name);
    CHECK(std::abs(curve_of(glass).at_log10_viscosity(1.5).in_C() - glass.at_1_5_C) <=
          largest_share * glass.at_1_5_C);
  }
  // The glass whose own A is -2.6 is met to the last digits printed.
  constexpr double printed_digit_of_three_isokoms_C = 3.0;
  CHECK(std::abs(curve_of(standard_glasses[0]).at_log10_viscosity(1.5).in_C() - 1293.0) <=
        printed_digit_of_three_isokoms_C);
}

TEST_CASE("fixed points and isokoms of one certified glass differ by 10 K and more") {
  // Certified fixed points of SRM 710: 546, 504, 724 C ([SRM710], from memory). At its annealing
  // point the curve through the isokoms is far from 10^12 Pa s, which is why the fixed points are
  // called uncertain by about 10 K.
  const ViscosityCurve isokoms = curve_of(standard_glasses[0]);
  const ViscosityCurve fixed_points{C(546.0), C(504.0), C(724.0)};
  const double apart_K =
      isokoms.at_log10_viscosity(12.0).in_K() - fixed_points.at_log10_viscosity(12.0).in_K();
  constexpr double printed_digit_K = 1e-6;
  CHECK(std::abs(apart_K - 10.0) <= printed_digit_K);
  CHECK(isokoms.log10_viscosity_Pa_s(C(546.0)) > 12.4);
}
