#include "checking/firing_by_program.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/error.h"
#include "checking/in_pieces.h"
#include "checking/rest_by_clock.h"
#include "kiln/air_parts.h"
#include "units/spoken.h"

namespace thickset {
namespace {

constexpr double nearly_straight_s = 60.0;
constexpr int bisections = 50;
constexpr double hotter_all_the_same_K = 30.0;
constexpr double swings_K = 10.0;
constexpr double slowest_fall = 4.0;
constexpr double quickest_fall = 0.5;  // of the kiln's own time, that it may differ by

std::string in_hours(double time_s) {
  const long total_min = std::lround(time_s / 60.0);
  if (total_min < 60) return fmt::format("{} min", total_min);
  return fmt::format("{} h {} min", total_min / 60, total_min % 60);
}

/// When the elements went off, as --off-for says. Throws: Error where that cannot be.
double elements_off_as_told_s(const AirCurve& air,
                              double now_s,
                              const KnownMoment& known,
                              const Kiln& kiln,
                              Degrees shown) {
  const Place place{.source = "--off-for"};
  if (in_s(*known.off_for) <= 0.0) {
    throw Error{place, "it is no time", "write how long the elements were off: 45min"};
  }
  if (in_s(*known.off_for) > now_s) {
    throw Error{place,
                fmt::format("{} is longer than the firing, {} so far",
                            in_hours(in_s(*known.off_for)),
                            in_hours(now_s)),
                "check both times"};
  }
  const double off_s = now_s - in_s(*known.off_for);
  const Temperature then = Temperature::from_K(air.at_K(off_s));
  if (then + sensor_tolerance(known.display) < known.display) {
    throw Error{place,
                fmt::format("the program had the kiln at {} then, below the {} of now",
                            spoken(then, shown),
                            spoken(known.display, shown)),
                "check the times and the display"};
  }
  const double own_s =
      in_s(kiln.natural_cooling.time_to_fall(std::max(then, known.display), known.display));
  if (!std::isfinite(own_s)) throw display_not_above_room(known.display, shown);
  if (in_s(*known.off_for) < quickest_fall * own_s) {
    throw Error{place,
                fmt::format("by itself this kiln takes {} from {} to {}",
                            in_hours(own_s),
                            spoken(then, shown),
                            spoken(known.display, shown)),
                "check the times and the display, or name the kiln's own file with --kiln"};
  }
  return off_s;
}

/// When a kiln that ran this course until then and fell by itself after it is as cool as this now.
double elements_off_at_s(const AirCurve& air,
                         double now_s,
                         Temperature display,
                         const Kiln& kiln,
                         Degrees shown) {
  const auto too_cold = [&](double off_s) {
    const Temperature at = Temperature::from_K(air.at_K(off_s));
    return kiln.natural_cooling.after(at, seconds(now_s - off_s)) < display;
  };
  if (!too_cold(0.0)) {
    throw Error{{.source = "--air"},
                fmt::format("{} is colder than this kiln falls to in {}, the elements off "
                            "all the time",
                            spoken(display, shown),
                            in_hours(now_s)),
                "check the times, or name the kiln's own file with --kiln"};
  }
  // Off too early is too cold, off just now is too hot.
  double early_s = 0.0, late_s = now_s;
  for (int i = 0; i < bisections; ++i) {
    const double middle_s = 0.5 * (early_s + late_s);
    (too_cold(middle_s) ? early_s : late_s) = middle_s;
  }
  return late_s;
}

}  // namespace

FiringSoFar so_far(const Program& program,
                   const KnownMoment& known,
                   const Casting& casting,
                   const Kiln& kiln,
                   Controller::LateOnCooling late,
                   const Firing& firing,
                   Degrees shown) {
  const Temperature start = start_of(program, firing);
  const FollowedProgram followed =
      follow(with_fall_to_room(program, casting, firing), kiln, late, start);
  const std::optional<AnnealHold> hold = find_hold(followed.air, casting.glass);
  if (known.since_hold && !hold) {
    throw Error{{.source = "--since-hold"},
                "the program has no hold near the annealing point",
                "name a program made for this glass with --plan"};
  }
  const double now_s = known.since_hold ? hold->end_s + in_s(*known.since_hold)
                                        : in_s(known.since_start.value_or(Duration{0.0}));
  FiringSoFar result{
      .air = {}, .start = start, .kiln = known.display, .hold = hold, .from_its_start = true};
  if (start < casting.glass.strain_point.value) {
    result.relaxation.start_fictive_K = casting.glass.strain_point.value.in_K();
  }
  const double by_program_K = followed.air.at_K(now_s);
  const double above_K = known.display.in_K() - by_program_K;
  const double tolerance_K = sensor_tolerance(known.display).in_K();
  const std::string reads =
      fmt::format("the program would have the kiln at {}, the display reads {}",
                  spoken(Temperature::from_K(by_program_K), shown),
                  spoken(known.display, shown));
  const LegUnderWay leg = leg_under_way(program, start, followed.air, now_s);
  const bool falls = !leg.holds && followed.air.at_K(now_s + nearly_straight_s) < by_program_K;
  // In a hold and while it heats; in a fall as long as the reading is still about the hold's.
  const double above_from_K = known.display.in_K() - leg.from.in_K();
  const bool about_the_hold =
      above_K <= swings_K && above_from_K <= swings_K && above_from_K >= -tolerance_K;
  const bool hotter_all_the_same =
      above_K > 0.0 && (falls ? about_the_hold : above_K <= hotter_all_the_same_K);
  const auto on_program_at = [&](double at_s) {
    result.on_program = rest_by_clock(program, start, followed.air, at_s);
    result.before_hold = hold && at_s < hold->start_s;
    result.hold_in_full = hold && at_s >= hold->end_s;
  };
  if (!known.off_for && (std::abs(above_K) <= tolerance_K || hotter_all_the_same)) {
    result.air = cut_at(followed.air, now_s);
    on_program_at(now_s);
    result.taken.push_back(
        (above_K > tolerance_K ? reads + ": " : std::string{}) +
        fmt::format("the kiln is taken to have run the program for {}", in_hours(now_s)));
    const bool was_late = std::any_of(followed.late.begin(),
                                      followed.late.end(),
                                      [&](const auto& one) { return one.step <= leg.step; });
    if (was_late && late == Controller::LateOnCooling::waits) {
      result.taken.back() += "; where the kiln is late the controller waits for it";
    }
  } else if (above_K > 0.0 && !known.off_for) {
    // The last moment that the program was at this temperature, stretched to now.
    const double from_s = hold && hold->end_s <= now_s ? hold->end_s : leg.begin_s;
    double there_s = now_s;
    for (double at_s = from_s; at_s < now_s; at_s += nearly_straight_s) {
      if (followed.air.at_K(at_s) >= known.display.in_K()) there_s = at_s;
    }
    const bool was_there = there_s < now_s && there_s > from_s;
    const double slower = was_there ? (now_s - from_s) / (there_s - from_s) : 1.0;
    if (!was_there || slower > slowest_fall) {
      throw Error{{.source = "--air"},
                  reads + (was_there ? fmt::format(", {:.1f} times as late as it should", slower)
                                     : std::string{", which it never was since then"}),
                  "check the times and the display, or give the log"};
    }
    result.air = cut_at(followed.air, there_s);
    on_program_at(there_s);
    for (AirCurve::Corner& corner : result.air.corners) {
      if (corner.time_s > from_s) corner.time_s = from_s + slower * (corner.time_s - from_s);
    }
    result.taken.push_back(
        fmt::format("{}: it is taken to have fallen {:.2f} times as slowly", reads, slower));
  } else if (const double own_s = in_s(kiln.natural_cooling.time_to_fall(
                 std::max(leg.from, known.display), known.display));
             !known.off_for && falls && leg.own_pace && now_s - leg.begin_s < own_s) {
    // Falling by itself, and quicker than its file says.
    const double quicker = own_s / (now_s - leg.begin_s);
    if (!(quicker * quickest_fall <= 1.0)) {
      throw Error{{.source = "--air"},
                  fmt::format("{}; by itself this kiln takes {} from {} to that",
                              reads,
                              std::isfinite(own_s) ? in_hours(own_s) : "for ever",
                              spoken(leg.from, shown)),
                  "check the times, or name the kiln's own file with --kiln"};
    }
    result.air = cut_at(followed.air, leg.begin_s);
    add_own_fall(result.air, known.display, now_s - leg.begin_s, kiln);
    on_program_at(now_s);
    result.taken.push_back(
        fmt::format("{}: it is taken to fall by itself {:.2f} times as fast as its "
                    "kiln file says; `thickset kiln` makes one from a log",
                    reads,
                    quicker));
  } else {
    const double off_s = known.off_for
                             ? elements_off_as_told_s(followed.air, now_s, known, kiln, shown)
                             : elements_off_at_s(followed.air, now_s, known.display, kiln, shown);
    result.air = cut_at(followed.air, off_s);
    add_own_fall(result.air, known.display, now_s - off_s, kiln);
    result.taken.push_back(
        fmt::format("{}: the elements are taken to have been off for the last {}{}",
                    reads,
                    in_hours(now_s - off_s),
                    known.off_for ? "" : ", as long as this kiln's own fall takes"));
    if (hold && off_s < hold->start_s) on_program_at(off_s);
    result.hold_in_full = hold && off_s >= hold->end_s;
    if (result.hold && result.hold->start_s < off_s && result.hold->end_s > off_s) {
      result.taken.push_back(
          fmt::format("the hold is taken to have been cut short by that, {} "
                      "before its end",
                      in_hours(result.hold->end_s - off_s)));
      result.hold->end_s = off_s;
    }
  }
  if (result.hold && result.hold->start_s >= result.now_s()) result.hold.reset();
  if (result.hold) result.hold->end_s = std::min(result.hold->end_s, result.now_s());
  for (AirCurve::Corner& corner : result.air.corners) corner.step = 0;
  result.in_pieces_until_s = in_pieces_until_s(result.air, casting.glass);
  return result;
}

}  // namespace thickset
