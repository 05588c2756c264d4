#include "reporting/rate_chart.h"

#include <string>

#include <doctest/doctest.h>

#include "checking/example_casting.h"
#include "reporting/page/page_checks.h"
#include "schedule/read_controller.h"

using namespace thickset;
using page_checks::count;
using page_checks::fault_of_markup;

namespace {

struct Example {
  Casting casting = example::slab_of_mm(75.0);
  Kiln kiln = example::kiln("small-fibre");
  Controller controller =
      read_controller(example::data_path("controllers/ten-steps-by-rate.controller"));

  std::string chart(const Tail& tail, Degrees degrees) const {
    return svg_file(rate_chart({.casting = casting,
                                .kiln = kiln,
                                .controller = controller,
                                .firing = {},
                                .limits = {},
                                .display = {degrees, Lengths::millimetre},
                                .start = std::nullopt},
                               tail));
  }
};

}  // namespace

TEST_CASE("chart: the three cool-downs, the glass's points and axes in the degrees asked for") {
  Example example;
  example.casting.glass.title = "glass <of> \"ours\" & theirs";
  const Tail tail = plan_tail(example.casting, example.kiln, example.controller, {});
  const std::string in_C = example.chart(tail, Degrees::celsius);
  CHECK(fault_of_markup(in_C).empty());
  CHECK(count(in_C, "<polyline ") == 6);  // each with a piece of it beside its name
  CHECK(count(in_C, "as keyed") == 1);
  CHECK(count(in_C, "annealing point") == 1);
  CHECK(count(in_C, "strain point") == 1);
  CHECK(count(in_C, ">°C/h<") == 1);
  CHECK(count(in_C, "°F") == 0);
  CHECK(count(in_C, "glass &lt;of&gt; &quot;ours&quot; &amp; theirs") == 1);
  CHECK(in_C.find("nan") == std::string::npos);
  CHECK(in_C.find("inf") == std::string::npos);

  const std::string in_F = example.chart(tail, Degrees::fahrenheit);
  CHECK(count(in_F, ">°F/h<") == 1);
  CHECK(count(in_F, "°C") == 0);
  CHECK(count(in_F, ">800<") == 1);  // 513 C is 955 F
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
