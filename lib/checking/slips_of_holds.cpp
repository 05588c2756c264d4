#include "checking/slips_of_holds.h"

#include <algorithm>
#include <cmath>
#include <optional>

#include <fmt/format.h>

#include "checking/another_reading.h"
#include "checking/casting_needs.h"
#include "relaxation/relaxation_time.h"
#include "units/spoken.h"

namespace thickset {
namespace {

// Of the time that the glass needs.
constexpr double absurdly_short = 1.0 / 4.0;
constexpr double absurd_hold = 25.0;
constexpr double shortest_fitting_hold = 0.7;
constexpr double longest_fitting_hold = 6.0;
constexpr Duration longest_meant = hours(48.0);  // nobody keys more in hours
// Digits of h:mm read as minutes are at most 1.7 times as long: the fit has to be close.
constexpr double longest_clock = 1.15;

constexpr Duration long_hold = hours(48.0);        // a shorter one is none that is too long
constexpr Duration very_long_hold = hours(100.0);  // nor, away from the anneal, this one
constexpr Duration long_meant = hours(12.0);

Finding slip(std::size_t step, std::string text) {
  return {.kind = Finding::Kind::notation_slip,
          .step = static_cast<int>(step),
          .text = std::move(text)};
}

/// "step 1 holds 4 min at 513 C".
std::string holds(const CheckedProgram& checked, const Leg& leg) {
  const Duration time = std::get<Duration>(leg.pace);
  const std::string words = in_words(time);
  const std::string number = fmt::format("{:.6g} min", in_min(time));
  return fmt::format("{} holds {}{} at {}",
                     checked.step_name(static_cast<std::size_t>(leg.step)),
                     number,
                     words == number ? "" : fmt::format(" ({})", words),
                     spoken(leg.to, checked.program.degrees));
}

std::optional<Finding> too_short(const CheckedProgram& checked, const Leg& leg, Duration needed) {
  const Duration keyed = std::get<Duration>(leg.pace);
  if (keyed > absurdly_short * needed) return std::nullopt;
  std::vector<AnotherReading> readings = readings_of_short_time(keyed);
  std::erase_if(readings, [&](const AnotherReading& reading) {
    return reading.time > longest_meant || reading.time < shortest_fitting_hold * needed ||
           reading.time > longest_fitting_hold * needed;
  });
  if (readings.empty()) return std::nullopt;
  std::string meant = readings.front().meant;
  std::string key = readings.front().key;
  if (readings.size() > 1) {
    meant += " or " + readings[1].meant;
    key += " or " + readings[1].key;
  }
  return slip(static_cast<std::size_t>(leg.step),
              fmt::format("{}, but {}: looks like {} meant? then key {}",
                          holds(checked, leg),
                          even_after(needed),
                          meant,
                          key));
}

std::optional<Finding> too_long(const CheckedProgram& checked,
                                const Leg& leg,
                                std::optional<Duration> needed) {
  const Duration keyed = std::get<Duration>(leg.pace);
  const AnotherReading meant = reading_of_long_time(keyed);
  const bool fits = needed ? keyed > long_hold && keyed > absurd_hold * *needed &&
                                 meant.time > shortest_fitting_hold * *needed
                           : keyed > very_long_hold && meant.time < long_meant;
  if (!fits) return std::nullopt;
  return slip(static_cast<std::size_t>(leg.step),
              fmt::format("{}{}: looks like {} meant? then key {}",
                          holds(checked, leg),
                          needed ? fmt::format(", where {}", even_after(*needed)) : "",
                          meant.meant,
                          meant.key));
}

std::optional<Finding> clock_digits(const CheckedProgram& checked,
                                    const Leg& leg,
                                    Duration needed) {
  const auto meant = reading_as_clock(std::get<Duration>(leg.pace));
  const Duration relaxed = needed + relaxation::time_to_relax(checked.casting.glass, leg.to);
  constexpr double round_min = 30.0;
  const bool round_as_minutes =
      std::remainder(in_min(std::get<Duration>(leg.pace)), round_min) == 0.0;
  if (!meant || round_as_minutes || meant->time < relaxed || meant->time > longest_clock * relaxed)
    return std::nullopt;
  return slip(static_cast<std::size_t>(leg.step),
              fmt::format("{}, where {}: looks like {} meant? then key {}",
                          holds(checked, leg),
                          even_after(needed),
                          meant->meant,
                          meant->key));
}

}  // namespace

std::vector<Finding> slips_of_holds(const CheckedProgram& checked) {
  std::vector<Finding> findings;
  const auto& anneal = checked.result.measured.hold;
  std::optional<Duration> needed;
  if (anneal && anneal->step < static_cast<int>(checked.program.steps.size()))
    needed = time_to_even_at(checked, static_cast<std::size_t>(anneal->step));
  for (const Leg& leg : legs(checked.program, checked.start())) {
    if (!leg.is_hold) continue;
    const bool anneals = needed && leg.step == anneal->step;
    std::optional<Finding> finding =
        too_long(checked, leg, anneals ? needed : std::optional<Duration>{});
    if (!finding && anneals) finding = too_short(checked, leg, *needed);
    if (!finding && anneals) finding = clock_digits(checked, leg, *needed);
    if (finding) findings.push_back(std::move(*finding));
  }
  return findings;
}

}  // namespace thickset
