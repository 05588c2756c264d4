#include "reporting/sag_report.h"

#include <algorithm>
#include <cassert>
#include <cmath>

#include <fmt/format.h>

#include "reporting/cautions.h"

namespace thickset {
namespace {

/// Certified glasses have 40 to 45 K between the two points (from memory).
constexpr auto strain_below_annealing = TemperatureDifference::from_K(42.0);

std::string range_of(const AnnealingEstimate& estimate, const Display& display) {
  return fmt::format("{} to {}", show(estimate.low, display), show(estimate.high, display));
}

std::string compared(const SagContext& context) {
  if (!context.by_rule || !context.by_beam) return "";
  const AnnealingEstimate& beam = context.by_beam->annealing;
  const bool apart = beam.low > context.by_rule->high || context.by_rule->low > beam.high;
  const TemperatureDifference by = beam.middle - context.by_rule->middle;
  return wrapped(fmt::format(
             "The two {}: the beam's middle lies {} {} the rule's. The rule fits strips of about "
             "3 mm; a thicker one touches hotter. The beam's counts here.",
             apart ? "do not meet" : "overlap",
             show_difference(size_of(by), context.display),
             by.in_K() < 0.0 ? "below" : "above")) +
         '\n';
}

/// What goes into a .glass file, in whole degrees C.
struct Lines {
  double annealing_C, uncertainty_K, strain_C;
};

Lines lines_of(const SagContext& context) {
  const AnnealingEstimate estimate = estimate_of(context);
  const double annealing_C = std::round(estimate.middle.in_C());
  const double uncertainty_K =
      std::max(estimate.high.in_C() - annealing_C, annealing_C - estimate.low.in_C());
  return {annealing_C, uncertainty_K, annealing_C - strain_below_annealing.in_K()};
}

}  // namespace

AnnealingEstimate estimate_of(const SagContext& context) {
  assert(context.by_beam || context.by_rule);
  AnnealingEstimate found = context.by_beam ? context.by_beam->annealing : *context.by_rule;
  if (!context.by_beam && context.by_thickest_beam) {
    found.low = std::min(found.low, context.by_thickest_beam->annealing.low);
    found.middle = Temperature::from_K(0.5 * (found.low.in_K() + found.high.in_K()));
  }
  return {Temperature::from_C(std::floor(found.low.in_C())),
          found.middle,
          Temperature::from_C(std::ceil(found.high.in_C()))};
}

std::string sag_text(const SagContext& context) {
  const Display& display = context.display;
  const AnnealingEstimate estimate = estimate_of(context);
  std::string text =
      wrapped(
          fmt::format("Annealing point about {}, somewhere from {}: an estimate of one sag test.",
                      show(estimate.middle, display),
                      range_of(estimate, display))) +
      "\n\n";
  text += wrapped(fmt::format("The strip over {} touched at {}, heated at {}.",
                              show(context.test.span, display),
                              show(context.test.touch, display),
                              show(context.test.heating, display))) +
          '\n';
  if (context.by_beam) {
    text += wrapped(fmt::format(
                "By beam bending: {}. To sink {} a strip {} thick must have been at 10^{:.1f} Pa s "
                "when it touched; the annealing point is at 10^12. Between the two, curves of five "
                "standard glasses and a quarter more or less viscosity for what was measured.",
                range_of(context.by_beam->annealing, display),
                show(context.strip->drop, display),
                show(context.strip->thickness, display),
                context.by_beam->log10_viscosity_at_touch_Pa_s)) +
            '\n';
  }
  if (context.by_rule) {
    text +=
        wrapped(fmt::format(
            "By the teachers' rule, touch-down less 40 °C: {}, with 15 °C either way. Unproved; "
            "made for a strip over 275 mm, heated at 50 °C/h.",
            range_of(*context.by_rule, display))) +
        '\n';
  } else {
    text += wrapped(
                "The teachers' rule, touch-down less 40 °C, is for a strip over 275 mm, heated at "
                "50 °C/h: it is not used here.") +
            '\n';
  }
  text += compared(context);
  if (context.by_thickest_beam) {
    text +=
        wrapped(fmt::format("The rule fits strips of about 3 mm, and a thicker one touches "
                            "hotter: by beam bending one of 10 mm gives {}. With --thickness of "
                            "the strip and the --drop of its middle the range gets narrower.",
                            range_of(context.by_thickest_beam->annealing, display))) +
        '\n';
  }
  const Lines lines = lines_of(context);
  text += "\nFor your .glass file:\n";
  text += fmt::format("annealing_point             = {:.0f} C   [sag test] estimate\n",
                      lines.annealing_C);
  text += fmt::format("annealing_point_uncertainty = {:.0f} K    [sag test] either way\n",
                      lines.uncertainty_K);
  text += fmt::format(
      "strain_point                = {:.0f} C   [assumed] 42 K below, as certified glasses\n",
      lines.strain_C);
  text += '\n' +
          wrapped(
              "Use the upper end for the hold, the lower end for where slow cooling may stop: "
              "`thickset hold` with that file prints the hold that serves both. An expansion "
              "number does not tell the annealing point.") +
          '\n';
  std::vector<std::string> rests = {fmt::format("The sensor is off by {} at most",
                                                show_difference(context.sensor_error, display))};
  rests.insert(rests.end(), context.assumed.begin(), context.assumed.end());
  if (context.by_beam) rests.emplace_back("Density 2500 kg/m3 (assumed)");
  text += "\nWhat it rests on:\n" + listed(rests);
  text += "\nWhat it cannot tell:\n" +
          listed({"Glass that turns milky (devitrifies) stiffens and touches late; the estimate is "
                  "then too high.",
                  "A strip that slips off, sticks to its posts or is uneven sags otherwise. Do it "
                  "twice.",
                  "The annealing point here is that of 10^12 Pa s; those of data sheets lie up to "
                  "10 K beside theirs."});
  return text + '\n' + short_cautions();
}

std::string sag_csv(const SagContext& context) {
  std::string text = "way,low_C,middle_C,high_C\n";
  const auto row = [&](const char* way, const AnnealingEstimate& estimate) {
    text += fmt::format("{},{:.6g},{:.6g},{:.6g}\n",
                        way,
                        estimate.low.in_C(),
                        estimate.middle.in_C(),
                        estimate.high.in_C());
  };
  if (context.by_beam) row("beam", context.by_beam->annealing);
  if (context.by_rule) row("rule", *context.by_rule);
  return text;
}

std::string sag_keys(const SagContext& context) {
  std::string text;
  const auto keys = [&](const char* way, const AnnealingEstimate& estimate) {
    text += fmt::format("{}_low_C = {:.6g}\n", way, estimate.low.in_C());
    text += fmt::format("{}_middle_C = {:.6g}\n", way, estimate.middle.in_C());
    text += fmt::format("{}_high_C = {:.6g}\n", way, estimate.high.in_C());
  };
  if (context.by_rule) keys("rule", *context.by_rule);
  if (context.by_beam) {
    keys("beam", context.by_beam->annealing);
    text += fmt::format("log10_viscosity_at_touch_Pa_s = {:.6g}\n",
                        context.by_beam->log10_viscosity_at_touch_Pa_s);
  }
  const Lines lines = lines_of(context);
  text += fmt::format("annealing_point_C = {:.6g}\n", lines.annealing_C);
  text += fmt::format("annealing_point_uncertainty_K = {:.6g}\n", lines.uncertainty_K);
  return text + fmt::format("strain_point_C = {:.6g}\n", lines.strain_C);
}

}  // namespace thickset
