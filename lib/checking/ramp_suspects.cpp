#include "checking/ramp_suspects.h"

#include <algorithm>
#include <cmath>
#include <optional>

#include "checking/another_reading.h"
#include "checking/casting_needs.h"
#include "checking/limit_findings.h"
#include "checking/slips_of_zero.h"

namespace thickset {
namespace {

// Rates over the bearable one, an estimate within a factor of three.
constexpr double absurdly_fast = 6.0;
constexpr double absurdly_slow = 1.0 / 40.0;
constexpr double slowest_fitting = 1.0 / 4.0;
constexpr double fastest_fitting = 1.5;
// Of steps that are all read in one way.
constexpr double slowest_alike = 1.0 / 6.0;
constexpr double fastest_alike = 3.0;
// Of the kiln's own time, where the glass bears any pace.
constexpr double absurdly_long = 10.0;
constexpr double shortest_fitting = 0.15;
constexpr double longest_fitting = 8.0;

constexpr Duration long_ramp = hours(8.0);  // a shorter one is none that is too slow
constexpr double others_faster = 5.0;       // than the slow one, if it is the odd one out
constexpr double too_fast_costs = 2.0;      // as much as too slow, in logarithms
constexpr double about_as_likely = 0.5;     // difference of logarithms
constexpr double near_limits = 2.0;         // value over limit that a reading may leave in its step

Rate rate_of(double distance_K, Duration time) {
  return Rate::from_K_per_s(distance_K / in_s(time));
}

/// The readings whose `ratio` is in the range, nearest to one first; a second only where it is
/// about as near.
template <class Ratio>
std::vector<AnotherReading> fitting(std::vector<AnotherReading> readings,
                                    const Ratio& ratio,
                                    double least,
                                    double most) {
  std::erase_if(readings, [&](const AnotherReading& reading) {
    const double value = ratio(reading);
    return !(value >= least && value <= most);
  });
  const auto cost = [&](const AnotherReading& reading) {
    const double off = std::log(ratio(reading));
    return off > 0.0 ? too_fast_costs * off : -off;
  };
  std::stable_sort(
      readings.begin(), readings.end(), [&](const AnotherReading& a, const AnotherReading& b) {
        return cost(a) < cost(b);
      });
  if (readings.size() > 2) readings.erase(readings.begin() + 2, readings.end());
  if (readings.size() == 2 && cost(readings[1]) > cost(readings[0]) + about_as_likely)
    readings.pop_back();
  return readings;
}

/// How fast each other cooling step is against what the casting bears: the median.
double others_ratio(const CheckedProgram& checked, const BearableRate& bears, std::size_t but) {
  std::vector<double> ratios;
  for (std::size_t i = 0; i < checked.program.steps.size(); ++i) {
    const KeyedStep keyed = checked.keyed(i);
    if (i == but || !keyed.rate || keyed.to >= keyed.from) continue;
    const auto bearable = bears.over(keyed.from, keyed.to);
    if (bearable) ratios.push_back(keyed.rate->in_K_per_s() / bearable->in_K_per_s());
  }
  if (ratios.empty()) return 1.0;
  const auto middle = ratios.begin() + static_cast<std::ptrdiff_t>(ratios.size() / 2);
  std::nth_element(ratios.begin(), middle, ratios.end());
  return *middle;
}

std::optional<RampSuspect> suspect_at(const CheckedProgram& checked,
                                      const BearableRate& bears,
                                      std::size_t i) {
  const KeyedStep keyed = checked.keyed(i);
  if (!keyed.rate || keys_own_pace(checked, i)) return std::nullopt;
  const Step& step = checked.program.steps[i];
  const Degrees degrees = checked.program.degrees;
  const double distance_K = std::abs((keyed.to - keyed.from).in_K());
  const Duration time = seconds(distance_K / keyed.rate->in_K_per_s());
  RampSuspect suspect{
      .step = i, .fast = true, .bearable = bears.over(keyed.from, keyed.to), .readings = {}};
  if (suspect.bearable) {
    const auto against_bearable = [&](const AnotherReading& reading) {
      return rate_of(distance_K, reading.time).in_K_per_s() / suspect.bearable->in_K_per_s();
    };
    const double as_keyed = keyed.rate->in_K_per_s() / suspect.bearable->in_K_per_s();
    suspect.fast = as_keyed > absurdly_fast && checked.hurts(i);
    const bool slow = as_keyed < absurdly_slow && time > long_ramp &&
                      others_ratio(checked, bears, i) > others_faster * as_keyed;
    if (!suspect.fast && !slow) return std::nullopt;
    suspect.readings = fitting(suspect.fast ? readings_of_fast_ramp(step, distance_K, degrees)
                                            : readings_of_slow_ramp(step, distance_K, degrees),
                               against_bearable,
                               slowest_fitting,
                               fastest_fitting);
    if (suspect.fast) {
      suspect.if_alike = readings_of_fast_ramp(step, distance_K, degrees);
      std::erase_if(suspect.if_alike, [&](const AnotherReading& reading) {
        const double ratio = against_bearable(reading);
        return !(ratio >= slowest_alike && ratio <= fastest_alike);
      });
    }
  } else if (keyed.to < keyed.from) {
    const NaturalCooling natural = checked.kiln.natural_cooling.in_room(checked.firing.room);
    const Duration own = natural.time_to_fall(keyed.from, keyed.to);
    if (time < long_ramp || time < absurdly_long * own) return std::nullopt;
    suspect.fast = false;
    const auto against_own = [&](const AnotherReading& reading) { return reading.time / own; };
    suspect.readings = fitting(readings_of_slow_ramp(step, distance_K, degrees),
                               against_own,
                               shortest_fitting,
                               longest_fitting);
  }
  if (suspect.readings.empty()) return std::nullopt;
  return suspect;
}

/// Who makes one slip in a program makes it throughout: where one way of reading does for every
/// step that is too fast, they are read so; the way that is the likeliest of most of them.
void read_alike(std::vector<RampSuspect>& suspects) {
  constexpr AnotherReading::As ways[] = {AnotherReading::As::hours_and_minutes,
                                         AnotherReading::As::hours,
                                         AnotherReading::As::rate,
                                         AnotherReading::As::minutes};
  // One number with two decimals tells how all are written.
  const bool point_minutes =
      std::any_of(suspects.begin(), suspects.end(), [](const RampSuspect& suspect) {
        return !suspect.if_alike.empty() &&
               suspect.if_alike.front().as == AnotherReading::As::hours_and_minutes;
      });
  std::optional<AnotherReading::As> best;
  std::ptrdiff_t most = 0;
  for (const AnotherReading::As way : ways) {
    const bool does =
        std::all_of(suspects.begin(), suspects.end(), [&](const RampSuspect& suspect) {
          return !suspect.fast || suspect.alike(way) != nullptr;
        });
    const auto likeliest =
        std::count_if(suspects.begin(), suspects.end(), [&](const RampSuspect& suspect) {
          return suspect.fast && (suspect.readings.front().as == way ||
                                  (point_minutes && way == AnotherReading::As::hours_and_minutes));
        });
    if (!does || likeliest <= most) continue;
    best = way;
    most = likeliest;
  }
  if (!best || suspects.size() < 2) return;
  for (RampSuspect& suspect : suspects) {
    if (suspect.fast) suspect.readings = {*suspect.alike(*best)};
  }
}

/// Keeps the suspects whose step is near the limits when all are read as meant.
void keep_confirmed(const CheckedProgram& checked, std::vector<RampSuspect>& suspects) {
  const bool any_fast = std::any_of(
      suspects.begin(), suspects.end(), [](const RampSuspect& suspect) { return suspect.fast; });
  if (!any_fast) return;
  Program meant = checked.program;
  for (const RampSuspect& suspect : suspects)
    meant.steps[suspect.step].pace = suspect.readings.front().time;
  const Measured measured = checked.run(meant);
  std::erase_if(suspects, [&](const RampSuspect& suspect) {
    const double share = nearest_limit(measured.steps[suspect.step], checked.limits).share;
    return suspect.fast && share > near_limits;
  });
}

}  // namespace

std::vector<RampSuspect> ramp_suspects(const CheckedProgram& checked) {
  const BearableRate bears{checked.casting, checked.limits};
  std::vector<RampSuspect> suspects;
  for (std::size_t i = 0; i < checked.program.steps.size(); ++i) {
    if (const auto suspect = suspect_at(checked, bears, i)) suspects.push_back(*suspect);
  }
  read_alike(suspects);
  keep_confirmed(checked, suspects);
  return suspects;
}

}  // namespace thickset
