#include "planning/hold_choice.h"

#include <algorithm>
#include <cassert>
#include <cmath>

#include <fmt/format.h>

#include "base/error.h"
#include "checking/rules.h"
#include "planning/setting_bands.h"
#include "units/spoken.h"

namespace thickset {
namespace {

constexpr double choice_aim = 1.0;

/// The temperatures that suit every casting: from the highest floor up to the lowest annealing
/// point.
struct Window {
  Temperature low, high;
};

Window window_of(std::span<const Casting> castings, const Kiln& kiln, Degrees shown) {
  Window window{Temperature::from_K(0.0), Temperature::from_K(1e6)};
  for (const Casting& casting : castings) {
    const Temperature annealing = casting.glass.annealing_point.value;
    window.high = std::min(window.high, annealing);
    window.low = std::max({window.low,
                           std::min(rules::hold_floor(casting.glass, kiln), annealing),
                           annealing - hold_below_annealing});
  }
  if (window.low > window.high) {
    throw Error{{"--with"},
                fmt::format("no hold suits all these glasses: one must not be held below {}, "
                            "another has its annealing point at {}",
                            spoken(window.low, shown),
                            spoken(window.high, shown)),
                "anneal them apart, or fix a hold temperature yourself with --hold-at"};
  }
  return window;
}

Temperature keyed(Temperature temperature, Degrees degrees, double step) {
  return from_degrees(std::round(in_degrees(temperature, degrees) / step) * step, degrees);
}

Rate slowest_setting_rate(std::span<const Casting> castings, const Limits& limits) {
  Rate slowest = estimate_rates(castings.front(), limits).setting;
  for (const Casting& casting : castings) {
    slowest = std::min(slowest, estimate_rates(casting, limits).setting);
  }
  return slowest;
}

}  // namespace

Hold size_hold_for_all(std::span<const Casting> castings,
                       const Kiln& kiln,
                       const Firing& firing,
                       Rate setting_rate,
                       Temperature temperature,
                       Degrees shown) {
  assert(!castings.empty());
  Hold all = size_hold(castings.front(), kiln, firing, setting_rate, temperature, shown);
  for (const Casting& casting : castings.subspan(1)) {
    const Hold own = size_hold(casting, kiln, firing, setting_rate, temperature, shown);
    const Duration arrived = std::max(all.arriving, own.arriving);
    const Duration even = std::max(all.arriving + all.evening, own.arriving + own.evening);
    const Duration needed = std::max(all.needed(), own.needed());
    const Duration total = std::max(all.total(), own.total());
    all.arriving = arrived;
    all.evening = even - arrived;
    all.relaxing = needed - even;
    all.margin = total - needed;
    all.behind_on_arrival = std::max(all.behind_on_arrival, own.behind_on_arrival);
    all.relaxing_if_sensor_true =
        std::max(all.relaxing_if_sensor_true, own.relaxing_if_sensor_true);
    all.relaxing_estimate = std::max(all.relaxing_estimate, own.relaxing_estimate);
    for (const std::string& note : own.notes) {
      if (std::find(all.notes.begin(), all.notes.end(), note) == all.notes.end())
        all.notes.push_back(note);
    }
  }
  return all;
}

/// A glass whose points are higher is as stiff as this one that much colder.
std::vector<HoldOption> with_doubt(std::vector<HoldOption> options,
                                   std::span<const Casting> castings,
                                   const Kiln& kiln,
                                   const Firing& firing,
                                   const Limits& limits,
                                   Degrees degrees) {
  const Rate setting_rate = slowest_setting_rate(castings, limits);
  TemperatureDifference doubt = TemperatureDifference::from_K(0.0);
  for (const Casting& casting : castings) {
    doubt = std::max(doubt, casting.glass.annealing_point_uncertainty.value);
  }
  for (HoldOption& option : options) {
    option.stiffer_by = doubt;
    const Temperature as_stiff_at = option.hold.temperature - doubt;
    try {
      option.if_stiffer =
          size_hold_for_all(castings, kiln, firing, setting_rate, as_stiff_at, degrees).total();
    } catch (const Error&) {
      option.if_stiffer = std::nullopt;  // it takes over 30 days
    }
  }
  return options;
}

const HoldOption& quickest(std::span<const HoldOption> options) {
  assert(!options.empty());
  constexpr double alike = 1.01;
  const auto by_time = [](const HoldOption& a, const HoldOption& b) {
    return a.total() < b.total();
  };
  const Duration least = std::min_element(options.begin(), options.end(), by_time)->total();
  return *std::find_if(options.begin(), options.end(), [&](const HoldOption& option) {
    return option.total() <= alike * least;
  });
}

std::vector<HoldOption> hold_options(std::span<const Casting> castings,
                                     const Kiln& kiln,
                                     Controller::LateOnCooling late,
                                     const Firing& firing,
                                     const Limits& limits,
                                     std::span<const Bulk> bulks,
                                     Temperature end,
                                     int temperatures,
                                     Degrees degrees,
                                     double degree_step) {
  assert(temperatures >= 2);
  const Window window = window_of(castings, kiln, degrees);
  const Rate setting_rate = slowest_setting_rate(castings, limits);
  std::vector<HoldOption> options;
  for (int i = 0; i < temperatures; ++i) {
    const double share = static_cast<double>(i) / (temperatures - 1);
    const auto down = TemperatureDifference::from_K(share * (window.high - window.low).in_K());
    Temperature temperature = keyed(window.high - down, degrees, degree_step);
    if (temperature < window.low)
      temperature = temperature + difference_from_degrees(degree_step, degrees);
    if (!options.empty() && temperature >= options.back().hold.temperature) continue;
    HoldOption option{
        .hold = size_hold_for_all(castings, kiln, firing, setting_rate, temperature, degrees)};
    Program program;
    program.steps.push_back(
        {.target = temperature, .pace = AsFastAsPossible{}, .hold = option.hold.total()});
    const CoolDown cool_down{castings, kiln, late, firing, program, bulks, limits, end};
    const StageBounds bounds{kiln, firing, end, late == Controller::LateOnCooling::stops};
    option.cool_down =
        seconds(setting_bands(castings, cool_down, bounds, limits, choice_aim).least_time_s);
    options.push_back(option);
  }
  return options;
}

}  // namespace thickset
