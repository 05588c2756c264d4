#include "reporting/page/now_part.h"

#include <vector>

#include <fmt/format.h>

#include "reporting/markup.h"
#include "reporting/page/parts.h"

namespace thickset {

std::string now_html(const ReportContext& context, const Now& now) {
  const Display& display = context.display;
  const auto shown = [&](double T_K) { return show(Temperature::from_K(T_K), display); };
  const auto in_doubt = [&](const char* what, const Doubtful& T_K) {
    return std::vector<std::string>{what, shown(T_K.value), shown(T_K.lowest), shown(T_K.highest)};
  };
  const Present& present = now.present;
  std::string html = table_html(
      fmt::format("The kiln shows {}; the glass, computed", show(now.so_far.kiln, display)),
      {"glass", "likely", "from", "to"},
      {in_doubt("slowest", present.slowest_K),
       in_doubt("mean", present.mean_K),
       in_doubt("surface", present.surface_K)},
      "outcome");
  std::vector<std::vector<std::string>> ways;
  for (const WayOn& way : now.ways) {
    ways.push_back({name_of(way.kind),
                    fmt::format("{:.1f}", way.leaves_nm_per_cm),
                    fmt::format("{:.1f}", way.pulls_Pa * 1e-6),
                    way.opening.opens ? show(way.opening.after) : "later",
                    word_of(way, context.limits)});
  }
  html += table_html("What can be done",
                     {"way on", "leaves nm/cm", "pulls MPa", "opens (middle)", "limits"},
                     ways,
                     "outcome");
  std::vector<std::vector<std::string>> openings;
  for (const Now::Open& open : now.open) {
    openings.push_back({name_of(open.into, context.casting),
                        fmt::format("{:.1f} MPa", open.pull_now_Pa * 1e-6),
                        open.as_advised.opens ? when(now, open.as_advised.after) : "later"});
  }
  html += table_html("Opening", {"into", "now pulls", "at the earliest"}, openings, "outcome");
  return html + prose(now_words(context, now));
}

}  // namespace thickset
