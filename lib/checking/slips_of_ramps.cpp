#include "checking/slips_of_ramps.h"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <optional>

#include <fmt/format.h>

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

struct Suspect {
  std::size_t step;
  bool fast;
  std::optional<Rate> bearable;
  std::vector<Reading> readings;    ///< likeliest first, at most two
  std::vector<Reading> if_alike{};  ///< that would do where the other steps are read so too

  const Reading* alike(Reading::As as) const {
    const auto found = std::find_if(
        if_alike.begin(), if_alike.end(), [&](const Reading& reading) { return reading.as == as; });
    return found == if_alike.end() ? nullptr : &*found;
  }
};

Rate rate_of(double distance_K, Duration time) {
  return Rate::from_K_per_s(distance_K / in_s(time));
}

/// The readings whose `ratio` is in the range, nearest to one first; a second only where it is
/// about as near.
template <class Ratio>
std::vector<Reading> fitting(std::vector<Reading> readings,
                             const Ratio& ratio,
                             double least,
                             double most) {
  std::erase_if(readings, [&](const Reading& reading) {
    const double value = ratio(reading);
    return !(value >= least && value <= most);
  });
  const auto cost = [&](const Reading& reading) {
    const double off = std::log(ratio(reading));
    return off > 0.0 ? too_fast_costs * off : -off;
  };
  std::stable_sort(readings.begin(), readings.end(), [&](const Reading& a, const Reading& b) {
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

std::optional<Suspect> suspect_at(const CheckedProgram& checked,
                                  const BearableRate& bears,
                                  std::size_t i) {
  const KeyedStep keyed = checked.keyed(i);
  if (!keyed.rate || keys_own_pace(checked, i)) return std::nullopt;
  const Step& step = checked.program.steps[i];
  const Degrees degrees = checked.program.degrees;
  const double distance_K = std::abs((keyed.to - keyed.from).in_K());
  const Duration time = seconds(distance_K / keyed.rate->in_K_per_s());
  Suspect suspect{
      .step = i, .fast = true, .bearable = bears.over(keyed.from, keyed.to), .readings = {}};
  if (suspect.bearable) {
    const auto against_bearable = [&](const Reading& reading) {
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
      std::erase_if(suspect.if_alike, [&](const Reading& reading) {
        const double ratio = against_bearable(reading);
        return !(ratio >= slowest_alike && ratio <= fastest_alike);
      });
    }
  } else if (keyed.to < keyed.from) {
    const NaturalCooling natural = checked.kiln.natural_cooling.in_room(checked.firing.room);
    const Duration own = natural.time_to_fall(keyed.from, keyed.to);
    if (time < long_ramp || time < absurdly_long * own) return std::nullopt;
    suspect.fast = false;
    const auto against_own = [&](const Reading& reading) { return reading.time / own; };
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
void read_alike(std::vector<Suspect>& suspects) {
  constexpr Reading::As ways[] = {
      Reading::As::hours_and_minutes, Reading::As::hours, Reading::As::rate, Reading::As::minutes};
  // One number with two decimals tells how all are written.
  const bool point_minutes =
      std::any_of(suspects.begin(), suspects.end(), [](const Suspect& suspect) {
        return !suspect.if_alike.empty() &&
               suspect.if_alike.front().as == Reading::As::hours_and_minutes;
      });
  std::optional<Reading::As> best;
  std::ptrdiff_t most = 0;
  for (const Reading::As way : ways) {
    const bool does = std::all_of(suspects.begin(), suspects.end(), [&](const Suspect& suspect) {
      return !suspect.fast || suspect.alike(way) != nullptr;
    });
    const auto likeliest =
        std::count_if(suspects.begin(), suspects.end(), [&](const Suspect& suspect) {
          return suspect.fast && (suspect.readings.front().as == way ||
                                  (point_minutes && way == Reading::As::hours_and_minutes));
        });
    if (!does || likeliest <= most) continue;
    best = way;
    most = likeliest;
  }
  if (!best || suspects.size() < 2) return;
  for (Suspect& suspect : suspects) {
    if (suspect.fast) suspect.readings = {*suspect.alike(*best)};
  }
}

/// Keeps the suspects whose step is near the limits when all are read as meant.
void keep_confirmed(const CheckedProgram& checked, std::vector<Suspect>& suspects) {
  const bool any_fast = std::any_of(
      suspects.begin(), suspects.end(), [](const Suspect& suspect) { return suspect.fast; });
  if (!any_fast) return;
  Program meant = checked.program;
  for (const Suspect& suspect : suspects)
    meant.steps[suspect.step].pace = suspect.readings.front().time;
  const Measured measured = checked.run(meant);
  std::erase_if(suspects, [&](const Suspect& suspect) {
    const double share = nearest_limit(measured.steps[suspect.step], checked.limits).share;
    return suspect.fast && share > near_limits;
  });
}

/// "9.2 C/h", "459 C/h".
std::string rate_in_words(Rate rate, Degrees degrees) {
  const double value = in_degrees_per_h(rate, degrees);
  return fmt::format("{:.{}f} {}/h",
                     value,
                     value >= 10.0  ? 0
                     : value >= 1.0 ? 1
                                    : 2,
                     letter(degrees));
}

std::string number_as_keyed(const Step& step, Degrees degrees) {
  if (const auto* const rate = std::get_if<Rate>(&step.pace))
    return fmt::format("{:.4g} {}/h", in_degrees_per_h(*rate, degrees), letter(degrees));
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
      "{} {:.4g} {} {} {}, {}",
      keyed.to < keyed.from ? "falls" : "heats",
      in_degrees(distance, degrees),
      letter(degrees),
      by_rate ? "at" : "in",
      number_as_keyed(step, degrees),
      by_rate ? in_words(minutes(std::round(in_min(time)))) : rate_in_words(*keyed.rate, degrees));
}

std::string needs(const CheckedProgram& checked, const Suspect& suspect) {
  if (!suspect.bearable) return "many times as long as this kiln takes by itself";
  return fmt::format("where this casting bears about {}",
                     rate_in_words(*suspect.bearable, checked.program.degrees));
}

std::string text_of_one(const CheckedProgram& checked, const Suspect& suspect) {
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

std::string what_they_are(Reading::As as, Notation notation) {
  switch (as) {
    case Reading::As::hours: return "hours where minutes belong";
    case Reading::As::hours_and_minutes: return "hours and minutes where minutes belong";
    case Reading::As::rate: return "rates where minutes belong";
    case Reading::As::minutes: break;
  }
  return notation == Notation::time ? "minutes keyed as hours" : "minutes where rates belong";
}

std::string text_of_many(const CheckedProgram& checked, std::span<const Suspect> same) {
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
  const BearableRate bears{checked.casting, checked.limits};
  std::vector<Suspect> suspects;
  for (std::size_t i = 0; i < checked.program.steps.size(); ++i) {
    if (const auto suspect = suspect_at(checked, bears, i)) suspects.push_back(*suspect);
  }
  read_alike(suspects);
  keep_confirmed(checked, suspects);
  std::vector<Finding> findings;
  while (!suspects.empty()) {
    const Suspect first = suspects.front();
    const auto alike = [&](const Suspect& other) {
      return other.fast == first.fast && other.readings.front().as == first.readings.front().as;
    };
    const auto rest = std::stable_partition(suspects.begin(), suspects.end(), alike);
    const std::span<const Suspect> same{suspects.begin(), rest};
    findings.push_back(
        {.kind = Finding::Kind::notation_slip,
         .step = static_cast<int>(first.step),
         .text = same.size() > 1 ? text_of_many(checked, same) : text_of_one(checked, first)});
    suspects.erase(suspects.begin(), rest);
  }
  return findings;
}

}  // namespace thickset
