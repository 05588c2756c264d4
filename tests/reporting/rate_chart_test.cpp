#include "reporting/rate_chart.h"

#include <string>

#include <doctest/doctest.h>

#include "checking/example_casting.h"
#include "schedule/read_controller.h"

using namespace thickset;

namespace {

struct Example {
  Casting casting = example::slab_of_mm(75.0);
  Kiln kiln = example::kiln("small-fibre");
  Controller controller =
      read_controller(example::data_path("controllers/ten-steps-by-rate.controller"));

  std::string chart(const Tail& tail, Degrees degrees) const {
    return rate_chart({.casting = casting,
                       .kiln = kiln,
                       .controller = controller,
                       .firing = {},
                       .limits = {},
                       .display = {degrees, Lengths::millimetre},
                       .start = std::nullopt},
                      tail);
  }
};

int count(const std::string& text, const std::string& part) {
  int found = 0;
  for (std::size_t at = text.find(part); at != std::string::npos; at = text.find(part, at + 1)) {
    ++found;
  }
  return found;
}

}  // namespace

TEST_CASE("chart: the three cool-downs, the glass's points and axes in the degrees asked for") {
  Example example;
  example.casting.glass.title = "glass <of> \"ours\" & theirs";
  const Tail tail = plan_tail(example.casting, example.kiln, example.controller, {});
  const std::string in_C = example.chart(tail, Degrees::celsius);
  CHECK(count(in_C, "<polyline ") == 3);
  CHECK(count(in_C, "as keyed") == 1);
  CHECK(count(in_C, "annealing point") == 1);
  CHECK(count(in_C, "strain point") == 1);
  CHECK(count(in_C, "°C/h") == 1);
  CHECK(count(in_C, "°F") == 0);
  CHECK(count(in_C, "glass &lt;of&gt; \"ours\" &amp; theirs") == 1);
  CHECK(in_C.find("nan") == std::string::npos);
  CHECK(in_C.find("inf") == std::string::npos);

  const std::string in_F = example.chart(tail, Degrees::fahrenheit);
  CHECK(count(in_F, "°F/h") == 1);
  CHECK(count(in_F, "°C") == 0);
  CHECK(count(in_F, ">900<") == 1);  // 513 C is 955 F
  // The stages as keyed stand at the same places of the picture in either.
  CHECK(in_F.substr(in_F.rfind("<polyline ")) == in_C.substr(in_C.rfind("<polyline ")));
}

TEST_CASE("chart: where no tail keeps the limits, no stages are drawn that do") {
  const Example example;
  TailRequest request;
  request.limits.grade = Retardation::from_nm_per_cm(0.5);
  request.steps = 2;
  const Tail tail = plan_tail(example.casting, example.kiln, example.controller, request);
  REQUIRE_FALSE(tail.cannot.empty());
  const std::string chart = example.chart(tail, Degrees::celsius);
  CHECK(count(chart, "as keyed") == 1);
  CHECK(count(chart, "</svg>") == 1);
}
