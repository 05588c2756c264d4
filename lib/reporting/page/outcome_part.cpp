#include "reporting/page/outcome_part.h"

#include <fmt/format.h>

#include "reporting/cautions.h"
#include "reporting/markup.h"
#include "reporting/page/parts.h"
#include "reporting/sections.h"

namespace thickset {
namespace {

std::string joined(std::string text) {
  while (!text.empty() && text.back() == '\n') text.pop_back();
  for (char& c : text) {
    if (c == '\n') c = ' ';
  }
  return text;
}

}  // namespace

std::string outcome_html(const ReportContext& context, const CheckResult& result) {
  const Measured& measured = result.measured;
  const Limits& limits = context.limits;
  std::vector<std::vector<std::string>> rows;
  rows.push_back({"permanent, seen edge-on",
                  fmt::format("{:.1f} nm/cm", measured.permanent.retardation.in_nm_per_cm()),
                  fmt::format("{:g} nm/cm", limits.grade.in_nm_per_cm())});
  rows.push_back({"largest tension at any time",
                  fmt::format("{:.1f} MPa", measured.peak_tension_Pa * 1e-6),
                  fmt::format("{:g} MPa", limits.tension.in_MPa())});
  std::string html = table_html(fmt::format("As simulated: {}.", word(result.verdict)),
                                {"stress", "computed", "limit"},
                                rows,
                                "outcome");
  html += prose(fmt::format("Limit of what stays: {}. Limit of the tension: {}.",
                            limits.grade_reason,
                            limits.tension_reason));
  std::string opening =
      result.opens
          ? fmt::format(
                "Earliest opening {} after {}, as computed; the display alone does not tell.",
                show_days(result.open_after),
                counted_from(context))
          : std::string{"Within the time computed the glass does not get cool enough to open."};
  if (result.opens && context.start) {
    opening += fmt::format(
        " Started {}: earliest opening {}.",
        show(*context.start),
        show(*context.start + std::chrono::ceil<std::chrono::minutes>(result.open_after)));
  }
  html += prose(opening);
  html += prose(
      "How the bulk of the glass is taken to relax alone moves the permanent stress by -20 to +80 "
      "%. No source for the strength of cast glass was found.");
  return html;
}

std::string cautions_html() {
  const std::string warm = cautions_of_warm_glass();
  std::string whole = whole_cautions();
  whole.resize(whole.size() - warm.size());
  return "<p>" + escaped(joined(whole)) + "</p>\n<p>" + escaped(joined(warm)) + "</p>\n";
}

}  // namespace thickset
