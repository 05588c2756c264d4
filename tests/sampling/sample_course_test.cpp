#include <doctest/doctest.h>

#include <cmath>
#include <cstdint>
#include <string>
#include <vector>

#include "message_of.h"
#include "sampling/example_course.h"
#include "sampling/sample_course.h"

using namespace thickset;

namespace {

bool same(const std::vector<Sample>& a, const std::vector<Sample>& b) {
  if (a.size() != b.size()) return false;
  for (std::size_t i = 0; i < a.size(); ++i) {
    if (a[i].number != b[i].number || a[i].residual_nm_per_cm != b[i].residual_nm_per_cm ||
        a[i].tension_MPa != b[i].tension_MPa || a[i].relaxes != b[i].relaxes) {
      return false;
    }
  }
  return true;
}

}  // namespace

TEST_CASE("samples: the same to the last bit for any number of threads and any cut") {
  const example::CooledCasting cooled;
  const CourseToSample what = cooled.to_sample();
  const std::vector<UncertainInput> inputs = uncertain_inputs(cooled.casting, cooled.kiln);
  constexpr std::uint64_t count = 24;
  const std::vector<Sample> whole = sample_course(what, inputs, {0, count}, {.threads = 1});
  REQUIRE(whole.size() == count);
  for (const unsigned threads : {2u, 3u, 50u}) {
    CHECK(same(sample_course(what, inputs, {0, count}, {.threads = threads}), whole));
  }
  std::vector<Sample> put_together;
  for (std::uint64_t part = 1; part <= 5; ++part) {
    const std::vector<Sample> samples = sample_course(what, inputs, slice_of(count, part, 5));
    put_together.insert(put_together.end(), samples.begin(), samples.end());
  }
  CHECK(same(put_together, whole));
  CHECK(whole[0].residual_nm_per_cm != whole[1].residual_nm_per_cm);
}

TEST_CASE("samples: a casting as it is given is that of the check") {
  // Coarser time steps and cells may change it by this much.
  constexpr double of_coarser_steps = 0.006;
  const example::CooledCasting cooled;
  const Measured checked = measure(cooled.casting,
                                   cooled.kiln,
                                   Controller::LateOnCooling::goes_on,
                                   cooled.program,
                                   {},
                                   {.bulk = Bulk::relaxing});
  const std::vector<UncertainInput> inputs = uncertain_inputs(cooled.casting, cooled.kiln);
  const Sample given =
      sample_at(cooled.to_sample(), inputs, std::vector<double>(inputs.size(), 0.0));
  CHECK(std::abs(given.residual_nm_per_cm / checked.permanent.retardation.in_nm_per_cm() - 1.0) <
        of_coarser_steps);
  CHECK(std::abs(given.tension_MPa / (checked.peak_tension_Pa * 1e-6) - 1.0) < of_coarser_steps);
  CHECK(given.relaxes == checked.hold->relaxes);
}

TEST_CASE(
    "samples: stress grows with the expansion in proportion, and with the thickness squared") {
  const example::CooledCasting cooled;
  const std::vector<UncertainInput> inputs = uncertain_inputs(cooled.casting, cooled.kiln);
  std::vector<double> off(inputs.size(), 0.0);
  const Sample given = sample_at(cooled.to_sample(), inputs, off);
  const auto at = [&](UncertainValue what, double share) {
    std::vector<double> moved = off;
    for (std::size_t i = 0; i < inputs.size(); ++i) {
      if (inputs[i].what == what) moved[i] = share;
    }
    return sample_at(cooled.to_sample(), inputs, moved);
  };
  // Strain is linear in the expansion and the glass linear in strain; 3 % of it.
  const Sample swollen = at(UncertainValue::expansion, 1.0);
  CHECK(std::abs(swollen.residual_nm_per_cm / given.residual_nm_per_cm - 1.03) < 1e-6);
  CHECK(std::abs(swollen.tension_MPa / given.tension_MPa - 1.03) < 1e-6);
  // Steady cooling: d^2, at 5 % thicker a tenth more. Gradients are not quite steady.
  constexpr double not_quite_steady = 0.02;
  const Sample thicker = at(UncertainValue::thickness, 1.0);
  CHECK(std::abs(thicker.residual_nm_per_cm / given.residual_nm_per_cm - 1.1025) <
        not_quite_steady);
  // Halving what a kelvin makes: k up is gradient down.
  CHECK(at(UncertainValue::conductivity, 1.0).residual_nm_per_cm < given.residual_nm_per_cm);
  CHECK(at(UncertainValue::heat_capacity, 1.0).residual_nm_per_cm > given.residual_nm_per_cm);
}

