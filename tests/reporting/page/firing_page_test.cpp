#include "reporting/page/firing_page.h"

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include <doctest/doctest.h>
#include <fmt/format.h>

#include "base/text_file.h"
#include "checking/check_log.h"
#include "checking/example_casting.h"
#include "reporting/cautions.h"
#include "reporting/charts/firing_view.h"
#include "reporting/keying.h"
#include "reporting/markup.h"
#include "reporting/page/page_checks.h"
#include "schedule/notation.h"
#include "schedule/read_controller.h"
#include "schedule/read_log.h"
#include "stress/retardation.h"

using namespace thickset;
using page_checks::count;
using page_checks::fault_of_markup;
using page_checks::words_of;

namespace {

Controller controller_named(const std::string& name) {
  return read_controller(example::data_path("controllers/" + name + ".controller"));
}

struct Example {
  Casting casting = example::slab_of_mm(50.0);
  Controller controller = controller_named("ten-steps-by-rate");
  Display display{};
  Kiln kiln = example::kiln("small-fibre");

  ReportContext context() const {
    return {.casting = casting,
            .kiln = kiln,
            .controller = controller,
            .firing = {},
            .limits = {},
            .display = display,
            .start = std::nullopt};
  }
  Tail tail() const {
    TailRequest request;
    request.shown = display.degrees;
    return plan_tail(casting, kiln, controller, request);
  }
  std::string page(const Tail& planned, const PageRequest& request = {}) const {
    return tail_page(context(), planned, request);
  }
  Program program(const char* name) const {
    return read_program(example::data_path(std::string{"programs/"} + name + ".csv"));
  }
  CheckResult checked(const Program& program) const {
    return check(casting, kiln, Controller::LateOnCooling::goes_on, program, {}, {});
  }
};

/// What any page is held to.
void check_page_as_such(const std::string& page) {
  CHECK(fault_of_markup(page) == "");
  constexpr std::size_t most_bytes = 300'000;
  CHECK(page.size() < most_bytes);
  // Nothing is fetched, nothing runs, nothing links elsewhere.
  for (const char* part :
       {"<script", "javascript:", "src=", "href=", "url(", "@import", "//", "http:"})
    CHECK_MESSAGE(count(page, part) == 0, part);
  CHECK(count(page, "<html lang=\"en\">") == 1);
  CHECK(count(page, "<title>Firing page: ") == 1);
  CHECK(count(page, "<h1>") == 1);
  CHECK(count(page, " id=") == 0);
  CHECK(count(page, "<table") == count(page, "<caption>"));
  CHECK(count(page, "<th") == count(page, "<thead>") + count(page, "<th scope="));
  CHECK(count(page, "<svg") == count(page, "role=\"img\""));
  CHECK(count(page, "<svg") == count(page, "<desc>"));
  CHECK(count(page, "<svg") + 1 == count(page, "<title>"));
  CHECK(count(page, "<details>") == count(page, "<svg"));
  for (const char* word : {"nan", "inf<", "-0 ", "safe", "proven", "guaranteed"})
    CHECK_MESSAGE(count(words_of(page), word) == 0, word);
  const std::string cautions = words_of(escaped(whole_cautions()));
  CHECK(count(words_of(page), cautions.substr(0, cautions.find(" If you suspect"))) == 1);
  CHECK(count(words_of(page), "If you suspect a crack") == 1);
  CHECK(count(words_of(page), "HOT until checked. Glass can burst.") <= 1);
  // Data tables to be opened: 24 rows at most.
  for (std::size_t at = page.find("<details>"); at != std::string::npos;
       at = page.find("<details>", at + 1)) {
    const std::string table = page.substr(at, page.find("</details>", at) - at);
    CHECK(count(table, "<tr>") >= 3);
    CHECK(count(table, "<tr>") <= 25);
  }
}

}  // namespace

