#include "planning/hold.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/error.h"
#include "checking/rules.h"
#include "relaxation/relaxation_time.h"
#include "units/spoken.h"

namespace thickset {
namespace {

constexpr double sags_above_annealing_K = 150.0;  // softening point where a glass's own is unknown

void refuse_nonsense(const Glass& glass, Temperature temperature) {
  const double softening_C = glass.softening_point
                                 ? glass.softening_point->value.in_C()
                                 : glass.annealing_point.value.in_C() + sags_above_annealing_K;
  const double asked_C = temperature.in_C();
  if (asked_C > softening_C) {
    const double if_F_C = Temperature::from_F(asked_C).in_C();
    throw Error{{"--hold-at"},
                fmt::format("{:.0f} C is above the softening point of this glass ({}{:.0f} C)",
                            asked_C,
                            glass.softening_point ? "" : "about ",
                            softening_C),
                fmt::format("did you mean {:.0f} F ({:.0f} C)?", asked_C, if_F_C)};
  }
}

/// The course of the hold with the kiln really at `real`; a start below that is as much off.
HoldCourse course_at(const Casting& casting,
                     const Kiln& kiln,
                     const Firing& firing,
                     Rate setting_rate,
                     Temperature hold,
                     Temperature real) {
  const std::optional<HoldCourse> course =
      hold_course(casting, kiln, std::max(firing.from, real), real, setting_rate);
  if (course) return *course;
  const Glass& glass = casting.glass;
  throw Error{
      {"--hold-at"},
      fmt::format("at {:.0f} C this glass would take over 30 days to relax (strain point "
                  "{:.0f} C)",
                  hold.in_C(),
                  glass.strain_point.value.in_C()),
      fmt::format("hold at {:.0f} C or above", std::ceil(rules::hold_floor(glass, kiln).in_C()))};
}

/// A tail falls to its hold. From below, the glass would be heated cold, which pulls its core.
void refuse_start_below(Temperature hold, Temperature start, Degrees shown) {
  if (start >= hold) return;
  throw Error{{"--from"},
              fmt::format("the firing starts at {}, below the hold at {}",
                          spoken(start, shown),
                          spoken(hold, shown)),
              "a tail starts from the process temperature: give that one"};
}

}  // namespace

Hold size_hold(const Casting& casting,
               const Kiln& kiln,
               const Firing& firing,
               Rate setting_rate,
               std::optional<Temperature> fixed_temperature,
               Degrees shown) {
  const Glass& glass = casting.glass;
  Hold hold{.temperature = fixed_temperature.value_or(glass.annealing_point.value)};
  refuse_nonsense(glass, hold.temperature);
  refuse_start_below(hold.temperature, firing.from, shown);
  hold.sensor_tolerance = sensor_tolerance(kiln, hold.temperature);
  const auto course = [&](Temperature real) {
    return course_at(casting, kiln, firing, setting_rate, hold.temperature, real);
  };
  const HoldCourse low = course(hold.temperature - hold.sensor_tolerance);
  const HoldCourse sensor_true = course(hold.temperature);
  const HoldCourse high = course(hold.temperature + hold.sensor_tolerance);
  const auto latest = [&](Duration HoldCourse::*stamp) {
    return std::max({low.*stamp, sensor_true.*stamp, high.*stamp});
  };
  hold.arriving = latest(&HoldCourse::arrived);
  hold.evening = latest(&HoldCourse::even) - hold.arriving;
  hold.relaxing = latest(&HoldCourse::relaxed) - latest(&HoldCourse::even);
  hold.behind_on_arrival = sensor_true.behind_on_arrival;
  hold.relaxing_if_sensor_true =
      std::max(sensor_true.relaxed - latest(&HoldCourse::even), Duration{0.0});
  hold.relaxing_estimate =
      relaxation::time_to_relax(glass, hold.temperature - hold.sensor_tolerance);
  const double whole_min = std::ceil(in_min(hold.total()));
  hold.margin = minutes(whole_min - in_min(hold.total()));

  if (hold.temperature < rules::hold_floor(glass, kiln)) {
    hold.notes.push_back(
        fmt::format("{} is below {}, the strain point plus {} and the sensor's tolerance: used "
                    "only because you fixed it",
                    spoken(hold.temperature, shown),
                    spoken(whole_degree_above(rules::hold_floor(glass, kiln), shown), shown),
                    spoken(rules::margin_above_strain(glass, kiln), shown)));
  }
  if (hold.temperature > glass.annealing_point.value + rules::hold_above_annealing) {
    hold.notes.push_back(fmt::format("{} is far above the annealing point ({}): the piece may sag",
                                     spoken(hold.temperature, shown),
                                     spoken(glass.annealing_point.value, shown)));
  }
  return hold;
}

}  // namespace thickset
