#include "reporting/page/firing_page.h"

#include <algorithm>
#include <cctype>

#include <fmt/format.h>

#include "base/error.h"
#include "reporting/charts/firing_view.h"
#include "reporting/keying.h"
#include "reporting/markup.h"
#include "reporting/page/outcome_part.h"
#include "reporting/page/parts.h"
#include "reporting/page/steps_part.h"
#include "reporting/rate_chart.h"
#include "reporting/sections.h"
#include "reporting/walls_section.h"
#include "schedule/log_clock.h"

namespace thickset {
namespace {

/// How long the charts look: until the program and the wait for opening are over.
double until_s(const CheckResult& result) {
  const double end_s = result.measured.history.end_s();
  const double wanted_s = std::max(in_s(result.program_time), in_s(result.open_after));
  return wanted_s > 0.0 ? std::min(wanted_s, end_s) : end_s;
}

struct Keyed {
  KeyedSteps steps;
  std::vector<std::optional<double>> begin_s;
};

Keyed keyed(const Controller* controller,
            const Program& program,
            int heat_up_steps,
            const CheckResult& result) {
  Keyed keyed{keyed_steps(controller, program, heat_up_steps), {}};
  keyed.begin_s = begins_s(keyed.steps, program, result.measured);
  return keyed;
}

/// The keyed steps of a tail, each with the stage that it belongs to.
Keyed keyed(const ReportContext& context, const Tail& tail) {
  Keyed rows = keyed(&context.controller, tail.fitted.program, context.heat_up_steps, tail.check);
  for (KeyedSteps::Row& row : rows.steps.rows) {
    const int planned = tail.fitted.from_step[row.step];
    if (!row.purpose.empty() || planned < 0) continue;
    const auto stage = static_cast<std::size_t>(planned);
    row.purpose = stage == 0 ? "hold" : name_of(tail.stages[stage - 1].kind);
  }
  return rows;
}

std::string sentence(std::string text) {
  if (text.empty()) return text;
  text.front() = static_cast<char>(std::toupper(static_cast<unsigned char>(text.front())));
  return text + '.';
}

FiringView view_of(const ReportContext& context, const CheckResult& result, const Keyed& keyed) {
  return {.context = context,
          .measured = result.measured,
          .until_s = until_s(result),
          .starts = starts_of(keyed.steps, keyed.begin_s)};
}

FiringView view_of(const ReportContext& context, const LogCheck& check) {
  return {.context = context,
          .measured = check.result.measured,
          .until_s = std::max(until_s(check.result), check.run.end_s),
          .counts_from_s = check.run.course.counts_from_s};
}

/// The controller that a checked program is shown for; nullptr where it is shown as it is written.
const Controller* shown_for(const ReportContext& context,
                            const Program& program,
                            const PageRequest& request) {
  const bool fits = request.for_controller && context.controller.notation() == program.notation;
  return fits ? &context.controller : nullptr;
}

std::string charts_html(const FiringView& view, Temperature start, const PageRequest& request) {
  std::string html = chart_html(temperature_chart(view)) + chart_html(stress_chart(view)) +
                     chart_html(section_chart(view, worst_section(view, start)));
  if (const std::optional<Chart> edge = edge_view(view, request.path)) {
    html += chart_html(*edge);
  } else {
    html += section_html("Between crossed polarisers",
                         prose("A rod or a ball shows another picture than a slab seen along its "
                               "faces: what stays varies along the light. It is not drawn."),
                         "chart-part");
  }
  return "<div class=\"charts\">\n" + html + "</div>\n";
}

std::string made_for_line(const ReportContext& context) {
  return fmt::format("For: {}{}; {}; kiln: {}; room {}.",
                     describe(context.casting.shape, context.display.lengths),
                     with_walls(context.casting, context.display.lengths),
                     context.casting.glass.title,
                     context.kiln.title,
                     show(context.firing.room, context.display));
}

std::string notes_html(const std::vector<std::string>& notes) {
  return notes.empty() ? std::string{} : section_html("Notes", prose(listed(notes)), "small");
}

std::string title_of(const ReportContext& context) {
  return "Firing page: " + context.casting.title;
}

/// The parts in their order. steps, charts, notes: HTML; to_do: a report's text.
std::string assembled(const ReportContext& context,
                      const CheckResult& result,
                      const std::string& to_do,
                      const std::string& steps,
                      const std::string& charts,
                      const std::string& notes) {
  std::string inner = fmt::format(
      "<header>\n<h1>{}</h1>\n<div class=\"to-do\">\n{}</div>\n<p class=\"made-for\">{}</p>\n"
      "</header>\n",
      escaped(title_of(context)),
      prose(to_do),
      escaped(made_for_line(context)));
  inner += steps + section_html("What it leaves", outcome_html(context, result), "result");
  inner += charts;
  const std::string words =
      notes + section_html("What it rests on", prose(assumptions_section(context)), "small") +
      section_html("Cautions", cautions_html(), "small");
  constexpr std::size_t much = 3600;  // does not fit on the second sheet as it is
  inner += words.size() > much ? "<div class=\"words much\">\n" : "<div class=\"words\">\n";
  return page_html(title_of(context), inner + words + "</div>\n");
}

std::string card_html() {
  return "<p class=\"hot\">HOT until checked. Glass can burst. Estimate only. Fit a separate "
         "cut-out.</p>\n";
}

/// Notes of a check that its first lines do not say.
std::vector<std::string> notes_of(const CheckResult& result) {
  std::vector<std::string> notes;
  for (const Finding& finding : result.findings) {
    const bool said_first = finding.over || finding.kind == Finding::Kind::other_treatment;
    if (!said_first) notes.push_back(finding.text);
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

std::string chart_file(const FiringView& view,
                       Temperature start,
                       ChartKind kind,
                       const PageRequest& request) {
  switch (kind) {
    case ChartKind::temperature: return svg_file(temperature_chart(view));
    case ChartKind::stress: return svg_file(stress_chart(view));
    case ChartKind::section: return svg_file(section_chart(view, worst_section(view, start)));
    case ChartKind::edge: break;
    case ChartKind::rates:
      throw Error{{.source = "--chart-of"},
                  "the rates are drawn of a tail that was planned",
                  "use it with tail, or name another chart"};
  }
  const std::optional<Chart> edge = edge_view(view, request.path);
  if (edge) return svg_file(*edge);
  throw Error{{.source = "--chart-of"},
              "a rod or a ball has no view along its faces",
              "name another chart: temperature, stress or section"};
}

}  // namespace

std::string tail_page(const ReportContext& context, const Tail& tail, const PageRequest& request) {
  const Program& program = tail.fitted.program;
  const Keyed rows = keyed(context, tail);
  std::string steps = prose(setting_line(context.setting));
  steps += steps_html(rows.steps,
                      rows.begin_s,
                      context.start,
                      sentence(keyed_start(context.controller, program, context.heat_up_steps)));
  steps += "<div class=\"card\">\n" + prose(sentence(keyed_end(context.controller)));
  steps += prose(late_on_cooling_line(context.controller)) + card_html() + "</div>\n";
  std::string notes;
  if (!context.others.empty()) {
    notes += section_html("Others in the kiln", prose(load_section(context, tail)), "small");
  }
  notes += notes_html(tail_notes(tail));
  const FiringView view = view_of(context, tail.check, rows);
  return assembled(
      context,
      tail.check,
      tail_to_do(context, tail),
      section_html("Key into the controller: " + context.controller.title, steps, "keying"),
      charts_html(view, start_of(program, context.firing), request),
      notes);
}

std::string check_page(const ReportContext& context,
                       const Program& program,
                       const CheckResult& result,
                       const PageRequest& request) {
  const Controller* controller = shown_for(context, program, request);
  const Keyed rows = keyed(controller, program, 0, result);
  const std::string steps =
      steps_html(rows.steps, rows.begin_s, context.start, "As the program has them") +
      "<div class=\"card\">\n" + card_html() + "</div>\n";
  const FiringView view = view_of(context, result, rows);
  return assembled(context,
                   result,
                   check_to_do(context, result),
                   section_html("The steps", steps, "keying"),
                   charts_html(view, start_of(program, context.firing), request),
                   notes_html(notes_of(result)));
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
                   notes_html(notes));
}

std::string tail_chart(const ReportContext& context,
                       const Tail& tail,
                       ChartKind kind,
                       const PageRequest& request) {
  if (kind == ChartKind::rates) return svg_file(rate_chart(context, tail));
  const Program& program = tail.fitted.program;
  const Keyed rows = keyed(context, tail);
  return chart_file(
      view_of(context, tail.check, rows), start_of(program, context.firing), kind, request);
}

std::string check_chart(const ReportContext& context,
                        const Program& program,
                        const CheckResult& result,
                        ChartKind kind,
                        const PageRequest& request) {
  const Keyed rows = keyed(shown_for(context, program, request), program, 0, result);
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
