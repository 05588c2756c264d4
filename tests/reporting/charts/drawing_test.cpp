#include "reporting/charts/drawing.h"

#include <cmath>
#include <string>

#include <doctest/doctest.h>

#include "reporting/charts/panel.h"

using namespace thickset;

TEST_CASE("thinning: a straight run keeps its ends, a corner stays, nothing moves farther") {
  std::vector<Spot> spots;
  for (int i = 0; i <= 100; ++i) spots.push_back({1.0 * i, i < 50 ? 0.0 : 2.0 * (i - 49)});
  const std::vector<Spot> kept = thinned(spots, 0.05);
  CHECK(kept.size() == 3);
  CHECK(kept.front().x_px == 0.0);
  CHECK(kept[1].x_px == 49.0);
  CHECK(kept.back().x_px == 100.0);

  std::vector<Spot> wave;
  for (int i = 0; i <= 2000; ++i) wave.push_back({0.2 * i, 40.0 * std::sin(0.01 * i)});
  const std::vector<Spot> few = thinned(wave, 0.05);
  CHECK(few.size() < wave.size() / 10);
  std::size_t piece = 1;
  double farthest_px = 0.0;
  for (const Spot& spot : wave) {
    while (few[piece].x_px < spot.x_px) ++piece;
    const Spot a = few[piece - 1], b = few[piece];
    const double on_line = a.y_px + (b.y_px - a.y_px) * (spot.x_px - a.x_px) / (b.x_px - a.x_px);
    farthest_px = std::max(farthest_px, std::abs(on_line - spot.y_px));
  }
  constexpr double steepness = 1.2;  // from across the line to upwards
  CHECK(farthest_px <= 0.05 * std::hypot(1.0, 2.0) * steepness);
}

TEST_CASE("drawing: words are escaped wherever they stand") {
  Drawing drawing;
  drawing.words({1.0, 2.0}, Anchor::end, "<script>");
  drawing.heading({1.0, 2.0}, "a & b");
  CHECK(drawing.svg().find("<script>") == std::string::npos);
  CHECK(drawing.svg().find("&lt;script&gt;") != std::string::npos);
  CHECK(drawing.svg().find("a &amp; b") != std::string::npos);
  const Chart chart{.title = "</title><script>",
                    .summary = "</desc>",
                    .width_px = 10.0,
                    .height_px = 10.0,
                    .svg = "",
                    .caption = "",
                    .heads = {},
                    .rows = {}};
  CHECK(svg_file(chart).find("<script>") == std::string::npos);
  CHECK(inline_svg(chart).find("</desc></desc>") == std::string::npos);
}

TEST_CASE("a curve that leaves its field is cut at the edge and goes on where it comes back") {
  const Panel panel{{0.0, 0.0, 100.0, 100.0}, {0.0, 10.0}, {0.0, 10.0}};
  Drawing drawing;
  panel.curve(drawing, {"hill", Mark::first, {0.0, 4.0, 6.0, 10.0}, {0.0, 20.0, 20.0, 0.0}});
  CHECK(drawing.svg() ==
        "<polyline class=\"line first\" points=\"0.0,100.0 20.0,0.0\"/>\n"
        "<polyline class=\"line first\" points=\"80.0,0.0 100.0,100.0\"/>\n");
  CHECK(value_at({0.0, 4.0}, {0.0, 20.0}, 1.0) == 5.0);
  CHECK(value_at({0.0, 4.0}, {0.0, 20.0}, 9.0) == 20.0);
  CHECK(value_at({0.0, 4.0}, {0.0, 20.0}, -9.0) == 0.0);
}

TEST_CASE("names stand beside their curves, or above the field where there is no room") {
  const Panel panel{{40.0, 40.0, 400.0, 240.0}, {0.0, 10.0}, {0.0, 100.0}};
  Drawing beside;
  panel.names(beside, {{"falls", Mark::first, {0.0, 1.0, 10.0}, {100.0, 10.0, 0.0}}});
  CHECK(beside.svg().find("<circle") != std::string::npos);
  Drawing above;
  panel.names(above, {{"rises", Mark::second, {0.0, 10.0}, {0.0, 100.0}}});
  CHECK(above.svg().find("<circle") == std::string::npos);
  CHECK(above.svg().find(">rises<") != std::string::npos);
  CHECK(above.svg().find("line second") != std::string::npos);
}

TEST_CASE(
    "text cut to a width: whole where it fits, else whole characters and a sign that more was") {
  CHECK(cut_to_width("slabs", width_px("slabs")) == "slabs");
  CHECK(cut_to_width("slabs", width_px("slabs") - 0.1) == "sla…");
  CHECK(cut_to_width("ééééé", width_px("éééé")) == "ééé…");
  CHECK(cut_to_width("", 0.0) == "");
  CHECK(cut_to_width("slabs", 0.0) == "…");
  CHECK(cut_to_width("\xff\xff\xff", width_px("ab")) == "\xff…");
}