TEST_CASE("page of a tail: whole, well-formed, needs nothing else, says what the report says") {
  const Example example;
  const Tail tail = example.tail();
  const std::string page = example.page(tail);
  check_page_as_such(page);
  const std::string words = words_of(page);
  const std::string report = tail_text(example.context(), tail);
  CHECK(count(words, words_of(prose(tail_to_do(example.context(), tail)))) == 1);
  // Every cell that is keyed, in its order.
  const KeyedSteps steps = keyed_steps(&example.controller, tail.fitted.program);
  CHECK(count(page, "type=\"checkbox\"") == static_cast<int>(steps.rows.size()));
  std::size_t at = words.find("reading");
  for (const KeyedSteps::Row& row : steps.rows) {
    for (const std::string& cell : row.cells) {
      CAPTURE(cell);
      at = words.find(cell, at);
      REQUIRE(at != std::string::npos);
      CHECK(report.find(cell) != std::string::npos);
    }
  }
  const Measured& measured = tail.check.measured;
  for (const std::string& number :
       {fmt::format("{:.1f} nm/cm", measured.permanent.retardation.in_nm_per_cm()),
        fmt::format("{:.1f} MPa", measured.peak_tension_Pa * 1e-6),
        show_days(tail.check.open_after)}) {
    CAPTURE(number);
    CHECK(count(words, number) >= 1);
    CHECK(report.find(number) != std::string::npos);
  }
  CHECK(count(words, "Assumed, since not given") == 1);
  CHECK(count(words, "The path is assumed") == 1);
  CHECK(count(page, "<svg") == 4);
}

TEST_CASE("page of a tail: degrees and lengths are the user's throughout") {
  Example example;
  example.controller = controller_named("ten-steps-by-rate-F");
  example.display = {Degrees::fahrenheit, Lengths::inch};
  const std::string page = example.page(example.tail(), {.path = Length::from_inch(5.0)});
  check_page_as_such(page);
  const std::string words = words_of(page);
  CHECK(count(words, "°C") == 0);
  CHECK(count(words, "mm from the middle") == 0);
  CHECK(count(words, "°F") > 20);
  CHECK(count(words, "light through 5.00 in of glass") == 1);
  CHECK(count(words, "The path is the one you gave") == 1);
}

TEST_CASE("page: text of files comes out as text, however hostile") {
  Example example;
  const std::string hostile = "</title><script>alert(1)</script><img src=x onerror='a'>\" & \x01";
  example.casting.title = hostile;
  example.casting.glass.title = hostile;
  example.kiln.title = hostile;
  example.controller.title = hostile;
  example.kiln.assumed = {hostile};
  const std::string page = example.page(example.tail());
  CHECK(fault_of_markup(page) == "");
  CHECK(count(page, "<script") == 0);
  CHECK(count(page, "<img") == 0);
  CHECK(count(page, "\x01") == 0);
  CHECK(count(page, "&lt;script&gt;alert(1)&lt;/script&gt;") >= 5);
}

TEST_CASE("page of a program: steps as they are written, findings first") {
  const Example example;
  const Program program = example.program("slab-50-hurried");
  const CheckResult result = example.checked(program);
  REQUIRE(result.verdict == Verdict::over);
  const std::string page = check_page(example.context(), program, result, {});
  check_page_as_such(page);
  CHECK(count(words_of(page), words_of(prose(check_to_do(example.context(), result)))) == 1);
  CHECK(count(page, "type=\"checkbox\"") == static_cast<int>(program.steps.size()));
}

TEST_CASE("page of a program that is broken off: its later steps never begin") {
  const Example example;
  const Program program = example.program("slab-50-hurried");
  const CheckResult result =
      check(example.casting, example.kiln, Controller::LateOnCooling::stops, program, {}, {});
  const Program fast = parse_program(
      "target_C,rate_C_per_h,hold_min\n513,9000,60\n300,9000,0\n35,20,0\n", "fast.csv");
  const CheckResult stopped =
      check(example.casting, example.kiln, Controller::LateOnCooling::stops, fast, {}, {});
  REQUIRE(stopped.measured.followed.broken_off);
  const std::string page = check_page(example.context(), fast, stopped, {});
  check_page_as_such(page);
  CHECK(count(page, "<td>never</td>") >= 1);
  CHECK(count(page, "<td>start</td>") == 1);
  if (!result.measured.followed.broken_off) {
    CHECK(count(check_page(example.context(), program, result, {}), "<td>never</td>") == 0);
  }
}

