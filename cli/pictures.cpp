#include "pictures.h"

#include <algorithm>
#include <initializer_list>
#include <variant>

#include <fmt/format.h>

#include "base/text.h"
#include "units/read_quantity.h"

namespace thickset::cli {

Pictures read_pictures(const Typed& typed, bool rates) {
  Pictures pictures;
  pictures.page = typed.text("page");
  pictures.chart = typed.text("chart");
  require("chart",
          !pictures.chart || pictures.chart != pictures.page,
          "the page is written to the same file",
          "give each a name of its own");
  const auto ends = [](const std::string& path, std::initializer_list<const char*> endings) {
    return std::any_of(
        endings.begin(), endings.end(), [&](const char* ending) { return path.ends_with(ending); });
  };
  require("page",
          !pictures.page || ends(*pictures.page, {".html", ".htm"}),
          fmt::format("{} is no name of a page", in_quotes(pictures.page.value_or(""))),
          "a page is HTML: end the name in .html");
  require("chart",
          !pictures.chart || ends(*pictures.chart, {".svg"}),
          fmt::format("{} is no name of a chart", in_quotes(pictures.chart.value_or(""))),
          "a chart is SVG, which a browser shows: end the name in .svg");
  const auto chart_of = typed.choice<ChartKind>("chart-of",
                                                {{"temperature", ChartKind::temperature},
                                                 {"stress", ChartKind::stress},
                                                 {"section", ChartKind::section},
                                                 {"edge", ChartKind::edge},
                                                 {"rates", ChartKind::rates}});
  if (chart_of) {
    require("chart-of",
            pictures.chart.has_value(),
            "there is no --chart to draw",
            "add --chart FILE.svg, or leave it out");
    require("chart-of",
            rates || *chart_of != ChartKind::rates,
            "the rates are drawn of a tail that is planned",
            "use it with tail, or write temperature, stress, section or edge");
    pictures.chart_of = *chart_of;
  }
  if (const auto path = typed.value("path", read_length)) {
    const bool shown = pictures.page || (pictures.chart && pictures.chart_of == ChartKind::edge);
    require("path",
            shown,
            "nothing shows what light does on its way",
            "add --page FILE.html or --chart FILE.svg --chart-of edge, or leave it out");
    require("path",
            path->in_mm() >= 1.0 && path->in_mm() <= 5000.0,
            fmt::format("{:g} mm is outside 1 to 5000 mm", path->in_mm()),
            "give the glass that the light passes, such as 60mm");
    pictures.request.path = *path;
  }
  pictures.request.for_controller = typed.has("controller");
  return pictures;
}

void refuse_pictures(const Pictures& pictures, const Casting& casting) {
  if (!pictures.chart || pictures.chart_of != ChartKind::edge) return;
  const Shape shape = casting.governing_shape();
  require("chart-of",
          !std::holds_alternative<Rod>(shape) && !std::holds_alternative<Ball>(shape),
          "a rod or a ball has no view along its faces",
          "write temperature, stress or section");
}

}  // namespace thickset::cli
