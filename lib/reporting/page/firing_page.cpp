#include "reporting/page/firing_page.h"

#include <cctype>

#include <fmt/format.h>

#include "reporting/how_sure_section.h"
#include "reporting/keying.h"
#include "reporting/markup.h"
#include "reporting/page/assembly.h"
#include "reporting/page/firing_views.h"
#include "reporting/page/now_part.h"
#include "reporting/page/parts.h"
#include "reporting/page/steps_part.h"
#include "reporting/rate_chart.h"
#include "schedule/log_clock.h"

namespace thickset {
namespace {

std::string sentence(std::string text) {
  if (text.empty()) return text;
  text.front() = static_cast<char>(std::toupper(static_cast<unsigned char>(text.front())));
  return text + '.';
}

/// Notes of a check that its first lines do not say.
std::vector<std::string> notes_of(const CheckResult& result) {
  std::vector<std::string> notes;
  for (const Finding& finding : result.findings) {
    if (!finding.said_first()) notes.push_back(finding.text);
  }
  return notes;
}

/// One row for each stretch of a log.
std::string stretches_html(const ReportContext& context,
                           const FiringLog& log,
                           const LogCheck& check) {
  const Display& display = context.display;
  std::vector<std::vector<std::string>> rows;
  for (std::size_t i = 0; i < check.result.steps.size(); ++i) {
    const StepResult& step = check.result.steps[i];
    rows.push_back(
        {short_moment(log.clock, check.run.stretches[i].start_s),
         show(step.from, display),
         show(step.to, display),
         show(step.rate, display),
         step.tension_Pa > 0.0 ? fmt::format("{:.1f} MPa", step.tension_Pa * 1e-6) : "-",
         step.retardation_nm_per_cm > 0.0 ? fmt::format("{:.1f}", step.retardation_nm_per_cm) : "-",
         step.over ? "over" : ""});
  }
  return table_html("Stretches over which the kiln went nearly straight",
                    {"at", "from", "to", "rate", "tension", "nm/cm", ""},
                    rows,
                    "numbers");
}

std::string how_sure_html(const ReportContext& context) {
  if (!context.how_sure) return {};
  return section_html("How sure", prose(how_sure_paragraph(context)), "small");
}

}  // namespace

std::string tail_page(const ReportContext& context, const Tail& tail, const PageRequest& request) {
  const Program& program = tail.fitted.program;
  const KeyedRows rows = keyed_rows(context, tail);
  std::string steps = prose(setting_line(context.setting));
  steps += steps_html(rows.steps,
                      rows.begin_s,
                      context.start,
                      sentence(keyed_start(context.controller, program, context.heat_up_steps)));
  steps += "<div class=\"card\">\n" + prose(sentence(keyed_end(context.controller)));
  steps += prose(late_on_cooling_line(context.controller)) + card_html() + "</div>\n";
  std::string notes = how_sure_html(context);
  if (!context.others.empty()) {
    notes += section_html("Others in the kiln", prose(load_section(context, tail)), "small");
  }
  notes += notes_html(tail_notes(tail));
  const FiringView view = view_of(context, tail.check, rows);
  return assembled(
      context,
      tail.check,
      short_of_confidence(context) + tail_to_do(context, tail),
      section_html("Key into the controller: " + context.controller.title, steps, "keying"),
      charts_html(view, start_of(program, context.firing), request),
      notes);
}

std::string check_page(const ReportContext& context,
                       const Program& program,
                       const CheckResult& result,
                       const PageRequest& request) {
  const Controller* controller = shown_for(context, program, request.for_controller);
  const KeyedRows rows = keyed_rows(controller, program, 0, result);
  const std::string steps =
      steps_html(rows.steps, rows.begin_s, context.start, "As the program has them") +
      "<div class=\"card\">\n" + card_html() + "</div>\n";
  const FiringView view = view_of(context, result, rows);
  return assembled(context,
                   result,
                   check_to_do(context, result),
                   section_html("The steps", steps, "keying"),
                   charts_html(view, start_of(program, context.firing), request),
                   how_sure_html(context) + notes_html(notes_of(result)));
}

std::string log_page(const ReportContext& context,
                     const FiringLog& log,
                     const LogCheck& check,
                     const PageRequest& request) {
  const FiringView view = view_of(context, check);
  std::vector<std::string> notes;
  for (const LogRemark& remark : log.remarks) notes.push_back(remark.text);
  for (std::string& note : notes_of(check.result)) notes.push_back(std::move(note));
  return assembled(context,
                   check.result,
                   log_to_do(context, check),
                   section_html("What the kiln did", stretches_html(context, log, check), "log"),
                   charts_html(view, check.run.course.start, request),
                   how_sure_html(context) + notes_html(notes));
}

std::string now_page(const ReportContext& context, const Now& now, const PageRequest& request) {
  const CheckResult result = of_way(context, now);
  const Program& program = advised(now.ways).fitted.program;
  std::string steps = prose("The program is at its end: nothing is left to key.");
  if (!program.steps.empty()) {
    const KeyedRows rows = keyed_rows(&context.controller, program, 0, result);
    steps = steps_html(rows.steps,
                       rows.begin_s,
                       context.start,
                       sentence(keyed_start(context.controller, program, 0, "start it now")));
    steps += "<div class=\"card\">\n" + prose(sentence(keyed_end(context.controller))) +
             card_html() + "</div>\n";
  }
  const FiringView view = view_of(context, now, result);
  return assembled(context,
                   result,
                   now_to_do(context, now),
                   section_html("Key from now on: " + context.controller.title, steps, "keying") +
                       section_html("The glass now", now_html(context, now), "small"),
                   charts_html(view, now.so_far.start, request),
                   notes_html(now.remarks));
}

std::string rewarm_page(const ReportContext& context,
                        const Reanneal& plan,
                        const CheckResult& whole,
                        const PageRequest& request) {
  const KeyedRows rows = keyed_rows(&context.controller, plan.whole, 0, whole);
  const std::string steps = steps_html(rows.steps,
                                       rows.begin_s,
                                       context.start,
                                       sentence(keyed_start(context.controller, plan.whole, 0))) +
                            "<div class=\"card\">\n" +
                            prose(sentence(keyed_end(context.controller))) + card_html() +
                            "</div>\n";
  return assembled(
      context,
      whole,
      rewarm_to_do(context, plan),
      section_html("Key into the controller: " + context.controller.title, steps, "keying"),
      charts_html(view_of(context, whole, rows), context.firing.room, request),
      notes_html(
          {"What the piece held before is not in the charts: heating adds to it until its surface "
           "is at the strain point."}));
}

std::string tail_chart(const ReportContext& context,
                       const Tail& tail,
                       ChartKind kind,
                       const PageRequest& request) {
  if (kind == ChartKind::rates) return svg_file(rate_chart(context, tail));
  const Program& program = tail.fitted.program;
  const KeyedRows rows = keyed_rows(context, tail);
  return chart_file(
      view_of(context, tail.check, rows), start_of(program, context.firing), kind, request);
}

std::string check_chart(const ReportContext& context,
                        const Program& program,
                        const CheckResult& result,
                        ChartKind kind,
                        const PageRequest& request) {
  const KeyedRows rows =
      keyed_rows(shown_for(context, program, request.for_controller), program, 0, result);
  return chart_file(
      view_of(context, result, rows), start_of(program, context.firing), kind, request);
}

std::string log_chart(const ReportContext& context,
                      const LogCheck& check,
                      ChartKind kind,
                      const PageRequest& request) {
  return chart_file(view_of(context, check), check.run.course.start, kind, request);
}

}  // namespace thickset
