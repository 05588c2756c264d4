#include "reporting/sag_report.h"

#include <algorithm>
#include <cassert>
#include <cmath>

#include <fmt/format.h>

#include "reporting/cautions.h"

namespace thickset {
namespace {

constexpr double round_off = 1e-6;  // of a whole degree, turned from other degrees

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
             "{}; a thicker one touches hotter. The beam's counts here.",
             apart ? "do not meet" : "overlap",
             show_difference(size_of(by), context.display),
             by.in_K() < 0.0 ? "below" : "above",
             shown_size(Length::from_mm(3.0), context.display))) +
         '\n';
}

/// What goes into a .glass file, in whole degrees.
struct Lines {
  double annealing, uncertainty, strain;
};

Lines lines_of(const SagContext& context, Degrees degrees) {
  const AnnealingEstimate estimate = estimate_of(context);
  const double annealing = std::round(in_degrees(estimate.middle, degrees));
  const double above = in_degrees(estimate.high, degrees) - annealing;
  const double below = annealing - in_degrees(estimate.low, degrees);
  return {annealing,
          std::ceil(std::max(above, below) - round_off),
          std::round(annealing - in_degrees(strain_below_annealing, degrees))};
}

/// Of the teachers' rule: common practice, no source.
constexpr auto rule_takes_off = TemperatureDifference::from_K(40.0);
constexpr auto rule_either_way = TemperatureDifference::from_K(15.0);

std::string conditions_of_rule(const Display& display) {
  return fmt::format("a strip over {}, heated at {}",
                     show(Length::from_mm(275.0), display),
                     show(Rate::from_K_per_h(50.0), display));
}

std::string glass_file_lines(const SagContext& context) {
  const Degrees degrees = context.display.degrees;
  const Lines lines = lines_of(context, degrees);
  const char* unit = letter(degrees);
  std::string text = "\nFor your .glass file:\n";
  text += fmt::format(
      "annealing_point             = {:.0f} {}   [sag test] estimate\n", lines.annealing, unit);
  text += fmt::format("annealing_point_uncertainty = {:.0f} {}    [sag test] either way\n",
                      lines.uncertainty,
                      unit);
  text += fmt::format(
      "strain_point                = {:.0f} {}   [assumed] {} below: certified glasses\n",
      lines.strain,
      unit,
      show_difference(strain_below_annealing, context.display));
  return text +
         wrapped(
             "It needs the glass's expansion as well, which no sag test tells: add a line "
             "such as `expansion = 9.0e-6 /K` with your glass's own number.") +
         '\n';
}

}  // namespace

std::string shown_size(Length size, const Display& display) {
  return display.lengths == Lengths::inch ? show(size, display)
                                          : fmt::format("{:g} mm", size.in_mm());
}

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
            "By the teachers' rule, touch-down less {}: {}, with {} either way and the {} of the "
            "sensor. Unproved; made for {}.",
            show_difference(rule_takes_off, display),
            range_of(*context.by_rule, display),
            show_difference(rule_either_way, display),
            show_difference(context.sensor_error, display),
            conditions_of_rule(display))) +
        '\n';
  } else {
    text += wrapped(fmt::format("The teachers' rule, touch-down less {}, is for {}: it is not used "
                                "here.",
                                show_difference(rule_takes_off, display),
                                conditions_of_rule(display))) +
            '\n';
  }
  text += compared(context);
  if (context.by_thickest_beam) {
    text += wrapped(fmt::format("The rule fits strips of about {}, and a thicker one touches "
                                "hotter: by beam bending one of {} gives {}. With --thickness of "
                                "the strip and the --drop of its middle the range gets narrower.",
                                shown_size(Length::from_mm(3.0), display),
                                show(Length::from_mm(10.0), display),
                                range_of(context.by_thickest_beam->annealing, display))) +
            '\n';
  }
  text += glass_file_lines(context);
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
          listed(std::vector<std::string>{
              "Glass that turns milky (devitrifies) stiffens and touches late; the estimate is "
              "then too high.",
              "A strip that slips off, sticks to its posts or is uneven sags otherwise. Do it "
              "twice.",
              fmt::format("The annealing point here is that of 10^12 Pa s; those of data sheets "
                          "lie up to {} beside theirs.",
                          show_difference(TemperatureDifference::from_K(10.0), display))});
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
  const Lines lines = lines_of(context, Degrees::celsius);
  text += fmt::format("annealing_point_C = {:.6g}\n", lines.annealing);
  text += fmt::format("annealing_point_uncertainty_K = {:.6g}\n", lines.uncertainty);
  return text + fmt::format("strain_point_C = {:.6g}\n", lines.strain);
}

}  // namespace thickset
