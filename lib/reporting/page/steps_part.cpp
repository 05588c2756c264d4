#include "reporting/page/steps_part.h"

#include <algorithm>

#include <fmt/format.h>

#include "reporting/markup.h"

namespace thickset {
namespace {

/// "Fri 18:00", or "after 4 h 2 min".
std::string moment_of(double time_s, const std::optional<Clock>& start) {
  if (!start) return time_s < 30.0 ? std::string{"start"} : show(seconds(time_s));
  const Clock at = *start + std::chrono::round<std::chrono::minutes>(seconds(time_s));
  const std::string whole = show(at);  // "Fri 2026-11-27 18:00"
  return whole.substr(0, 4) + whole.substr(whole.size() - 5);
}

/// A number and its unit on one line: "513 °C".
std::string unbroken(const std::string& text) {
  std::string result;
  for (const char c : text) {
    const bool after_digit = !result.empty() && result.back() >= '0' && result.back() <= '9';
    result += c == ' ' && after_digit ? std::string{"\u00a0"} : std::string{c};
  }
  return result;
}

}  // namespace

std::vector<std::optional<double>> begins_s(const KeyedSteps& steps,
                                            const Program& program,
                                            const Measured& measured) {
  // A step that takes no time leaves no row in the history: it begins where the one before ends.
  std::size_t reached = 0;
  for (std::size_t i = 0; i < program.steps.size(); ++i) {
    if (measured.steps[i].end_s > 0.0) reached = i;
  }
  std::vector<std::optional<double>> begins;
  for (const KeyedSteps::Row& row : steps.rows) {
    if (row.step > reached) {
      begins.emplace_back();
      continue;
    }
    double start_s = measured.steps[row.step].start_s;
    double end_s = measured.steps[row.step].end_s;
    if (end_s == 0.0) {
      for (std::size_t i = 0; i < row.step; ++i) end_s = std::max(end_s, measured.steps[i].end_s);
      start_s = end_s;
    }
    const double hold_s = in_s(program.steps[row.step].hold);
    begins.emplace_back(row.holds ? std::max(start_s, end_s - hold_s) : start_s);
  }
  return begins;
}

std::vector<FiringView::Start> starts_of(const KeyedSteps& steps,
                                         const std::vector<std::optional<double>>& begin_s) {
  std::vector<FiringView::Start> starts;
  for (std::size_t i = 0; i < begin_s.size(); ++i) {
    if (begin_s[i]) starts.push_back({steps.rows[i].cells.front(), *begin_s[i]});
  }
  return starts;
}

std::string steps_html(const KeyedSteps& steps,
                       const std::vector<std::optional<double>>& begin_s,
                       const std::optional<Clock>& start,
                       const std::string& caption) {
  std::string html = fmt::format(
      "<table class=\"steps\">\n<caption>{}</caption>\n<thead><tr><th scope=\"col\" "
      "class=\"tick\">done</th>",
      escaped(caption));
  for (std::size_t i = 0; i < steps.heads.size(); ++i) {
    // The lines of a controller that takes ramps and holds apart have no heads of their own.
    const std::string& head = steps.heads[i];
    html += fmt::format("<th scope=\"col\">{}</th>",
                        escaped(!head.empty() ? head
                                : i == 1      ? "kind"
                                              : "rate or time"));
  }
  html += fmt::format(
      "<th scope=\"col\">begins{}</th><th scope=\"col\" class=\"write\">clock</th><th "
      "scope=\"col\" class=\"write\">reading</th></tr></thead>\n<tbody>\n",
      start ? "" : " after");
  for (std::size_t i = 0; i < steps.rows.size(); ++i) {
    const KeyedSteps::Row& row = steps.rows[i];
    html += fmt::format(
        "<tr><td class=\"tick\"><input type=\"checkbox\" aria-label=\"{0} {1} done\"/></td><th "
        "scope=\"row\">{1}",
        escaped(steps.heads.front()),
        escaped(row.cells.front()));
    if (!row.purpose.empty()) {
      html += fmt::format(" <span class=\"for\">{}</span>", escaped(row.purpose));
    }
    html += "</th>";
    for (std::size_t cell = 1; cell < row.cells.size(); ++cell) {
      html += fmt::format("<td class=\"key\">{}</td>", escaped(unbroken(row.cells[cell])));
    }
    html += fmt::format("<td>{}</td><td class=\"write\"></td><td class=\"write\"></td></tr>\n",
                        escaped(begin_s[i] ? unbroken(moment_of(*begin_s[i], start)) : "never"));
  }
  return html + "</tbody>\n</table>\n";
}

}  // namespace thickset
