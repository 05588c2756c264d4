#include <algorithm>
#include <iterator>
#include <string>
#include <vector>

#include <doctest/doctest.h>
#include <fmt/format.h>

#include "checking/example_casting.h"
#include "planning/tail.h"
#include "sampling/one_at_a_time.h"
#include "sampling/sample_course.h"
#include "sampling/uncertain_input.h"
#include "schedule/read_controller.h"
#include "slow_build.h"

using namespace thickset;

namespace {

/// What an independent model makes of a 75 mm slab at 10 nm/cm with a tail whose stages grow
/// faster: of what is left, per cent, at the low and the high end of one input. Computed, not
/// published; no check, for its tail and series are not quite these.
struct Orientation {
  UncertainValue what;
  double half_width;
  double low_percent, high_percent;
};
constexpr Orientation orientations[] = {{UncertainValue::strain_point, 6.0, +38.0, -36.0},
                                        {UncertainValue::sensor, 1.0, -19.0, +21.0},
                                        {UncertainValue::thickness, 0.10, -18.0, +20.0},
                                        {UncertainValue::fixed_points, 10.0, +20.0, -18.0},
                                        {UncertainValue::conductivity, 0.10, +11.0, -9.0},
                                        {UncertainValue::expansion, 0.05, -5.0, +5.0}};

struct Fired {
  Casting casting;
  Kiln kiln;
  Tail tail;
  KilnCourse course;

  CourseToSample to_sample() const {
    return {.casting = casting, .kiln = kiln, .course = course, .bulk = Bulk::constant_ratio};
  }
};

TailRequest request() {
  TailRequest asked;
  asked.limits.grade = Retardation::from_nm_per_cm(10.0);
  asked.bulks = {Bulk::constant_ratio};
  return asked;
}

Tail planned(const Casting& casting, const Kiln& kiln) {
  const Controller box =
      read_controller(example::data_path("controllers/seven-steps-by-time.controller"));
  return plan_tail(casting, kiln, box, request());
}

Fired fired() {
  Casting casting = example::slab_of_mm(75.0);
  Kiln kiln = example::kiln("small-fibre");
  kiln.sensor_uncertainty = TemperatureDifference::from_K(10.0);
  Tail tail = planned(casting, kiln);
  const Program& program = tail.fitted.program;
  KilnCourse course = course_of(
      measure(casting, kiln, Controller::LateOnCooling::waits, program, {}), start_of(program, {}));
  return {std::move(casting), std::move(kiln), std::move(tail), std::move(course)};
}

double per_cent(double value, double of) {
  return 100.0 * (value / of - 1.0);
}

/// How much longer the tail for such a casting takes, for the end that leaves more.
double hours_per_cent(const Fired& usual, const UncertainInput& input, double off) {
  const DrawnFiring other = drawn(usual.casting, usual.kiln, std::vector{input}, std::vector{off});
  const auto hours_of = [](const Tail& tail) { return in_h(tail.prices.back().cool_down); };
  return per_cent(hours_of(planned(other.casting, other.kiln)), hours_of(usual.tail));
}

}  // namespace

TEST_CASE("orientation: a thick slab at a strict grade hangs on its inputs as another model says" *
          doctest::skip(slow_build)) {
  const Fired usual = fired();
  REQUIRE(usual.tail.cannot.empty());
  std::vector<UncertainInput> inputs;
  for (UncertainInput input : uncertain_inputs(usual.casting, usual.kiln)) {
    for (const Orientation& row : orientations) {
      if (row.what != input.what) continue;
      input.half_width = row.half_width;
      inputs.push_back(input);
    }
  }
  REQUIRE(inputs.size() == std::size(orientations));
  const CourseToSample what = usual.to_sample();
  const double given_nm_per_cm =
      sample_at(what, inputs, std::vector<double>(inputs.size(), 0.0)).residual_nm_per_cm;
  std::string table = fmt::format(
      "75 mm, {:.2f} nm/cm, {:.1f} h:", given_nm_per_cm, in_h(usual.tail.prices.back().cool_down));
  for (const AtItsEnds& ends : one_at_a_time(what, inputs)) {
    const auto row = std::find_if(std::begin(orientations),
                                  std::end(orientations),
                                  [&](const Orientation& one) { return one.what == ends.what; });
    const auto input = std::find_if(inputs.begin(), inputs.end(), [&](const UncertainInput& one) {
      return one.what == ends.what;
    });
    const double low = per_cent(ends.low.residual_nm_per_cm, given_nm_per_cm);
    const double high = per_cent(ends.high.residual_nm_per_cm, given_nm_per_cm);
    table += fmt::format("\n  {:<42} {:+5.1f} {:+5.1f}   another model {:+3.0f} {:+3.0f}",
                         name_of(ends.what),
                         low,
                         high,
                         row->low_percent,
                         row->high_percent);
    if (ends.what != UncertainValue::sensor) {
      const double worse = low > high ? -1.0 : 1.0;
      table += fmt::format("   hours {:+5.1f}", hours_per_cent(usual, *input, worse));
    }
    CAPTURE(table);
    CHECK((low > 0.0) == (row->low_percent > 0.0));
    CHECK((high > 0.0) == (row->high_percent > 0.0));
  }
  Fired less = usual;
  less.casting.glass.relaxation.x = 0.35;
  table += fmt::format(
      "\n  x = 0.35 {:+5.1f}   another model +31",
      per_cent(sample_at(less.to_sample(), {}, {}).residual_nm_per_cm, given_nm_per_cm));
  MESSAGE(table);
}
