#include "reporting/page/assembly.h"

#include <fmt/format.h>

#include "base/error.h"
#include "reporting/markup.h"
#include "reporting/page/outcome_part.h"
#include "reporting/page/parts.h"
#include "reporting/page/steps_part.h"
#include "reporting/sections.h"
#include "reporting/walls_section.h"

namespace thickset {
namespace {

std::string made_for_line(const ReportContext& context) {
  return fmt::format("For: {}{}; {}; kiln: {}; room {}.",
                     describe(context.casting.shape, context.display.lengths),
                     with_walls(context.casting, context.display.lengths),
                     context.casting.glass.title,
                     context.kiln.title,
                     show(context.firing.room, context.display));
}

std::string title_of(const ReportContext& context) {
  return "Firing page: " + context.casting.title;
}

}  // namespace

KeyedRows keyed_rows(const Controller* controller,
                     const Program& program,
                     int heat_up_steps,
                     const CheckResult& result) {
  KeyedRows keyed{keyed_steps(controller, program, heat_up_steps), {}};
  keyed.begin_s = begins_s(keyed.steps, program, result.measured);
  return keyed;
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

std::string card_html() {
  return "<p class=\"hot\">HOT until checked. Glass can burst. Estimate only. Fit a separate "
         "cut-out.</p>\n";
}

std::string notes_html(const std::vector<std::string>& notes) {
  return notes.empty() ? std::string{} : section_html("Notes", prose(listed(notes)), "small");
}

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
  return page_html(title_of(context), inner + words_html(words));
}

}  // namespace thickset
