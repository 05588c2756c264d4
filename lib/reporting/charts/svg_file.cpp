#include <fmt/format.h>

#include "reporting/charts/drawing.h"
#include "reporting/markup.h"

namespace thickset {
namespace {

// Blue and vermilion stay apart for eyes that take red and green for one; dashes and widths tell
// lines apart without any colour. Contrast with the ground: words 15, lines 4 and more.
constexpr const char* light =
    ".chart .paper{fill:#ffffff}\n"
    ".chart text{fill:#1f1d1a}\n"
    ".chart .grid{stroke:#dedad2}\n"
    ".chart .axis{stroke:#6b665e}\n"
    ".chart .pointer{stroke:#6b665e}\n"
    ".chart .dot{fill:#1f1d1a}\n"
    ".chart .first,.chart .limit{stroke:#1f1d1a}\n"
    ".chart .second{stroke:#0b62a8}\n"
    ".chart .third{stroke:#b3480a}\n"
    ".chart .wide{stroke:#9c958a}\n"
    ".chart .point{stroke:#6f5426}\n"
    ".chart .band{fill:#f3ecd5;stroke:#a08c4a}\n"
    ".chart .area{fill:#e8e5de}\n";

constexpr const char* dark =
    ".chart .paper{fill:#181715}\n"
    ".chart text{fill:#ece8df}\n"
    ".chart .grid{stroke:#3b3834}\n"
    ".chart .axis{stroke:#a8a196}\n"
    ".chart .pointer{stroke:#a8a196}\n"
    ".chart .dot{fill:#ece8df}\n"
    ".chart .first,.chart .limit{stroke:#ece8df}\n"
    ".chart .second{stroke:#78bdf2}\n"
    ".chart .third{stroke:#f29a55}\n"
    ".chart .wide{stroke:#8b857b}\n"
    ".chart .point{stroke:#c9ac74}\n"
    ".chart .band{fill:#36301c;stroke:#85763f}\n"
    ".chart .area{fill:#2b2926}\n";

constexpr const char* shapes =
    ".chart text{font:14px system-ui,-apple-system,\"Segoe UI\",\"DejaVu Sans\",sans-serif}\n"
    ".chart .strong{font-weight:600}\n"
    ".chart .grid,.chart .axis,.chart .pointer,.chart .band{stroke-width:1}\n"
    ".chart .line{fill:none;stroke-linejoin:round}\n"
    ".chart .first{stroke-width:1.4}\n"
    ".chart .second{stroke-width:2;stroke-dasharray:7 4}\n"
    ".chart .third{stroke-width:2.6}\n"
    ".chart .wide{stroke-width:5}\n"
    ".chart .limit{stroke-width:1.6;stroke-dasharray:2 4}\n"
    ".chart .point{stroke-width:1;stroke-dasharray:2 4}\n"
    ".chart .colours{print-color-adjust:exact;-webkit-print-color-adjust:exact}\n";

/// margin_px: ground around the picture.
std::string svg(const Chart& chart,
                double margin_px,
                const std::string& more,
                const std::string& style) {
  const double width_px = chart.width_px + 2.0 * margin_px;
  const double height_px = chart.height_px + 2.0 * margin_px;
  return fmt::format(
      "<svg{} class=\"chart\" role=\"img\" viewBox=\"{:.0f} {:.0f} {:.0f} {:.0f}\">\n"
      "<title>{}</title>\n<desc>{}</desc>\n{}<rect class=\"paper\" x=\"{:.0f}\" y=\"{:.0f}\" "
      "width=\"{:.0f}\" height=\"{:.0f}\"/>\n{}</svg>\n",
      more,
      -margin_px + 0.0,
      -margin_px + 0.0,
      width_px,
      height_px,
      escaped(chart.title),
      escaped(chart.summary),
      style,
      -margin_px + 0.0,
      -margin_px + 0.0,
      width_px,
      height_px,
      chart.svg);
}

}  // namespace

std::string chart_style() {
  return fmt::format(
      "{}{}@media screen and (prefers-color-scheme:dark){{\n{}}}\n", shapes, light, dark);
}

std::string inline_svg(const Chart& chart) {
  return svg(chart, 0.0, "", "");
}

std::string svg_file(const Chart& chart) {
  constexpr double times = 1.75;  // as large as it is shown where nothing else is said
  constexpr double margin_px = 14.0;
  return svg(chart,
             margin_px,
             fmt::format(" xmlns=\"http://www.w3.org/2000/svg\" width=\"{:.0f}\" height=\"{:.0f}\"",
                         times * (chart.width_px + 2.0 * margin_px),
                         times * (chart.height_px + 2.0 * margin_px)),
             "<style>\n" + chart_style() + "</style>\n");
}

}  // namespace thickset
