#include "reporting/table_report.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <map>
#include <string>
#include <vector>

#include <doctest/doctest.h>

#include "base/csv.h"
#include "base/text.h"
#include "checking/example_casting.h"
#include "reporting/cautions.h"
#include "reporting/hours_chart.h"
#include "reporting/page/page_checks.h"
#include "reporting/page/table_page.h"
#include "schedule/read_controller.h"
#include "slow_build.h"

using namespace thickset;
using page_checks::count;
using page_checks::fault_of_markup;
using page_checks::words_of;

namespace {

struct Tabled {
  std::vector<Casting> castings;
  Kiln kiln = example::kiln("small-fibre");
  Controller controller =
      read_controller(example::data_path("controllers/twenty-steps-by-rate.controller"));
  Limits limits{};
  Display display{};
  std::vector<ThicknessRow> rows{};

  explicit Tabled(const std::vector<double>& thicknesses_mm) {
    for (const double mm : thicknesses_mm) castings.push_back(example::slab_of_mm(mm));
    // Several tests look at one table: planned once.
    static std::map<std::vector<double>, std::vector<ThicknessRow>> planned;
    if (!planned.contains(thicknesses_mm)) {
      TailRequest request;
      request.limits = limits;
      planned[thicknesses_mm] = thickness_table(castings, kiln, controller, request, std::nullopt);
    }
    rows = planned.at(thicknesses_mm);
  }
  ReportContext context() const {
    return {.casting = castings.front(),
            .kiln = kiln,
            .controller = controller,
            .firing = {},
            .limits = limits,
            .display = display,
            .start = std::nullopt};
  }
  void lose(std::size_t row, const std::string& reason) { rows[row].no_plan = {reason}; }
};

std::vector<std::string> lines_of_text(const std::string& text) {
  std::vector<std::string> lines;
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t end = std::min(text.find('\n', at), text.size());
    lines.push_back(text.substr(at, end - at));
    at = end + 1;
  }
  return lines;
}

std::map<std::string, std::string> keys_in(const std::string& text) {
  std::map<std::string, std::string> keys;
  for (const std::string& line : lines_of_text(text)) {
    const std::size_t sign = line.find(" = ");
    REQUIRE(sign != std::string::npos);
    CHECK(keys.emplace(line.substr(0, sign), line.substr(sign + 3)).second);
  }
  return keys;
}

}  // namespace

TEST_CASE("table as text: at most 80 columns in either unit, first what it takes, cautions last") {
  Tabled tabled{{20.0, 60.0, 180.0}};
  tabled.lose(1, "a reason of its own " + std::string(90, 'x') + " that is long");
  for (const Display& display : {Display{}, Display{Degrees::fahrenheit, Lengths::inch}}) {
    tabled.display = display;
    const std::string text = table_text(tabled.context(), tabled.rows);
    CHECK(text.starts_with("From "));
    CHECK(text.ends_with(short_cautions()));
    CHECK(count(text, "No plan for 1 of 3 thicknesses.") == 1);
    CHECK(count(text, "no plan; the reason is below") == 1);
    CHECK(count(text, "- a reason of its own") == 1);
    CHECK(count(text, "Assumed, since not given") == 1);
    for (const std::string& line : lines_of_text(text)) {
      CAPTURE(line);
      if (line.find("xxx") == std::string::npos) CHECK(count_characters(line) <= 80);
    }
    for (const char* word : {"nan", "inf ", "safe", "proven", "guaranteed"}) {
      CHECK_MESSAGE(count(text, word) == 0, word);
    }
    const bool metric = display.lengths == Lengths::millimetre;
    CHECK(count(text, metric ? "°F" : "°C") == 0);
    CHECK(count(text, metric ? "180 mm" : "7.09 in") >= 2);
  }
}

TEST_CASE("table as text: a note of several rows stands once, with their thicknesses" *
          doctest::skip(slow_build)) {
  const Tabled tabled{{4.0, 8.0, 20.0}};
  const std::vector<std::string> notes = table_notes(tabled.context(), tabled.rows);
  std::string all;
  for (const std::string& note : notes) all += note + '\n';
  CHECK(count(all, "4.0 mm: 4 mm is outside the 12 to 300 mm") == 1);
  CHECK(count(all, "8.0 mm: 8 mm is outside the 12 to 300 mm") == 1);
  CHECK(count(all, "20 mm: 20") == 0);
  // Two rows with the very same note.
  Tabled twice{{20.0, 120.0}};
  for (ThicknessRow& row : twice.rows) row.found->tail.notes = {"the same"};
  const std::vector<std::string> once = table_notes(twice.context(), twice.rows);
  CHECK(std::count(once.begin(), once.end(), "20 mm, 120 mm: the same") == 1);
}