TEST_CASE("samples: a course by few corners stays near it, and keeps the ends of steps and jumps") {
  // A fall that curves and ripples, then a jump and another step.
  KilnCourse course{.followed = {}, .start = Temperature::from_C(800.0), .steps = 2};
  for (int i = 0; i <= 2000; ++i) {
    const double time_s = 60.0 * i;
    course.followed.air.corners.push_back(
        {time_s, 1073.0 * std::exp(-time_s / 2e5) + 0.5 * std::sin(i), i == 0 ? -1 : 0});
  }
  const double end_s = course.followed.air.end_s();
  course.followed.air.corners.push_back({end_s, 500.0, 0});
  course.followed.air.corners.push_back({end_s + 3600.0, 400.0, 1});
  const AirCurve few = with_few_corners(course).followed.air;
  constexpr double ripple_K = 0.5, most_within_K = 5.0;
  CHECK(few.corners.size() < 400);
  CHECK(few.end_s() == end_s + 3600.0);
  CHECK(few.corners.back().T_K == 400.0);
  CHECK(few.corners.back().step == 1);
  CHECK(few.at_K(end_s) == 500.0);
  CHECK(few.corners.front().step == -1);
  double farthest_K = 0.0;
  for (const AirCurve::Corner& corner : course.followed.air.corners) {
    if (corner.time_s >= end_s) break;
    farthest_K = std::max(farthest_K, std::abs(few.at_K(corner.time_s) - corner.T_K));
  }
  CHECK(farthest_K < most_within_K);
  CHECK(farthest_K > 0.1 * ripple_K);
}

TEST_CASE("slices: together they are the whole, and none is more than one longer than another") {
  for (const std::uint64_t samples : {64u, 1000u, 1001u}) {
    for (const std::uint64_t parts : {1u, 3u, 40u, 64u}) {
      CAPTURE(samples);
      CAPTURE(parts);
      std::uint64_t next = 0, shortest = samples, longest = 0;
      for (std::uint64_t part = 1; part <= parts; ++part) {
        const SampleRange range = slice_of(samples, part, parts);
        CHECK(range.first == next);
        next = range.end;
        shortest = std::min(shortest, range.count());
        longest = std::max(longest, range.count());
      }
      CHECK(next == samples);
      CHECK(longest - shortest <= 1);
    }
  }
}

TEST_CASE("samples: what cannot be simulated is said, whichever thread comes to it") {
  const example::CooledCasting cooled;
  const std::vector<UncertainInput> inputs = uncertain_inputs(cooled.casting, cooled.kiln);
  CourseToSample what = cooled.to_sample();
  KilnCourse nowhere = cooled.course;
  nowhere.followed.air.corners[1].T_K = std::nan("");
  const CourseToSample beyond{
      .casting = what.casting, .kiln = what.kiln, .course = nowhere, .bulk = what.bulk};
  CHECK(message_of([&] { sample_course(beyond, inputs, {0, 8}, {.threads = 2}); }) != "no error");
}

TEST_CASE("samples: of three treatments of the bulk the middle one is taken") {
  using Of = CheckResult::OfTreatment;
  const auto of = [](Bulk bulk, double nm_per_cm) {
    return Of{bulk, Retardation::from_nm_per_cm(nm_per_cm), 1e6};
  };
  const std::vector<Of> three{
      of(Bulk::relaxing, 9.0), of(Bulk::elastic, 15.0), of(Bulk::constant_ratio, 12.0)};
  CHECK(middle_treatment(three) == Bulk::constant_ratio);
  CHECK(middle_treatment(std::span{three}.first(1)) == Bulk::relaxing);
  CHECK(middle_treatment(std::span{three}.first(2)) == Bulk::elastic);
}
