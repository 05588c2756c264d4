#include <cmath>
#include <string>

#include <doctest/doctest.h>

#include "base/text_file.h"
#include "checking/check.h"
#include "checking/example_casting.h"

using namespace thickset;

namespace {

/// A slab of the shipped casting glass with lines added to its file.
Casting slab(double thickness_mm, const std::string& lines) {
  const std::string path = example::data_path("glasses/casting-soda-lime-9.0.glass");
  Casting casting = example::slab_of_mm(thickness_mm);
  casting.glass = parse_glass(read_text_file(path, 1u << 20) + lines, path);
  return casting;
}

Step ramp(double to_C, double rate_K_per_h, Duration hold = seconds(0.0)) {
  return {
      .target = Temperature::from_C(to_C), .pace = Rate::from_K_per_h(rate_K_per_h), .hold = hold};
}

CheckResult check_slab(double thickness_mm, const std::string& lines) {
  const Program program{
      .start = std::nullopt,
      .steps = {
          {.target = Temperature::from_C(513.0), .pace = AsFastAsPossible{}, .hold = hours(3.0)},
          ramp(360.0, 5.0),
          ramp(300.0, 10.0),
          ramp(35.0, 20.0)}};
  return check(slab(thickness_mm, lines),
               example::kiln(),
               Controller::LateOnCooling::goes_on,
               program,
               {},
               {});
}

bool speaks_of_radiation(const CheckResult& result) {
  for (const Finding& finding : result.findings) {
    if (finding.kind == Finding::Kind::outside_model &&
        finding.text.find("radiation inside") != std::string::npos)
      return true;
  }
  return false;
}

}  // namespace

TEST_CASE("radiation inside evens thick glass out: less core to surface, less stress, no later") {
  const CheckResult dark = check_slab(75.0, "");
  const CheckResult clear = check_slab(75.0, "radiation_absorption = 200 1/m\n");
  const CheckResult cloudy = check_slab(75.0, "radiation_absorption = 2000 1/m\n");
  const auto left_Pa = [](const CheckResult& result) { return result.measured.permanent.mid_Pa; };
  CHECK(left_Pa(clear) < left_Pa(cloudy));
  CHECK(left_Pa(cloudy) < left_Pa(dark));
  CHECK(left_Pa(clear) < 0.7 * left_Pa(dark));
  // A tenth of the radiation's part, a little more than a tenth of its effect.
  CHECK(left_Pa(cloudy) > 0.85 * left_Pa(dark));
  CHECK(clear.measured.permanent.classical_mid_Pa < 0.7 * dark.measured.permanent.classical_mid_Pa);
}

TEST_CASE("a glass opaque to heat keeps its numbers within what so little radiation is worth") {
  const CheckResult dark = check_slab(75.0, "");
  const CheckResult opaque = check_slab(75.0, "radiation_absorption = 10000 1/m\n");
  const double share = opaque.measured.permanent.mid_Pa / dark.measured.permanent.mid_Pa;
  CAPTURE(share);
  CHECK(share < 1.0);
  CHECK(share > 0.97);  // 0.033 of 1.4 W/(m K) at the annealing point
}

TEST_CASE("a piece too thin for its absorption is spoken of just below ten, and not just above") {
  CHECK(speaks_of_radiation(check_slab(49.0, "radiation_absorption = 200 1/m\n")));
  CHECK_FALSE(speaks_of_radiation(check_slab(51.0, "radiation_absorption = 200 1/m\n")));
  CHECK_FALSE(speaks_of_radiation(check_slab(49.0, "")));
}

TEST_CASE("the table of radiation inside in notes/validity.md: 39.4, 30.2, 22.5 nm/cm in 75 mm") {
  const Program gentle{
      .start = std::nullopt,
      .steps = {
          {.target = Temperature::from_C(513.0), .pace = AsFastAsPossible{}, .hold = hours(3.0)},
          ramp(360.0, 7.0),
          ramp(300.0, 13.0),
          ramp(35.0, 28.0)}};
  struct Row {
    const char* lines;
    double nm_per_cm;
  };
  constexpr double half_last_digit = 0.05;
  for (const Row& row : {Row{"", 39.4},
                         Row{"radiation_absorption = 500 1/m\n", 30.2},
                         Row{"radiation_absorption = 200 1/m\n", 22.5}}) {
    CAPTURE(row.lines);
    const CheckResult result = check(
        slab(75.0, row.lines), example::kiln(), Controller::LateOnCooling::goes_on, gentle, {}, {});
    CHECK(std::abs(result.measured.permanent.retardation.in_nm_per_cm() - row.nm_per_cm) <=
          half_last_digit);
  }
}
