#include "reporting/page/parts.h"

#include <fmt/format.h>

#include "reporting/markup.h"
#include "reporting/page/style.h"

namespace thickset {

std::string table_html(const std::string& caption,
                       const std::vector<std::string>& heads,
                       const std::vector<std::vector<std::string>>& rows,
                       const std::string& kind) {
  std::string html = fmt::format(
      "<table class=\"{}\">\n<caption>{}</caption>\n<thead><tr>", escaped(kind), escaped(caption));
  for (const std::string& head : heads) {
    html += fmt::format("<th scope=\"col\">{}</th>", escaped(head));
  }
  html += "</tr></thead>\n<tbody>\n";
  for (const std::vector<std::string>& row : rows) {
    html += "<tr>";
    for (std::size_t i = 0; i < row.size(); ++i) {
      html += i == 0 ? fmt::format("<th scope=\"row\">{}</th>", escaped(row[i]))
                     : fmt::format("<td>{}</td>", escaped(row[i]));
    }
    html += "</tr>\n";
  }
  return html + "</tbody>\n</table>\n";
}

std::string chart_html(const Chart& chart) {
  return fmt::format(
      "<section class=\"chart-part\">\n<h2>{0}</h2>\n<figure>\n{1}<figcaption>{2}</figcaption>\n"
      "</figure>\n<details>\n<summary>The numbers</summary>\n{3}</details>\n</section>\n",
      escaped(chart.title),
      inline_svg(chart),
      escaped(chart.caption),
      table_html(chart.title + ", numbers", chart.heads, chart.rows, "numbers"));
}

std::string section_html(const std::string& heading,
                         const std::string& inner,
                         const std::string& kind) {
  return fmt::format("<section class=\"{}\">\n<h2>{}</h2>\n{}</section>\n",
                     escaped(kind),
                     escaped(heading),
                     inner);
}

std::string words_html(const std::string& inner) {
  constexpr std::size_t much = 3600;  // does not fit on the second sheet as it is
  return fmt::format(
      "<div class=\"{}\">\n{}</div>\n", inner.size() > much ? "words much" : "words", inner);
}

std::string page_html(const std::string& title, const std::string& inner) {
  // The policy lets the page load nothing and run nothing, whatever stands in it.
  return fmt::format(
      "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\"/>\n"
      "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src "
      "'unsafe-inline'\"/>\n"
      "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\"/>\n"
      "<meta name=\"color-scheme\" content=\"light dark\"/>\n"
      "<title>{}</title>\n<style>\n{}{}</style>\n</head>\n<body>\n<main>\n{}</main>\n</body>\n"
      "</html>\n",
      escaped(title),
      page_style(),
      chart_style(),
      inner);
}

}  // namespace thickset
