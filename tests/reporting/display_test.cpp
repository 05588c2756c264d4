#include "reporting/display.h"

#include <doctest/doctest.h>

#include "base/text.h"

using namespace thickset;

namespace {

constexpr Display celsius{Degrees::celsius, Lengths::millimetre};
constexpr Display fahrenheit{Degrees::fahrenheit, Lengths::inch};

}  // namespace

TEST_CASE("display: a temperature is in whole degrees of the scale asked for") {
  CHECK(show(Temperature::from_C(512.6), celsius) == "513 °C");
  CHECK(show(Temperature::from_C(516.0), fahrenheit) == "961 °F");
  CHECK(show(Temperature::from_C(-18.0), fahrenheit) == "0 °F");
}

TEST_CASE("display: a difference and a rate never get the 32 degrees of the scale") {
  CHECK(show_difference(TemperatureDifference::from_K(10.0), fahrenheit) == "18 °F");
  CHECK(show_difference(TemperatureDifference::from_K(0.0), fahrenheit) == "0.00 °F");
  CHECK(show(Rate::from_K_per_h(5.0), celsius) == "5.0 °C/h");
  CHECK(show(Rate::from_K_per_h(5.0), fahrenheit) == "9.0 °F/h");
}

TEST_CASE("display: of a sentence in both scales one is shown") {
  const Display in_C, in_F{Degrees::fahrenheit, Lengths::inch};
  const std::string range = "+-3.8 °C (6.8 °F) at 513 °C (955 °F), assumed (5 %)";
  CHECK(in_one_scale(range, in_C) == "+-3.8 °C at 513 °C, assumed (5 %)");
  CHECK(in_one_scale(range, in_F) == "+-6.8 °F at 955 °F, assumed (5 %)");
  const std::string span = "rises from 20 to 500 °C (68 to 932 °F).";
  CHECK(in_one_scale(span, in_C) == "rises from 20 to 500 °C.");
  CHECK(in_one_scale(span, in_F) == "rises from 68 to 932 °F.");
  CHECK(in_one_scale("between 400 and 550 °C (752 and 1022 °F)", in_F) ==
        "between 752 and 1022 °F");
  for (const std::string same : {"", "513 °C", "513 °C (measured)", "a (b) °F"}) {
    CHECK(in_one_scale(same, in_F) == same);
  }
}

TEST_CASE("display: two digits below ten, whole numbers from there on") {
  CHECK(show_difference(TemperatureDifference::from_K(0.123), celsius) == "0.12 °C");
  CHECK(show_difference(TemperatureDifference::from_K(1.26), celsius) == "1.3 °C");
  CHECK(show_difference(TemperatureDifference::from_K(9.96), celsius) == "10 °C");
  CHECK(show_difference(TemperatureDifference::from_K(-123.4), celsius) == "-123 °C");
  CHECK(size_of(TemperatureDifference::from_K(-3.0)) == TemperatureDifference::from_K(3.0));
}

TEST_CASE("display: a length is in millimetres or in inches of two decimals") {
  CHECK(show(Length::from_mm(75.0), celsius) == "75 mm");
  CHECK(show(Length::from_mm(90.0), fahrenheit) == "3.54 in");
}

TEST_CASE("display: a duration is in hours and whole minutes, long ones in days as well") {
  CHECK(show(minutes(59.4)) == "59 min");
  CHECK(show(minutes(59.6)) == "1 h");
  CHECK(show(minutes(1006.0)) == "16 h 46 min");
  CHECK(show_days(hours(47.0)) == "47 h");
  CHECK(show_days(hours(72.5)) == "72 h 30 min (3.0 days)");
}

TEST_CASE("display: a clock has its day of the week") {
  using namespace std::chrono;
  const Clock clock = local_days{year{2026} / November / 27} + std::chrono::hours{18};
  CHECK(show(clock) == "Fri 2026-11-27 18:00");
}

TEST_CASE("display: no wrapped line is too wide, and no word is lost") {
  const std::string text = "Hold at 513 °C for two hours, then cool in three stages to 35 °C.";
  const std::string broken = wrapped(text, 20, 2);
  std::string joined;
  for (std::size_t at = 0; at < broken.size();) {
    const std::size_t end = std::min(broken.find('\n', at), broken.size());
    const std::string line = broken.substr(at, end - at);
    CHECK(count_characters(line) <= 20);
    joined += at == 0 ? line : line.substr(1);  // of the indent one space stays
    at = end + 1;
  }
  CHECK(joined == text);
  CHECK(listed({"one", "two"}) == "- one\n- two\n");
}
