#include <algorithm>
#include <optional>
#include <span>
#include <utility>

#include <fmt/format.h>

#include "base/error.h"
#include "base/text_file.h"
#include "checking/firing_by_program.h"
#include "commands.h"
#include "inputs.h"
#include "planning/plan_in_settings.h"
#include "planning/way_in_doubt.h"
#include "progress_line.h"
#include "record.h"
#include "reporting/display.h"
#include "reporting/keying.h"
#include "reporting/keying_card.h"
#include "reporting/now_report.h"
#include "reporting/page/firing_page.h"
#include "reporting/sketches.h"
#include "schedule/log_clock.h"
#include "schedule/notation.h"
#include "schedule/read_log.h"
#include "sketching.h"

namespace thickset::cli {
namespace {

/// What was typed must say where the glass is: a log, or the display with what is known beside it.
void require_a_moment(const Options& options) {
  const bool has_log = !options.program.empty();
  const auto refuse_with_log = [&](bool given, const char* name) {
    if (!given || !has_log) return;
    throw Error{{.source = name}, "the log tells it already", "leave it out, or leave the log out"};
  };
  refuse_with_log(options.air.has_value(), "--air");
  refuse_with_log(options.since_hold.has_value(), "--since-hold");
  refuse_with_log(options.since_start.has_value(), "--since-start");
  refuse_with_log(options.off_for.has_value(), "--off-for");
  if (has_log) return;
  if (!options.air) {
    throw Error{{},
                "now needs a log, or what the display shows",
                "for example: thickset now log.csv --casting slab-50, or thickset now --air 430C "
                "--since-hold 20h --plan tail.csv --casting slab-50"};
  }
  if (options.since_hold && options.since_start) {
    throw Error{{.source = "--since-start"}, "--since-hold is given as well", "give one of them"};
  }
  const bool timed = options.since_hold || options.since_start;
  if (timed != options.plan.has_value()) {
    throw Error{{.source = timed ? "--plan" : "--since-hold"},
                "it is not given",
                timed ? "name the program that runs: its own course is the past"
                      : "write how long ago the program's hold ended (20h), or its start with "
                        "--since-start"};
  }
  if (options.off_for && !timed) {
    throw Error{{.source = "--off-for"},
                "without a program it says nothing",
                "name the program with --plan and the time with --since-hold"};
  }
  if (options.at) throw Error{{.source = "--at"}, "there is no log", "leave it out"};
  if (options.sensor) {
    throw Error{{.source = "--sensor"}, "there is no log", "leave it out"};
  }
}

/// The controller, in the notation of the program where none is named.
Controller controller_of(const Options& options, const std::optional<Program>& plan) {
  Controller controller = load_controller(options);
  if (options.controller || !plan) return controller;
  if (plan->notation == Notation::time) controller.step_form = Controller::StepForm::target_minutes;
  controller.degrees = options.degrees.value_or(plan->degrees);
  controller.steps = std::max(controller.steps, static_cast<int>(plan->steps.size()) + 2);
  return controller;
}

/// A tail planned for this casting, where no program is given or the one given is over.
Program planned_tail(const Options& options,
                     const Casting& casting,
                     const Kiln& kiln,
                     const Controller& controller,
                     const Progress& progress) {
  progress("planning a tail for this casting");
  const TailInSetting chosen = plan_tail_in_settings(casting,
                                                     kiln,
                                                     controller,
                                                     {.limits = options.limits,
                                                      .firing = options.firing,
                                                      .hold_temperature = options.hold_at,
                                                      .hold_length = {},
                                                      .bulks = bulks_held_to(options),
                                                      .progress = progress},
                                                     {},
                                                     controller.degrees);
  return chosen.tail.fitted.program;
}

/// The lines of a text up to one of them, with its end.
std::string_view up_to_line(std::string_view text, int line) {
  std::size_t end = 0;
  for (int i = 0; i < line && end != text.npos; ++i) {
    const std::size_t found = text.find('\n', end);
    end = found == text.npos ? text.npos : found + 1;
  }
  return text.substr(0, end);
}

/// The log as it was so long after its first reading: what came later was not known yet, nor what
/// was wrong with it.
FiringLog as_it_was(Duration at,
                    const FiringLog& log,
                    std::string_view text,
                    const std::string& sensor,
                    const Progress& progress) {
  const auto later = std::upper_bound(log.time_s.begin(), log.time_s.end(), in_s(at));
  const auto kept = static_cast<std::size_t>(later - log.time_s.begin());
  if (kept < 2) {
    throw Error{{.source = "--at"},
                fmt::format("the log has {} reading{} until then", kept, kept == 1 ? "" : "s"),
                "write a later time, counted from its first reading"};
  }
  const double last_s = log.time_s.back();
  if (in_s(at) > last_s + std::max(log.interval_s, 60.0)) {
    throw Error{
        {.source = "--at"},
        fmt::format("the log ends before, {} after its first reading", show(seconds(last_s))),
        "write a time within it, or leave --at out to take its end"};
  }
  return parse_log(up_to_line(text, log.line[kept - 1]), log.source, sensor, progress);
}

/// How long ago the last reading was, where that is worth a line.
std::optional<std::string> age_of_last_reading(Duration at, const FiringLog& log) {
  constexpr double worth_saying_min = 10.0;
  const Duration age = at - seconds(log.time_s.back());
  if (in_min(age) < worth_saying_min) return std::nullopt;
  return fmt::format(
      "the last reading until then is {} old: all below is as of that reading, at {}",
      show(age),
      moment(log.clock, log.time_s.back()));
}

/// A log of a firing that still heats up does not tell what comes next.
void require_known_way(const FiringSoFar& so_far, const Casting& casting) {
  if (!so_far.from_its_start || so_far.hold) return;
  const bool was_hotter =
      std::any_of(so_far.air.corners.begin(), so_far.air.corners.end(), [&](const auto& corner) {
        return corner.T_K > casting.glass.annealing_point.value.in_K();
      });
  if (was_hotter) return;
  throw Error{{.source = "--plan"},
              "the log has not come to an anneal hold yet, and what leads to it is not known",
              "name the program that runs"};
}

bool any_passes(const std::vector<WayOn>& ways) {
  return std::any_of(ways.begin(), ways.end(), [](const WayOn& way) { return way.passes(); });
}

std::vector<Now::Open> openings(const Now& now,
                                std::span<const History> as_advised,
                                std::span<const History> elements_off,
                                const WaysRequest& request) {
  std::vector<Now::Open> all;
  for (const bool in_mould : {true, false}) {
    if (in_mould && !request.casting.walls) continue;
    for (const double film : {still_air_film_W_per_m2_K, draught_film_W_per_m2_K}) {
      const OpenedInto into{film, in_mould};
      // By the latest of the histories.
      const auto earliest = [&](std::span<const History> histories) {
        Opening latest{.opens = true, .after = Duration{0.0}};
        for (const History& history : histories) {
          const Opening opening = earliest_opening(request.casting,
                                                   history,
                                                   request.firing.room,
                                                   request.limits.tension,
                                                   now.so_far.now_s(),
                                                   into);
          latest.opens = latest.opens && opening.opens;
          latest.after = std::max(latest.after, opening.after - seconds(now.so_far.now_s()));
        }
        return latest;
      };
      all.push_back({.into = into,
                     .pull_now_Pa =
                         pull_if_opened_Pa(request.casting, now.present, request.firing.room, into),
                     .as_advised = earliest(as_advised),
                     .elements_off = earliest(elements_off)});
    }
  }
  return all;
}

}  // namespace

ExitStatus now(const Options& options) {
  require_a_moment(options);
  const Pictures& pictures = options.pictures;
  if (pictures.page && options.program.empty() && !options.plan) {
    throw Error{{.source = "--page"},
                "the display alone gives no firing to draw",
                "name the log, or the program with --plan and --since-hold"};
  }
  if (options.card && options.program.empty() && !options.plan) {
    throw Error{{.source = "--card"},
                "the display alone gives no program to key",
                "name the log, or the program with --plan and --since-hold"};
  }
  if (options.sketch && options.program.empty() && !options.plan) {
    throw Error{{.source = "--sketch"},
                "the display alone gives no firing to draw",
                "name the log, or the program with --plan and --since-hold"};
  }
  const Casting casting = load_casting(options);
  refuse_record(options, casting);
  const Kiln kiln = load_kiln(options);
  std::optional<Program> plan;
  if (options.plan) plan = read_program_input(*options.plan);
  std::optional<ProgressLine> line{std::in_place, stderr, is_terminal(stderr)};
  const Progress progress = [&](const std::string& what) { line->say(what); };
  std::optional<FiringLog> log;
  if (!options.program.empty()) {
    const InputText input = read_input(options.program);
    log = parse_log(input.text, input.source, options.sensor.value_or(""), progress);
    if (options.at) {
      log = as_it_was(*options.at, *log, input.text, options.sensor.value_or(""), progress);
    }
  }
  Options shown = options;
  if (log && !plan && !options.degrees) shown.degrees = log->degrees;
  const Controller controller = controller_of(shown, plan);
  std::optional<TailOfProgram> given;
  if (plan) given = tail_of(*plan, casting, kiln, options.firing, {.source = *options.plan});

  Now result{.so_far = {.air = {}, .start = options.firing.from, .kiln = options.firing.from},
             .clock = {},
             .present = {}};
  Degrees degrees = controller.degrees;
  if (log) {
    if (options.at) {
      if (const auto age = age_of_last_reading(*options.at, *log)) result.remarks.push_back(*age);
    }
    const LogCourse run = course_of(reduced(*log), casting, kiln, options.firing);
    result.so_far = so_far(run, casting.glass);
    result.clock = log->clock;
    if (!result.clock && options.start) {
      result.clock =
          LogClock{std::chrono::time_point_cast<std::chrono::seconds>(*options.start), true};
    }
    for (const LogRemark& remark : log->remarks) result.remarks.push_back(remark.text);
    degrees = log->degrees;
  } else {
    degrees = options.degrees.value_or(degrees);
    result.past_known = plan.has_value();
    result.so_far = plan ? so_far(*plan,
                                  {.since_hold = options.since_hold,
                                   .since_start = options.since_start,
                                   .off_for = options.off_for,
                                   .display = *options.air},
                                  casting,
                                  kiln,
                                  controller.late_on_cooling,
                                  options.firing,
                                  degrees)
                         : so_far(*options.air, kiln, options.firing, degrees);
  }
  if (!plan) require_known_way(result.so_far, casting);
  degrees = options.degrees.value_or(degrees);

  WaysRequest request{.casting = casting,
                      .kiln = kiln,
                      .controller = controller,
                      .firing = options.firing,
                      .limits = options.limits,
                      .bulks = bulks_held_to(options)};
  request.if_held_here = if_held_here(result.so_far, request);
  KilnCourse off_now =
      with_rest(result.so_far, {}, casting, kiln, controller.late_on_cooling, options.firing);
  off_now = with_elements_off(result.so_far, off_now, Duration{0.0}, casting, kiln, options.firing);
  KilnCourse course = off_now;
  if (result.past_known) {
    if (given) result.ways = ways_on(*given, result.so_far, request, progress);
    if (!given || !any_passes(result.ways)) {
      const Program planned = planned_tail(options, casting, kiln, controller, progress);
      TailOfProgram tail = tail_of(planned, casting, kiln, options.firing, {});
      if (given) tail = led_to_by(given->before, tail);
      FiringSoFar off_program = result.so_far;
      off_program.on_program.reset();
      std::vector<WayOn> anew = ways_on(tail, off_program, request, progress);
      if (!plan || any_passes(anew)) {
        result.ways = std::move(anew);
        result.planned_here = true;
        result.plan_was_over = plan.has_value();
      }
    }
    for (const IfHeldHere& held : request.if_held_here) {
      result.held_here_pulls_Pa = std::max(result.held_here_pulls_Pa, held.anywhere_Pa);
      result.held_here_stays_Pa = std::max(result.held_here_stays_Pa, held.stays_Pa);
    }
    const WayOn& way = advised(result.ways);
    course = way.course;
    progress("when the elements may go off");
    result.certain = certain_by_now(result.ways.front(), result.so_far, request);
    const InDoubt doubt{casting, result.so_far, kiln};
    result.way_in_doubt = judged_in_doubt(way.course, result.so_far, request, doubt);
    if (!way.before_hold) {
      result.off_after = elements_off_after(way, result.so_far, request, doubt);
    }
    if (result.off_after) {
      result.off_at = Temperature::from_K(
          course.followed.air.at_K(result.so_far.now_s() + in_s(*result.off_after)));
    }
  }

  progress("how sure the present state is");
  const InDoubt doubt{casting, result.so_far, kiln};
  const auto as_advised = doubt.histories(result.so_far, course, kiln);
  const auto elements_off = doubt.histories(result.so_far, off_now, kiln);
  result.present = present(result.so_far, kiln, as_advised, result.so_far.in_pieces_until_s);
  if (options.until) {
    if (*options.until <= options.firing.room) {
      throw Error{{.source = "--until"},
                  "no glass gets as cold as the room, or colder",
                  "write a temperature above it, or the room's own with --room"};
    }
    constexpr auto longest = hours(2000.0);
    const auto held = doubt.histories(
        result.so_far, held_here(result.so_far, request, longest + hours(1.0)), kiln);
    // Held here it never falls below what the kiln shows.
    const bool reaches = *options.until > result.so_far.kiln;
    result.wait = Now::Wait{
        .cool = *options.until,
        .as_advised = until_slowest_at(*options.until, result.so_far, as_advised, longest),
        .held_here =
            reaches ? until_slowest_at(*options.until, result.so_far, held, longest) : std::nullopt,
        .elements_off = until_slowest_at(*options.until, result.so_far, elements_off, longest)};
  }
  result.open = openings(result, as_advised, elements_off, request);
  line.reset();

  ReportContext context{.casting = casting,
                        .kiln = kiln,
                        .controller = controller,
                        .firing = options.firing,
                        .limits = options.limits,
                        .display = {degrees, options.lengths},
                        .start = options.start};
  if (pictures.page) {
    if (result.clock && result.clock->dated) {
      context.start = std::chrono::floor<std::chrono::minutes>(result.clock->first);
    }
    write_text_file(*pictures.page, now_page(context, result, pictures.request));
  }
  const std::string keys = now_keys(context, result);
  const bool has_steps = result.past_known && !advised(result.ways).fitted.program.steps.empty();
  put_record(options,
             context,
             {.command = "now",
              .keys = keys,
              .keyed = has_steps ? keying_table(context.controller,
                                                advised(result.ways).fitted.program,
                                                0,
                                                "start it now")
                                 : std::string{}});
  switch (options.format) {
    case Format::text: {
      std::string text = options.card ? now_card(context, result) : now_text(context, result);
      const std::optional<SketchStyle> style = wanted_sketch(options);
      if (style && result.past_known) text += '\n' + now_sketch(context, result, *style);
      if (!options.card) text = with_comparison(std::move(text), keys);
      deliver(options, text);
      break;
    }
    case Format::csv:
      if (!result.past_known) {
        throw Error{{.source = "--format"},
                    "there is no program to write",
                    "name the log, or the program with --plan and --since-hold"};
      }
      deliver(options, now_csv(context, result));
      break;
    case Format::keys: deliver(options, keys); break;
  }
  const bool fits = !result.past_known || within(advised(result.ways), options.limits);
  return fits ? fine : over_a_limit;
}

}  // namespace thickset::cli
