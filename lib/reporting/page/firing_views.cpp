#include "reporting/page/firing_views.h"

#include <algorithm>

#include "reporting/page/steps_part.h"

namespace thickset {
namespace {

/// How long the charts look: until the program and the wait for opening are over.
double until_s(const CheckResult& result) {
  const double end_s = result.measured.history.end_s();
  const double wanted_s = std::max(in_s(result.program_time), in_s(result.open_after));
  return wanted_s > 0.0 ? std::min(wanted_s, end_s) : end_s;
}

}  // namespace

KeyedRows keyed_rows(const ReportContext& context, const Tail& tail) {
  KeyedRows rows =
      keyed_rows(&context.controller, tail.fitted.program, context.heat_up_steps, tail.check);
  for (KeyedSteps::Row& row : rows.steps.rows) {
    const int planned = tail.fitted.from_step[row.step];
    if (!row.purpose.empty() || planned < 0) continue;
    const auto stage = static_cast<std::size_t>(planned);
    row.purpose = stage == 0 ? "hold" : name_of(tail.stages[stage - 1].kind);
  }
  return rows;
}

FiringView view_of(const ReportContext& context,
                   const CheckResult& result,
                   const KeyedRows& keyed) {
  return {.context = context,
          .measured = result.measured,
          .until_s = until_s(result),
          .starts = starts_of(keyed.steps, keyed.begin_s)};
}

FiringView view_of(const ReportContext& context, const LogCheck& check) {
  FiringView view{.context = context,
                  .measured = check.result.measured,
                  .until_s = std::max(until_s(check.result), check.run.end_s),
                  .counts_from_s = check.run.course.counts_from_s};
  if (check.plan) {
    view.planned = &check.plan->planned.measured.history;
    view.planned_later_s = check.plan->later_s;
  }
  return view;
}

FiringView view_of(const ReportContext& context, const Now& now, const CheckResult& way) {
  return {.context = context,
          .measured = way.measured,
          .until_s = until_s(way),
          .counts_from_s = now.so_far.in_pieces_until_s};
}

const Controller* shown_for(const ReportContext& context,
                            const Program& program,
                            bool for_controller) {
  const bool fits = for_controller && context.controller.notation() == program.notation;
  return fits ? &context.controller : nullptr;
}

CheckResult of_way(const ReportContext& context, const Now& now) {
  const WayOn& way = advised(now.ways);
  CheckResult result;
  result.measured = way.measured;
  // The first is what has been; the others are the program's.
  result.measured.steps.erase(result.measured.steps.begin());
  result.measured.permanent.retardation = Retardation::from_nm_per_cm(way.leaves_nm_per_cm);
  result.measured.peak_tension_Pa = way.pulls_Pa;
  result.verdict = within(way, context.limits) ? Verdict::within : Verdict::over;
  const double now_s = now.so_far.now_s();
  result.program_time = seconds(now_s);
  for (const Measured::OfStep& step : result.measured.steps) {
    const bool of_program = &step != &result.measured.steps.back();
    if (of_program) result.program_time = std::max(result.program_time, seconds(step.end_s));
  }
  const Opening opening = latest_opening(now);
  result.opens = opening.opens;
  result.open_after = opening.after + seconds(now_s);
  return result;
}

}  // namespace thickset
