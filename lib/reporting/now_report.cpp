#include "reporting/now_report.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include <fmt/format.h>

#include "reporting/cautions.h"
#include "reporting/keying.h"
#include "reporting/sections.h"
#include "schedule/log_clock.h"
#include "schedule/notation.h"
#include "simulation/beyond_model.h"

namespace thickset {
namespace {

std::string in_range(const Doubtful& T_K, const Display& display) {
  return fmt::format("{:>8}   {} to {}",
                     show(Temperature::from_K(T_K.value), display),
                     show(Temperature::from_K(T_K.lowest), display),
                     show(Temperature::from_K(T_K.highest), display));
}

/// Why this way, and no lighter one.
std::string reason(const ReportContext& context, const Now& now, const WayOn& way) {
  const double grade = context.limits.grade.in_nm_per_cm();
  const WayOn& go_on = now.ways.front();
  switch (way.kind) {
    case WayOn::Kind::go_on:
      return fmt::format(
          "simulated from here, it leaves {:.1f} nm/cm (limit {:g}) and pulls no "
          "more than {:.1f} MPa",
          way.leaves_nm_per_cm,
          grade,
          in_MPa(way.pulls_Pa));
    case WayOn::Kind::hold_here:
    case WayOn::Kind::back_to_hold:
      return (go_on.relaxes ? "" : "the hold so far has not relaxed the glass; ") +
             fmt::format(
                 "to go on from here would leave {:.1f} nm/cm (limit {:g}) and pull {:.1f} "
                 "MPa; this leaves {:.1f} nm/cm and pulls {:.1f} MPa at most",
                 go_on.leaves_nm_per_cm,
                 grade,
                 in_MPa(go_on.pulls_Pa),
                 way.leaves_nm_per_cm,
                 in_MPa(way.pulls_Pa));
    case WayOn::Kind::fall_closed:
      return fmt::format(
          "no way on keeps the limits: at least {:.1f} nm/cm is certain by now, this "
          "leaves {:.1f} (limit {:g})",
          now.certain.in_nm_per_cm(),
          way.leaves_nm_per_cm,
          grade);
  }
  return "";
}

/// Tension that no way on avoids: that of glass that set while it was uneven stays, that of this
/// moment's unevenness fades.
std::string comes_anyway(const Now& now) {
  const bool stays = now.held_here_stays_Pa > 0.5 * now.held_here_pulls_Pa;
  return fmt::format("up to {:.1f} MPa comes as it evens out even if the kiln stays where it is{}",
                     in_MPa(now.held_here_pulls_Pa),
                     stays ? ": the glass set while it was uneven" : ", and fades");
}

std::string go_on_to_hold(const ReportContext& context, const Now& now, const WayOn& way) {
  const Temperature at = way.fitted.program.steps.front().target;
  if (std::abs((now.so_far.kiln - at).in_K()) <= reached_within.in_K()) {
    return fmt::format("Go on: hold for {} more, then cool as below.", show(*way.hold));
  }
  return fmt::format("Go on: bring it to {}, hold there for {}, then cool as below.",
                     show(at, context.display),
                     show(*way.hold));
}

std::string first_line(const ReportContext& context, const Now& now, const WayOn& way) {
  const Display& display = context.display;
  std::string what;
  switch (way.kind) {
    case WayOn::Kind::go_on:
      what = way.fitted.program.steps.empty() ? "Go on: the program is at its end."
             : way.before_hold
                 ? "Go on: the anneal hold is still to come; the steps left are below."
             : way.hold ? go_on_to_hold(context, now, way)
                        : "Go on: cool as below.";
      break;
    case WayOn::Kind::hold_here:
      what = fmt::format("Wait at {} for {}, then cool as below.",
                         show(now.so_far.kiln, display),
                         show(*way.hold));
      break;
    case WayOn::Kind::back_to_hold:
      what = fmt::format("Go back to the hold at no more than {}, hold for {}, then cool as below.",
                         show(*way.heating, display),
                         show(*way.hold));
      break;
    case WayOn::Kind::fall_closed:
      what =
          "Too late to mend in this firing: let it cool closed, as below. Look at it with "
          "polarised light when it is cold; `thickset rewarm` plans another anneal.";
      break;
  }
  if (!way.passes() && way.kind != WayOn::Kind::fall_closed) {
    what = (way.before_hold ? "The rest of the program does not keep the limits. "
                            : "No way on keeps the limits; the nearest: ") +
           what;
  }
  std::string text =
      wrapped(what, 78, 0) + '\n' + wrapped("Why: " + reason(context, now, way) + ".") + '\n';
  if (way.before_hold && !way.keeps_tension) {
    text += wrapped(
                "The way up to the hold is too fast for a whole piece: slow it down. `thickset "
                "rewarm` finds rates for one that starts cold.") +
            '\n';
  }
  if (way.passes() && !within(way, context.limits)) {
    text += wrapped(fmt::format("It pulls more than the limit of {:g} MPa; {}. The piece may break "
                                "at any rate.",
                                context.limits.tension.in_MPa(),
                                comes_anyway(now))) +
            '\n';
  }
  return text;
}

/// Whether the glass file states how uncertain its points are: then they are in the range.
bool points_in_range(const ReportContext& context) {
  return !context.casting.glass.annealing_point_uncertainty.assumed;
}

/// What the ranges rest on.
std::string range_words(const ReportContext& context, const Now& now) {
  std::string text;
  text += wrapped(fmt::format(
              "  The range: sensor off by {} either way ({}), heat spreading a "
              "tenth slower or faster{}.",
              show_difference(now.present.sensor_tolerance, context.display),
              sensor_tolerance_from(context.kiln, now.so_far.kiln),
              points_in_range(context) ? ", the glass's points off by what its file says" : "")) +
          '\n';
  for (const std::string& taken : now.so_far.taken) {
    text += wrapped(fmt::format("  Taken: {}.", taken)) + '\n';
  }
  return text;
}

std::string inside(const ReportContext& context, const Now& now) {
  const Display& display = context.display;
  const Present& present = now.present;
  std::string text =
      fmt::format("The glass{}, computed; the kiln shows {}\n",
                  now.clock ? " at " + short_moment(now.clock, now.so_far.now_s()) : " now",
                  show(now.so_far.kiln, display));
  text += fmt::format("  slowest   {}\n", in_range(present.slowest_K, display));
  text += fmt::format("  mean      {}\n", in_range(present.mean_K, display));
  text += fmt::format("  surface   {}\n", in_range(present.surface_K, display));
  return text + range_words(context, now);
}

std::string stress_so_far(const ReportContext& context, const Now& now) {
  if (!now.past_known) return "What stress is in it cannot be told without a log or the program.\n";
  const Present& present = now.present;
  std::string text =
      wrapped(fmt::format("Tension now: {:.1f} MPa; the most so far: {:.1f} MPa (limit "
                          "{:g} MPa: {}).",
                          in_MPa(present.tension_Pa),
                          in_MPa(present.pulled_Pa),
                          context.limits.tension.in_MPa(),
                          context.limits.tension_reason)) +
      '\n';
  constexpr double clearly = 1.05;
  if (present.pulled_Pa > clearly * context.limits.tension.in_Pa()) {
    text += wrapped(fmt::format(
                "What has happened pulled {:.1f} times the limit: the piece may have cracked "
                "without a sound.",
                present.pulled_Pa / context.limits.tension.in_Pa())) +
            '\n';
  }
  if (now.held_here_pulls_Pa > context.limits.tension.in_Pa()) {
    std::string comes = comes_anyway(now);
    comes.front() = 'U';
    text += wrapped(comes + '.') + '\n';
  }
  if (advised(now.ways).before_hold) {
    text += "What stays is not set yet: the anneal hold is still to come.\n";
    return text;
  }
  text +=
      wrapped(fmt::format("Certain already, unless it is heated again: {:.1f} nm/cm, even if the "
                          "rest took ten times as long. The way above leaves {:.1f} nm/cm under "
                          "the treatment of the bulk that leaves most, limit {:g}.",
                          now.certain.in_nm_per_cm(),
                          advised(now.ways).leaves_nm_per_cm,
                          context.limits.grade.in_nm_per_cm())) +
      '\n';
  return text;
}

/// The least and the most of a figure of the way advised, over the cases of the range.
std::pair<double, double> in_doubt(const Now& now, double Judged::*figure) {
  const auto [least, most] = std::minmax_element(
      now.way_in_doubt.begin(), now.way_in_doubt.end(), [&](const Judged& a, const Judged& b) {
        return a.*figure < b.*figure;
      });
  return {(*least).*figure, (*most).*figure};
}

std::string by_range_words(const ReportContext& context, const Now& now) {
  const auto [leaves_least, leaves_most] = in_doubt(now, &Judged::leaves_nm_per_cm);
  const auto [pulls_least, pulls_most] = in_doubt(now, &Judged::pulls_Pa);
  return fmt::format(
      "Within the range above the way advised leaves {:.1f} to {:.1f} nm/cm and pulls {:.1f} to "
      "{:.1f} MPa; doubt {}of a mould and of the thickness is not in it.",
      leaves_least,
      leaves_most,
      in_MPa(pulls_least),
      in_MPa(pulls_most),
      points_in_range(context) ? "" : "of the glass's points, ");
}

std::string ways_table(const ReportContext& context, const Now& now) {
  const Limits& limits = context.limits;
  const double limit_Pa = limits.tension.in_Pa();
  std::string text = fmt::format("{:<20} {:>12} {:>10} {:>16}   {}\n",
                                 "What can be done",
                                 "leaves nm/cm",
                                 "pulls MPa",
                                 "opens (middle)",
                                 "limits");
  for (const WayOn& way : now.ways) {
    text += fmt::format("{:<20} {:>12.1f} {:>10.1f} {:>16}   {}\n",
                        name_of(way.kind),
                        way.leaves_nm_per_cm,
                        in_MPa(way.pulls_Pa),
                        way.opening.opens ? show(way.opening.after) : "later",
                        word_of(way, limits));
  }
  text += wrapped(by_range_words(context, now)) + '\n';
  const bool any_set = std::any_of(now.ways.begin(), now.ways.end(), [&](const WayOn& way) {
    return way.passes() && way.pulls_Pa > limit_Pa;
  });
  if (any_set) {
    text += wrapped(
                "over anyway: it pulls more than the limit, and little more than comes even if the "
                "kiln stays where it is.") +
            '\n';
  }
  return text;
}

std::string waits(const ReportContext& context, const Now& now) {
  const Display& display = context.display;
  std::string text;
  if (now.wait) {
    const auto said = [&](const char* how, const std::optional<Duration>& wait) {
      return fmt::format("  {:<34} {}\n", how, wait ? when(now, *wait) : "not surely, that way");
    };
    const bool held_never = now.wait->cool <= now.so_far.kiln;
    text += fmt::format("The slowest glass is at {} or below, at the latest\n",
                        show(now.wait->cool, display));
    if (now.past_known) text += said("as advised above", now.wait->as_advised);
    text += held_never ? fmt::format("  {:<34} never: the kiln shows {}\n",
                                     "the kiln held where it is",
                                     show(now.so_far.kiln, display))
                       : said("the kiln held where it is", now.wait->held_here);
    text += said("the elements off", now.wait->elements_off);
  }
  if (now.past_known && !advised(now.ways).before_hold) {
    if (!now.off_after) {
      text += "Elements off: at the program's end, not before.\n";
    } else if (in_min(*now.off_after) < 1.0) {
      text += "Elements off: now, if you wish; the kiln's own fall is slow enough.\n";
    } else {
      text += wrapped(fmt::format("Elements off: {}, at {} on the display. Earlier the kiln's own "
                                  "fall would be too fast.",
                                  when(now, *now.off_after),
                                  show(*now.off_at, display))) +
              '\n';
    }
  }
  return text;
}

std::string opening_words(const ReportContext& context, const Now& now) {
  return wrapped(fmt::format(
             "  Open not before the slowest glass is at {} and {} above the room ({}), "
             "and the pull within {:g} MPa; never by the display alone. {}, by "
             "the latest of the simulations of the range. Film coefficients assumed: still "
             "air {:g}, draught {:g} W/m2K.",
             show(opening_limit(context.firing.room), context.display),
             show_difference(TemperatureDifference::from_K(opening_above_room_K), context.display),
             show(context.firing.room, context.display),
             context.limits.tension.in_MPa(),
             now.past_known ? "On the way above" : "With the elements off from now on",
             still_air_film_W_per_m2_K,
             draught_film_W_per_m2_K)) +
         '\n';
}

std::string opening(const ReportContext& context, const Now& now) {
  std::string text = fmt::format("{:<25}{:>10}  {}\n", "Opening", "now pulls", "at the earliest");
  for (const Now::Open& open : now.open) {
    const Opening& opening = now.past_known ? open.as_advised : open.elements_off;
    text += fmt::format("  {:<23}{:>6.1f} MPa  {}\n",
                        name_of(open.into, context.casting),
                        in_MPa(open.pull_now_Pa),
                        opening.opens ? when(now, opening.after) : "later than simulated");
  }
  return text + opening_words(context, now);
}

/// The opening that every way to open allows.
Opening latest(const Now& now, Opening Now::Open::*from_now) {
  Opening found{.opens = true, .after = Duration{0.0}};
  for (const Now::Open& open : now.open) {
    found.opens = found.opens && (open.*from_now).opens;
    found.after = std::max(found.after, (open.*from_now).after);
  }
  return found;
}

/// All that can be said to do where the display alone is known.
std::string may_it_be_opened(const Now& now) {
  const Opening opening = latest(now, &Now::Open::elements_off);
  if (!opening.opens) return "Do not open: within the time computed it does not get cool enough.\n";
  if (in_min(opening.after) < 1.0) {
    return "As computed it may be opened now, with the cautions below.\n";
  }
  return wrapped(fmt::format("Do not open yet: no sooner than {}, with the elements off.",
                             when(now, opening.after))) +
         '\n';
}

}  // namespace

Opening latest_opening(const Now& now) {
  return latest(now, &Now::Open::as_advised);
}

const char* name_of(WayOn::Kind kind) {
  switch (kind) {
    case WayOn::Kind::go_on: return "go on";
    case WayOn::Kind::hold_here: return "wait here";
    case WayOn::Kind::back_to_hold: return "back to the hold";
    case WayOn::Kind::fall_closed: return "let it cool closed";
  }
  return "";
}

const char* word_of(const WayOn& way, const Limits& limits) {
  if (way.passes()) return way.pulls_Pa <= limits.tension.in_Pa() ? "within" : "over anyway";
  if (!way.fitted.cannot.empty()) return "not to be keyed";
  return way.keeps_grade && way.keeps_tension ? "hold too short" : "over";
}

std::string name_of(const OpenedInto& into, const Casting& casting) {
  const bool draught = into.film_W_per_m2_K > still_air_film_W_per_m2_K;
  return fmt::format("{}{}",
                     !casting.walls  ? ""
                     : into.in_mould ? "in its mould, "
                                     : "bare, ",
                     draught ? "draught" : "still air");
}

std::string when(const Now& now, Duration from_now) {
  if (in_min(from_now) < 1.0) return "now";
  if (!now.clock) return "in " + show_days(from_now);
  return fmt::format(
      "in {}, {}", show(from_now), short_moment(now.clock, now.so_far.now_s() + in_s(from_now)));
}

std::string now_to_do(const ReportContext& context, const Now& now) {
  std::string text = first_line(context, now, advised(now.ways));
  if (now.plan_was_over) {
    text += wrapped(
                "No way on through the rest of the program given keeps the limits; this is a tail "
                "planned anew.") +
            '\n';
  } else if (now.planned_here) {
    text +=
        wrapped("No program is given: this is the rest of a tail planned for this casting.") + '\n';
  }
  return text;
}

std::string now_state(const ReportContext& context, const Now& now) {
  std::string text = inside(context, now) + '\n' + stress_so_far(context, now) + '\n';
  if (now.past_known) text += ways_table(context, now) + '\n';
  const std::string waiting = waits(context, now);
  if (!waiting.empty()) text += waiting + '\n';
  return text + opening(context, now);
}

std::string now_words(const ReportContext& context, const Now& now) {
  std::string text = range_words(context, now) + stress_so_far(context, now) + '\n';
  if (now.past_known) text += wrapped(by_range_words(context, now)) + '\n';
  return text + waits(context, now) + opening_words(context, now);
}

namespace {

/// What was wrong with the log, where the advice rests on what was done about it.
std::string of_the_log(const Now& now) {
  return now.remarks.empty() ? "" : "The log, and what was done:\n" + listed(now.remarks);
}

}  // namespace

std::string now_text(const ReportContext& context, const Now& now) {
  std::string text;
  if (!now.past_known) text += may_it_be_opened(now) + '\n';
  if (now.past_known) {
    text += now_to_do(context, now) + of_the_log(now);
    const FittedProgram& fitted = advised(now.ways).fitted;
    if (!fitted.program.steps.empty()) {
      text += '\n' + keying_table(context.controller, fitted.program, 0, "start it now");
      for (const std::string& line : fitted.changes) text += wrapped(line) + '\n';
      for (const std::string& line : fitted.cannot) {
        text += wrapped("Cannot be keyed: " + line) + '\n';
      }
    }
    text += '\n';
  }
  text += now_state(context, now) + '\n';
  text += cautions_of_warm_glass() + '\n';
  text += made_for(context) + assumptions_section(context) + '\n';
  if (const auto beyond = beyond_model(context.casting); !beyond.empty()) {
    text += "Notes:\n" + listed(beyond) + '\n';
  }
  return text + short_cautions();
}

std::string now_csv(const ReportContext& context, const Now& now) {
  const WayOn& way = advised(now.ways);
  return write_program(
      way.fitted.program,
      {fmt::format("{}: from now on, for {}, {}",
                   name_of(way.kind),
                   describe(context.casting.shape, context.display.lengths),
                   context.casting.glass.title),
       fmt::format("controller: {}; kiln: {}", context.controller.title, context.kiln.title),
       fmt::format("leaves {:.1f} nm/cm, pulls {:.2f} MPa at most",
                   way.leaves_nm_per_cm,
                   in_MPa(way.pulls_Pa)),
       "an estimate, not a guarantee"});
}

std::string now_keys(const ReportContext& context, const Now& now) {
  std::string text;
  const auto add = [&](const std::string& name, double value) {
    text += fmt::format("{} = {:.6g}\n", name, value);
  };
  const auto add_C = [&](const std::string& name, const Doubtful& T_K) {
    add(name + "_C", Temperature::from_K(T_K.value).in_C());
    add(name + "_lowest_C", Temperature::from_K(T_K.lowest).in_C());
    add(name + "_highest_C", Temperature::from_K(T_K.highest).in_C());
  };
  const Present& present = now.present;
  add("kiln_C", now.so_far.kiln.in_C());
  add_C("slowest", present.slowest_K);
  add_C("mean", present.mean_K);
  add_C("surface", present.surface_K);
  if (now.past_known) {
    add("tension_MPa", in_MPa(present.tension_Pa));
    add("pulled_MPa", in_MPa(present.pulled_Pa));
    add("held_here_pulls_MPa", in_MPa(now.held_here_pulls_Pa));
    const WayOn& way = advised(now.ways);
    std::string advice = name_of(way.kind);
    std::replace(advice.begin(), advice.end(), ' ', '_');
    text += fmt::format("advice = {}\n", advice);
    text += fmt::format("advice_within = {}\n", within(way, context.limits) ? "yes" : "no");
    if (!way.before_hold) add("certain_nm_per_cm", now.certain.in_nm_per_cm());
    add("leaves_nm_per_cm", way.leaves_nm_per_cm);
    add("pulls_MPa", in_MPa(way.pulls_Pa));
    const auto [leaves_least, leaves_most] = in_doubt(now, &Judged::leaves_nm_per_cm);
    add("leaves_lowest_nm_per_cm", leaves_least);
    add("leaves_highest_nm_per_cm", leaves_most);
    const auto [pulls_least, pulls_most] = in_doubt(now, &Judged::pulls_Pa);
    add("pulls_lowest_MPa", in_MPa(pulls_least));
    add("pulls_highest_MPa", in_MPa(pulls_most));
    if (way.heating) add("heating_rate_C_per_h", way.heating->in_K_per_h());
    if (way.hold && !way.before_hold) add("hold_min", in_min(*way.hold));
    add("go_on_leaves_nm_per_cm", now.ways.front().leaves_nm_per_cm);
    if (now.off_after) {
      add("elements_off_after_min", in_min(*now.off_after));
      add("elements_off_at_C", now.off_at->in_C());
    }
  }
  if (now.wait) {
    add("wait_for_C", now.wait->cool.in_C());
    if (now.wait->as_advised) add("wait_as_advised_min", in_min(*now.wait->as_advised));
    if (now.wait->held_here) add("wait_held_here_min", in_min(*now.wait->held_here));
    if (now.wait->elements_off) add("wait_elements_off_min", in_min(*now.wait->elements_off));
  }
  for (const Now::Open& open : now.open) {
    const std::string name = fmt::format(
        "open_{}_{}",
        open.into.in_mould ? "in_mould" : "bare",
        open.into.film_W_per_m2_K > still_air_film_W_per_m2_K ? "draught" : "still_air");
    add(name + "_pulls_MPa", in_MPa(open.pull_now_Pa));
    const Opening& opening = now.past_known ? open.as_advised : open.elements_off;
    if (opening.opens) add(name + "_after_min", in_min(opening.after));
  }
  return text + limit_keys(context.limits);
}

}  // namespace thickset
