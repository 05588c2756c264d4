#include "glass/sag_test.h"

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>

#include <fmt/format.h>

#include "base/error.h"

namespace thickset {
namespace {

/// Through three isokoms: log10(eta / Pa s) = A + B / (t - t0), t in C.
struct Vft {
  double A, B_K, t0_C;

  double log10_viscosity_Pa_s(double t_C) const { return A + B_K / (t_C - t0_C); }
};

/// Temperatures of viscosity 10^1.5, 10^6.6 and 10^12 Pa s. Source: [FLUEGEL07], table 12.
struct Isokoms {
  double at_1_5_C, at_6_6_C, at_12_C;
};
constexpr std::array<Isokoms, 5> standard_glasses = {{{1293.0, 725.0, 556.0},    // SRM 710
                                                      {1319.0, 731.0, 545.0},    // SRM 710a
                                                      {1185.0, 614.0, 443.0},    // SRM 711
                                                      {1388.0, 719.0, 514.0},    // SRM 717a
                                                      {1301.0, 721.0, 539.0}}};  // DGG I

Vft through(const Isokoms& t) {
  // (y1 - y2) / (y2 - y3) = (t2 - t1)(t3 - t0) / ((t3 - t2)(t1 - t0)), linear in t0.
  constexpr double y1 = 12.0, y2 = 6.6, y3 = 1.5;
  const double q = (y1 - y2) * (t.at_1_5_C - t.at_6_6_C) / ((y2 - y3) * (t.at_6_6_C - t.at_12_C));
  const double t0_C = (q * t.at_12_C - t.at_1_5_C) / (q - 1.0);
  const double B_K = (y1 - y2) / (1.0 / (t.at_12_C - t0_C) - 1.0 / (t.at_6_6_C - t0_C));
  return {y1 - B_K / (t.at_12_C - t0_C), B_K, t0_C};
}

constexpr double farthest_above_K = 300.0;

/// How far above its 10^12 Pa s a glass is when its strip has sunk by the drop; and how stiff it is
/// then.
struct Touch {
  double above_annealing_K;
  double log10_viscosity_Pa_s;
};

/// In: sink_Pa = viscosity times the rate at which the middle sinks, over the drop, times time per
///     kelvin: the strip has touched when the integral of sink / viscosity reaches 1.
std::optional<Touch> touch_of(const Isokoms& glass, double sink_Pa_s_per_K) {
  const Vft curve = through(glass);
  constexpr double from_below_K = 60.0;  // at 10^14 Pa s and more nothing sinks
  constexpr double step_K = 0.05;
  double sunk = 0.0;
  for (double above_K = -from_below_K; above_K < farthest_above_K; above_K += step_K) {
    const double middle_C = glass.at_12_C + above_K + 0.5 * step_K;
    const double log10_eta = curve.log10_viscosity_Pa_s(middle_C);
    const double more = step_K * sink_Pa_s_per_K / std::pow(10.0, log10_eta);
    if (sunk + more >= 1.0) return Touch{above_K + step_K * (1.0 - sunk) / more, log10_eta};
    sunk += more;
  }
  return std::nullopt;
}

void check_beam(const SagTest& test, const SagStrip& strip) {
  constexpr double largest_drop = 0.2, largest_thickness = 0.1;
  if (!(strip.drop.in_m() <= largest_drop * test.span.in_m())) {
    throw Error{{"--drop"},
                fmt::format("{:g} mm is more than a fifth of the span of {:g} mm",
                            strip.drop.in_mm(),
                            test.span.in_mm()),
                "a strip that hangs so deep is no longer a beam: let it touch sooner"};
  }
  if (!(strip.thickness.in_m() <= largest_thickness * test.span.in_m())) {
    throw Error{{"--thickness"},
                fmt::format("{:g} mm is more than a tenth of the span of {:g} mm",
                            strip.thickness.in_mm(),
                            test.span.in_mm()),
                "take a thinner strip or a longer span"};
  }
}

}  // namespace

std::optional<AnnealingEstimate> annealing_by_rule(const SagTest& test,
                                                   TemperatureDifference sensor_error) {
  constexpr double rule_span_mm = 275.0, rule_rate_K_per_h = 50.0;
  constexpr double span_share = 0.1, rate_share = 0.2;
  const bool as_taught =
      std::abs(test.span.in_mm() - rule_span_mm) <= span_share * rule_span_mm &&
      std::abs(test.heating.in_K_per_h() - rule_rate_K_per_h) <= rate_share * rule_rate_K_per_h;
  if (!as_taught) return std::nullopt;
  constexpr auto below_touch = TemperatureDifference::from_K(40.0);
  constexpr auto doubt = TemperatureDifference::from_K(15.0);
  const Temperature middle = test.touch - below_touch;
  return AnnealingEstimate{middle - doubt - sensor_error, middle, middle + doubt + sensor_error};
}

double sag_rate_m_per_s(double span_m,
                        double thickness_m,
                        double density_kg_per_m3,
                        double viscosity_Pa_s) {
  constexpr double gravity_m_per_s2 = 9.80665;
  const double span_squared_m2 = span_m * span_m;
  return 5.0 * density_kg_per_m3 * gravity_m_per_s2 * span_squared_m2 * span_squared_m2 /
         (96.0 * viscosity_Pa_s * thickness_m * thickness_m);
}

SagByBeam annealing_by_beam(const SagTest& test,
                            const SagStrip& strip,
                            TemperatureDifference sensor_error) {
  assert(test.heating.in_K_per_s() > 0.0 && strip.drop.in_m() > 0.0);
  check_beam(test, strip);
  constexpr double density_kg_per_m3 = 2500.0;
  const double sink_Pa_s_per_K =
      sag_rate_m_per_s(test.span.in_m(), strip.thickness.in_m(), density_kg_per_m3, 1.0) /
      (strip.drop.in_m() * test.heating.in_K_per_s());
  double least_K = farthest_above_K, most_K = -farthest_above_K, sum_log10 = 0.0;
  for (const Isokoms& glass : standard_glasses) {
    for (const double measured : {0.75, 1.0, 1.25}) {
      const std::optional<Touch> touch = touch_of(glass, measured * sink_Pa_s_per_K);
      if (!touch) {
        throw Error{{"--drop"},
                    fmt::format("a strip {:g} mm thick over {:g} mm would not sink {:g} mm before "
                                "it is far too hot",
                                strip.thickness.in_mm(),
                                test.span.in_mm(),
                                strip.drop.in_mm()),
                    "check thickness, span, drop and their units"};
      }
      least_K = std::min(least_K, touch->above_annealing_K);
      most_K = std::max(most_K, touch->above_annealing_K);
      if (measured == 1.0) sum_log10 += touch->log10_viscosity_Pa_s;
    }
  }
  const Temperature low = test.touch - TemperatureDifference::from_K(most_K) - sensor_error;
  const Temperature high = test.touch - TemperatureDifference::from_K(least_K) + sensor_error;
  return {.annealing = {low, Temperature::from_K(0.5 * (low.in_K() + high.in_K())), high},
          .log10_viscosity_at_touch_Pa_s = sum_log10 / standard_glasses.size()};
}

}  // namespace thickset
