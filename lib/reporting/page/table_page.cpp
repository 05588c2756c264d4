#include "reporting/page/table_page.h"

#include <vector>

#include <fmt/format.h>

#include "reporting/hours_chart.h"
#include "reporting/markup.h"
#include "reporting/page/outcome_part.h"
#include "reporting/page/parts.h"
#include "reporting/sections.h"
#include "reporting/table_report.h"

namespace thickset {
namespace {

std::string hours_html(const ReportContext& context, std::span<const ThicknessRow> rows) {
  std::vector<std::vector<std::string>> cells;
  for (const ThicknessRow& row : rows) {
    if (!row.planned()) {
      cells.push_back({show(row.thickness, context.display), "no plan", "", "", "", "", ""});
      continue;
    }
    const TableCells of = table_cells(row, context.display);
    cells.push_back({of.thickness, of.arrive, of.even_out, of.relax, of.set, of.run_out, of.total});
  }
  return table_html("Hours, each part after the one before",
                    {"", "arrive", "even out", "relax", "set", "run out", "total"},
                    cells,
                    "hours");
}

std::string stress_html(const ReportContext& context, std::span<const ThicknessRow> rows) {
  std::vector<std::vector<std::string>> cells;
  for (const ThicknessRow& row : rows) {
    if (!row.planned()) {
      cells.push_back({show(row.thickness, context.display), "no plan", "", ""});
      continue;
    }
    const TableCells of = table_cells(row, context.display);
    cells.push_back({of.thickness, of.days, of.tension, of.retardation});
  }
  return table_html(fmt::format("Days, largest tension (limit {:g} MPa) and what stays (limit {:g} "
                                "nm/cm)",
                                context.limits.tension.in_MPa(),
                                context.limits.grade.in_nm_per_cm()),
                    {"", "days", "MPa", "nm/cm"},
                    cells,
                    "hours");
}

}  // namespace

std::string table_page(const ReportContext& context, std::span<const ThicknessRow> rows) {
  const std::string title = "Hours against thickness: " + context.casting.glass.title;
  std::string inner = fmt::format(
      "<header>\n<h1>{}</h1>\n<div class=\"to-do\">\n{}</div>\n<p class=\"made-for\">{}</p>\n"
      "</header>\n",
      escaped(title),
      prose(table_to_do(context, rows)),
      escaped(table_made_for(context)));
  const std::string no_plan = table_no_plan(context, rows);
  std::string tables = "<div class=\"pair\">\n" + hours_html(context, rows) +
                       stress_html(context, rows) + "</div>\n";
  if (!no_plan.empty()) tables += prose(no_plan);
  inner += "<div class=\"tabled\">\n" + section_html("The table", tables, "chart-part") +
           chart_html(hours_chart(context, rows, false)) + "</div>\n";
  const std::vector<std::string> notes = table_notes(context, rows);
  std::string words = section_html("What each column is", prose(table_columns(context)), "small");
  if (!notes.empty()) words += section_html("Notes", prose(listed(notes)), "small");
  words += section_html("What it rests on",
                        prose(fmt::format("Limit of what stays: {:g} nm/cm ({}). Limit of the "
                                          "tension: {:g} MPa ({}). No source for the strength of "
                                          "cast glass was found.",
                                          context.limits.grade.in_nm_per_cm(),
                                          context.limits.grade_reason,
                                          context.limits.tension.in_MPa(),
                                          context.limits.tension_reason)) +
                            prose(assumptions_section(context)),
                        "small") +
           section_html("Cautions", cautions_html(), "small");
  return page_html(title, inner + words_html(words));
}

}  // namespace thickset
