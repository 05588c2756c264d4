#include "checking/slips_of_ramps.h"

#include <algorithm>
#include <cmath>
#include <span>
#include <string>

#include <fmt/format.h>

#include "checking/another_reading.h"
#include "checking/ramp_suspects.h"

namespace thickset {
namespace {

/// "9.2 C/h", "459 C/h".
std::string rate_in_words(Rate rate, Degrees degrees) {
  const double value = in_degrees_per_h(rate, degrees);
  return fmt::format("{:.{}f} °{}/h",
                     value,
                     value >= 10.0  ? 0
                     : value >= 1.0 ? 1
                                    : 2,
                     letter(degrees));
}

std::string number_as_keyed(const Step& step, Degrees degrees) {
  if (const auto* const rate = std::get_if<Rate>(&step.pace))
    return fmt::format("{:.4g} °{}/h", in_degrees_per_h(*rate, degrees), letter(degrees));
  return fmt::format("{:.6g} min", in_min(std::get<Duration>(step.pace)));
}

/// "153 C in 20 min, 459 C/h" or "153 C at 300 C/h, 31 min".
std::string as_keyed(const CheckedProgram& checked, std::size_t i) {
  const Step& step = checked.program.steps[i];
  const Degrees degrees = checked.program.degrees;
  const KeyedStep keyed = checked.keyed(i);
  const auto distance = TemperatureDifference::from_K(std::abs((keyed.to - keyed.from).in_K()));
  const Duration time = seconds(distance.in_K() / keyed.rate->in_K_per_s());
  const bool by_rate = std::holds_alternative<Rate>(step.pace);
  return fmt::format(
      "{} {:.4g} °{} {} {}, {}",
      keyed.to < keyed.from ? "falls" : "heats",
      in_degrees(distance, degrees),
      letter(degrees),
      by_rate ? "at" : "in",
      number_as_keyed(step, degrees),
      by_rate ? in_words(minutes(std::round(in_min(time)))) : rate_in_words(*keyed.rate, degrees));
}

std::string needs(const CheckedProgram& checked, const RampSuspect& suspect) {
  if (!suspect.bearable) return "many times as long as this kiln takes by itself";
  return fmt::format("where this casting bears about {}",
                     rate_in_words(*suspect.bearable, checked.program.degrees));
}

std::string text_of_one(const CheckedProgram& checked, const RampSuspect& suspect) {
  std::string meant = suspect.readings.front().meant;
  std::string key = suspect.readings.front().key;
  if (suspect.readings.size() > 1) {
    meant += " or " + suspect.readings[1].meant;
    key += " or " + suspect.readings[1].key;
  }
  return fmt::format("{} {}, {}: looks like {} meant? then key {}",
                     checked.step_name(suspect.step),
                     as_keyed(checked, suspect.step),
                     needs(checked, suspect),
                     meant,
                     key);
}

std::string what_they_are(AnotherReading::As as, Notation notation) {
  switch (as) {
    case AnotherReading::As::hours: return "hours where minutes belong";
    case AnotherReading::As::hours_and_minutes: return "hours and minutes where minutes belong";
    case AnotherReading::As::rate: return "rates where minutes belong";
    case AnotherReading::As::minutes: break;
  }
  return notation == Notation::time ? "minutes keyed as hours" : "minutes where rates belong";
}

std::string text_of_many(const CheckedProgram& checked, std::span<const RampSuspect> same) {
  std::string steps, numbers, keys;
  for (std::size_t i = 0; i < same.size(); ++i) {
    const char* const joint = i == 0 ? "" : i + 1 == same.size() ? " and " : ", ";
    const Step& step = checked.program.steps[same[i].step];
    steps += fmt::format("{}{}", joint, static_cast<int>(same[i].step) + checked.firing.first_step);
    numbers += joint + number_as_keyed(step, checked.program.degrees);
    keys += joint + same[i].readings.front().key;
  }
  return fmt::format(
      "steps {} ({}): each is far {} than this casting {}: look like {}? then key {}",
      steps,
      numbers,
      same.front().fast ? "faster" : "slower",
      same.front().fast ? "bears" : "needs",
      what_they_are(same.front().readings.front().as, checked.program.notation),
      keys);
}

}  // namespace

std::vector<Finding> slips_of_ramps(const CheckedProgram& checked) {
  std::vector<RampSuspect> suspects = ramp_suspects(checked);
  std::vector<Finding> findings;
  while (!suspects.empty()) {
    const RampSuspect first = suspects.front();
    const auto alike = [&](const RampSuspect& other) {
      return other.fast == first.fast && other.readings.front().as == first.readings.front().as;
    };
    const auto rest = std::stable_partition(suspects.begin(), suspects.end(), alike);
    const std::span<const RampSuspect> same{suspects.begin(), rest};
    findings.push_back(
        {.kind = Finding::Kind::notation_slip,
         .step = static_cast<int>(first.step),
         .text = same.size() > 1 ? text_of_many(checked, same) : text_of_one(checked, first)});
    suspects.erase(suspects.begin(), rest);
  }
  return findings;
}

}  // namespace thickset
