#include <string>

#include <doctest/doctest.h>

#include "checking/example_casting.h"
#include "reporting/report.h"
#include "schedule/read_controller.h"

using namespace thickset;

TEST_CASE("tail report: a stage of which nothing is left to key has no row") {
  const Casting casting = example::slab_of_mm(50.0);
  const Kiln kiln = example::kiln();
  const Controller controller =
      read_controller(example::data_path("controllers/ten-steps-by-rate.controller"));
  const ReportContext context{.casting = casting,
                              .kiln = kiln,
                              .controller = controller,
                              .firing = {},
                              .limits = {},
                              .display = {},
                              .start = std::nullopt};
  Tail tail = plan_tail(casting, kiln, controller, {});
  const auto stage_rows = [&] {
    const std::string reasons = tail_reasons(context, tail);
    return reasons.substr(0, reasons.find("\n\n"));
  };
  const std::string before = stage_rows();
  CHECK(before.find("run-out") != std::string::npos);
  // As rounding leaves it where the one before ends at the same whole degree.
  tail.stages.push_back(tail.stages.back());
  CHECK(stage_rows() == before);
}