TEST_CASE("page of a log: what the kiln did instead of steps to key") {
  const Example example;
  const FiringLog log = parse_log(
      read_text_file(example::data_path("logs/slab-50-power-cut.csv")), "log.csv", "", {});
  const LogCheck checked = check_log(example.casting,
                                     example.kiln,
                                     Controller::LateOnCooling::goes_on,
                                     log,
                                     std::nullopt,
                                     {},
                                     {},
                                     true,
                                     Degrees::celsius,
                                     all_bulks);
  const std::string page = log_page(example.context(), log, checked, {});
  check_page_as_such(page);
  CHECK(count(page, "type=\"checkbox\"") == 0);
  CHECK(count(words_of(page), words_of(prose(log_to_do(example.context(), checked)))) == 1);
  for (const LogRemark& remark : log.remarks) {
    CHECK(count(words_of(page), words_of(escaped(remark.text))) >= 1);
  }
}

TEST_CASE("page: a rod and a ball have no view along their faces, and the page says so") {
  Example example;
  for (const Shape& shape :
       {Shape{Rod{Length::from_mm(60.0)}}, Shape{Ball{Length::from_mm(60.0)}}}) {
    example.casting = example::of_shape(shape);
    const Program program = example.program("slab-50-gentle");
    const std::string page = check_page(example.context(), program, example.checked(program), {});
    check_page_as_such(page);
    CHECK(count(page, "<svg") == 3);
    CHECK(count(words_of(page), "A rod or a ball shows another picture") == 1);
  }
}

TEST_CASE(
    "what would stay: at the end it is what stays, and from 230 K below the strain point on") {
  Example example;
  const Program program = example.program("slab-50-gentle");
  for (const Shape& shape : {Shape{Slab{Length::from_mm(50.0)}},
                             Shape{Bar{Length::from_mm(60.0), Length::from_mm(90.0)}},
                             Shape{Ball{Length::from_mm(70.0)}},
                             Shape{Rod{Length::from_mm(60.0)}}}) {
    example.casting = example::of_shape(shape);
    const CheckResult result = example.checked(program);
    const Measured& measured = result.measured;
    const bool is_bar = std::holds_alternative<Bar>(shape);
    CHECK(measured.of_permanent.has_value() == is_bar);
    const double cold_K = example.casting.glass.strain_point.value.in_K() - 230.0;
    // Hardly anything relaxes that far below; the centre of a ball is computed to about 1 % of the
    // stress of its temperatures (stress/round.h).
    constexpr double share = 0.02;
    int rows = 0;
    for (const History::Row& row : measured.permanent_history().rows) {
      if (row.centre_K > cold_K) continue;
      ++rows;
      CHECK(std::abs(row.staying_Pa - measured.permanent.mid_Pa) <=
            share * measured.permanent.mid_Pa);
    }
    CHECK(rows > 20);
  }
}

TEST_CASE("edge view: its numbers are retardation per path times path") {
  const Example example;
  const Program program = example.program("slab-50-gentle");
  const CheckResult result = example.checked(program);
  const ReportContext context = example.context();
  const FiringView view{
      .context = context, .measured = result.measured, .until_s = in_s(result.open_after)};
  const auto middle_nm = [&](double path_mm) {
    const std::optional<Chart> chart = edge_view(view, Length::from_mm(path_mm));
    REQUIRE(chart.has_value());
    return std::stod(chart->rows[chart->rows.size() / 2][2]);
  };
  const Chart by_default = *edge_view(view, std::nullopt);
  const double middle_MPa = std::stod(by_default.rows[by_default.rows.size() / 2][1]);
  constexpr double last_digit_MPa = 0.006;
  CHECK(std::abs(middle_MPa - result.measured.permanent.mid_Pa * 1e-6) <= last_digit_MPa);
  const double nm_per_cm = result.measured.permanent.retardation.in_nm_per_cm();
  constexpr double whole_nm = 0.6;  // numbers are shown to 1 nm
  CHECK(std::abs(middle_nm(100.0) - 10.0 * nm_per_cm) <= whole_nm);
  CHECK(std::abs(middle_nm(250.0) - 25.0 * nm_per_cm) <= whole_nm);
  // Without a path: 100 mm.
  CHECK(edge_view(view, std::nullopt)->rows == edge_view(view, Length::from_mm(100.0))->rows);
}
