#include <cmath>
#include <regex>
#include <string>

#include <doctest/doctest.h>

#include "checking/example_casting.h"
#include "planning/stages.h"
#include "relaxation/relaxation_time.h"
#include "reporting/report.h"
#include "schedule/read_controller.h"

using namespace thickset;

namespace {

/// Everything a report of a hold is made of; the report looks at it, so it stays in one place.
struct Example {
  Casting casting = example::slab_of_mm(50.0);
  Kiln kiln = example::kiln();
  Controller controller =
      read_controller(example::data_path("controllers/ten-steps-by-rate.controller"));
  Hold hold = size_hold(casting, kiln, {}, estimate_rates(casting, {}).setting);

  std::vector<HoldOption> curve() const {
    return {{.hold = hold, .cool_down = hours(50.0), .if_stiffer = hours(7.0)},
            {.hold = hold, .cool_down = hours(49.0), .if_stiffer = std::nullopt}};
  }
  ReportContext context(Degrees degrees, Lengths lengths) const {
    return {.casting = casting,
            .kiln = kiln,
            .controller = controller,
            .firing = {},
            .limits = {},
            .display = {degrees, lengths},
            .start = std::nullopt};
  }
};

bool has(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

/// The number behind "name = ".
double key(const std::string& keys, const std::string& name) {
  const std::size_t at = keys.find(name + " = ");
  REQUIRE(at != std::string::npos);
  return std::stod(keys.substr(at + name.size() + 3));
}

}  // namespace

TEST_CASE("hold report: the parts and the estimate stand beside each other, with units") {
  const Example example;
  const std::string text =
      hold_text(example.context(Degrees::celsius, Lengths::millimetre), example.hold);
  CHECK(has(text, "Hold at 513 °C for " + show(example.hold.total())));
  for (const Duration part : {example.hold.arriving, example.hold.evening, example.hold.relaxing}) {
    CHECK(has(text, " " + show(part) + "  "));
  }
  const Duration three_times = relaxation::time_to_relax(
      example.casting.glass, example.hold.temperature - example.hold.sensor_tolerance);
  CHECK(has(text, "estimate: " + show(three_times) + ")"));
  CHECK(has(text, "Thickness (largest ball that fits): 50 mm"));
}

TEST_CASE("hold report: in Fahrenheit and inches no Celsius and no millimetre is left") {
  const Example example;
  const std::string text =
      hold_text(example.context(Degrees::fahrenheit, Lengths::inch), example.hold, example.curve());
  const std::string before_sources = text.substr(0, text.find("Assumed, since"));
  CHECK(has(before_sources, "Hold at 955 °F"));
  CHECK(has(before_sources, "Thickness (largest ball that fits): 1.97 in"));
  CHECK_FALSE(has(before_sources, "°C"));
  CHECK_FALSE(std::regex_search(before_sources, std::regex{"[0-9] mm"}));
}

TEST_CASE("hold report: it promises nothing of a piece of glass") {
  const Example example;
  const std::regex promises{"\\b(safe|proven|guaranteed)\\b", std::regex::icase};
  for (const std::vector<HoldOption>& curve : {std::vector<HoldOption>{}, example.curve()}) {
    const std::string text =
        hold_text(example.context(Degrees::celsius, Lengths::millimetre), example.hold, curve);
    CHECK_FALSE(std::regex_search(text, promises));
    CHECK(has(text, "an estimate, not a guarantee"));
  }
}

TEST_CASE("hold report: the keys add up, also where a fixed hold is too short") {
  const Example example;
  const auto check_sum = [](const Hold& hold) {
    constexpr double printed_digits_min = 0.01;  // four parts of six digits, each below 1000
    const std::string keys = hold_keys(hold);
    const double sum = key(keys, "hold_arriving_min") + key(keys, "hold_evening_min") +
                       key(keys, "hold_relaxing_min") + key(keys, "hold_margin_min") -
                       key(keys, "hold_short_by_min");
    CHECK(std::abs(sum - key(keys, "hold_min")) <= printed_digits_min);
    CHECK(key(keys, "hold_margin_min") >= 0.0);
  };
  check_sum(example.hold);
  CHECK(key(hold_keys(example.hold), "hold_short_by_min") == 0.0);
  Hold cut = example.hold;
  cut.margin = Duration{0.0};
  cut.short_by = cut.needed() - minutes(20.0);
  check_sum(cut);
  CHECK(std::abs(key(hold_keys(cut), "hold_min") - 20.0) <= 1e-4);
}