TEST_CASE(
    "table as csv and keys: read back, the same numbers, empty cells where there is no plan") {
  Tabled tabled{{25.4, 50.8, 76.2}};
  tabled.lose(2, "one line\nand another");
  const CsvTable csv = parse_csv(table_csv(tabled.context(), tabled.rows), "table.csv");
  const auto keys = keys_in(table_keys(tabled.context(), tabled.rows));
  REQUIRE(csv.rows.size() == 3);
  CHECK(csv.header.front().text == "thickness_mm");
  CHECK(csv.header.back().text == "planned");
  CHECK(keys.at("rows") == "3");
  for (std::size_t i = 0; i < csv.rows.size(); ++i) {
    const std::string row = "row_" + std::to_string(i + 1) + "_";
    CHECK(csv.rows[i].back().text == (i < 2 ? "yes" : "no"));
    double sum_h = 0.0;
    for (std::size_t n = 0; n < csv.header.size(); ++n) {
      const std::string name = csv.header[n].text, cell = csv.rows[i][n].text;
      CAPTURE(name);
      if (i == 2 && n > 0 && name != "planned") {
        CHECK(cell.empty());
        CHECK(keys.count(row + name) == 0);
        continue;
      }
      CHECK(keys.at(row + name) == cell);
      if (name.ends_with("_h") && name != "total_h") sum_h += std::atof(cell.c_str());
      constexpr double last_digits = 1e-3;  // of six, five parts
      if (name == "total_h") CHECK(std::abs(std::atof(cell.c_str()) - sum_h) <= last_digits);
    }
  }
  // The same table in inches.
  tabled.display = {Degrees::fahrenheit, Lengths::inch};
  const CsvTable in_inch = parse_csv(table_csv(tabled.context(), tabled.rows), "table.csv");
  CHECK(in_inch.header.front().text == "thickness_in");
  CHECK(in_inch.rows[1].front().text == "2");
  for (std::size_t n = 1; n < csv.header.size(); ++n) {
    CHECK(in_inch.rows[1][n].text == csv.rows[1][n].text);
  }
  CHECK(keys_in(table_keys(tabled.context(), tabled.rows)) == keys);
}

TEST_CASE("hours chart: a line for each moment, a dot for each row, none across a missing row" *
          doctest::skip(slow_build)) {
  Tabled tabled{{20.0, 40.0, 60.0, 90.0}};
  const std::string whole = svg_file(hours_chart(tabled.context(), tabled.rows));
  CHECK(fault_of_markup(whole) == "");
  CHECK(count(whole, "<polyline") == 5);
  CHECK(count(whole, "<circle") == 20);
  tabled.lose(1, "none");
  const Chart chart = hours_chart(tabled.context(), tabled.rows);
  CHECK(count(chart.svg, "<circle") == 15);
  CHECK(chart.rows.size() == 3);
  // 20 mm stands alone: a line of one point joins nothing.
  CHECK(count(chart.svg, "<polyline") == 10);
  for (std::size_t i = 0; i < tabled.rows.size(); ++i) tabled.lose(i, "none");
  const std::string empty = svg_file(hours_chart(tabled.context(), tabled.rows));
  CHECK(fault_of_markup(empty) == "");
  CHECK(count(empty, "nothing to draw") == 1);
  CHECK(count(empty, "<polyline") == 0);
  CHECK(count(empty, "nan") == 0);
}

TEST_CASE("hours chart: moments come one after the other, and names do not meet") {
  for (const std::vector<double>& thicknesses :
       {std::vector<double>{60.0}, std::vector<double>{20.0, 180.0}}) {
    const Tabled tabled{thicknesses};
    const Chart chart = hours_chart(tabled.context(), tabled.rows);
    for (const std::vector<std::string>& row : chart.rows) {
      for (std::size_t n = 2; n < row.size(); ++n) {
        CHECK(std::stod(row[n]) >= std::stod(row[n - 1]));
      }
    }
    std::vector<double> names_px;
    for (const char* name : {"arrived", "even", "relaxed", "set", "may open"}) {
      const std::size_t at = chart.svg.find(std::string{">"} + name + "<");
      REQUIRE(at != std::string::npos);
      const std::size_t y = chart.svg.rfind(" y=\"", at) + 4;
      names_px.push_back(std::stod(chart.svg.substr(y)));
    }
    for (std::size_t i = 1; i < names_px.size(); ++i) {
      CHECK(names_px[i - 1] - names_px[i] >= 14.0);
    }
    CHECK(names_px.back() > 40.0);
  }
}

TEST_CASE("table as a page: whole, well-formed, needs nothing else, says what the report says") {
  Tabled tabled{{20.0, 60.0, 180.0}};
  const std::string hostile = "</title><script>alert(1)</script>\" & \x01";
  tabled.castings.front().glass.title = hostile;
  tabled.kiln.title = hostile;
  tabled.controller.title = hostile;
  tabled.lose(1, "because <b>");
  const std::string page = table_page(tabled.context(), tabled.rows);
  CHECK(fault_of_markup(page) == "");
  for (const char* part : {"<script", "javascript:", "src=", "href=", "url(", "@import", "//"}) {
    CHECK_MESSAGE(count(page, part) == 0, part);
  }
  CHECK(count(page, "<h1>") == 1);
  CHECK(count(page, "<svg") == 1);
  CHECK(count(page, "<table") == count(page, "<caption>"));
  const std::string words = words_of(page);
  CHECK(count(words, "because &lt;b&gt;") == 1);
  for (const std::size_t i : {std::size_t{0}, std::size_t{2}}) {
    const TableCells cells = table_cells(tabled.rows[i], tabled.display);
    CHECK(count(words, cells.thickness + " " + cells.arrive + " " + cells.even_out) == 1);
    CHECK(count(words, cells.days + " " + cells.tension + " " + cells.retardation) == 1);
  }
  CHECK(count(words, "Assumed, since not given") == 1);
  CHECK(count(words, "If you suspect a crack") == 1);
  for (const char* word : {"nan", "safe", "proven", "guaranteed"}) {
    CHECK_MESSAGE(count(words, word) == 0, word);
  }
}
