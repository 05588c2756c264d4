#include <doctest/doctest.h>

#include "checking/polariscope.h"
#include "stress/retardation.h"

using namespace thickset;

namespace {

constexpr double nm = 1e-9;

PolariscopeReading reading_of(double retardation_nm) {
  return {.retardation_m = stress::around(retardation_nm * nm, 0.0),
          .path_m = {0.1, 0.1, 0.1},
          .stress_optical_per_Pa = {2.7e-12, 2.7e-12, 2.7e-12}};
}

Objection of(const ReadingResult& result, Use use) {
  for (const UseJudged& judged : result.uses) {
    if (judged.use == use) return judged.objection;
  }
  FAIL("this use was not judged");
  return Objection::cannot_tell;
}

}  // namespace

// [ISO10110-18], OPD = C sigma path: C = 2.7 1/TPa and 1 MPa are 27 nm/cm.
TEST_CASE("reading: retardation over path and coefficient is the stress, both ways") {
  const ReadingResult result = judge(reading_of(270.0), {});
  CHECK(result.nm_per_cm.value == doctest::Approx(27.0));
  CHECK(result.stress_Pa.value == doctest::Approx(1e6));
  CHECK(stress::retardation(2.7e-12, result.stress_Pa.value).in_nm_per_cm() ==
        doctest::Approx(27.0));
}

TEST_CASE("reading: the ends are the worst of reading, path and coefficient") {
  PolariscopeReading reading = reading_of(270.0);
  reading.retardation_m = {260.0 * nm, 270.0 * nm, 280.0 * nm};
  reading.path_m = {0.098, 0.1, 0.102};
  reading.stress_optical_per_Pa = {2.5e-12, 2.7e-12, 2.8e-12};
  const ReadingResult result = judge(reading, {});
  CHECK(result.nm_per_cm.low == doctest::Approx(260.0 / 10.2));
  CHECK(result.nm_per_cm.high == doctest::Approx(280.0 / 9.8));
  CHECK(result.stress_Pa.low == doctest::Approx(260e-9 / 0.102 / 2.8e-12));
  CHECK(result.stress_Pa.high == doctest::Approx(280e-9 / 0.098 / 2.5e-12));
}

// [ISO10110-18]: above 20 nm/cm coarse, below 10 fine.
TEST_CASE("reading: grades begin and end where the standard says") {
  CHECK(judge(reading_of(99.0), {}).anneal == Anneal::fine);
  CHECK(judge(reading_of(101.0), {}).anneal == Anneal::between);
  CHECK(judge(reading_of(199.0), {}).anneal == Anneal::between);
  CHECK(judge(reading_of(201.0), {}).anneal == Anneal::coarse);
  PolariscopeReading wide = reading_of(100.0);
  wide.retardation_m = {90.0 * nm, 100.0 * nm, 110.0 * nm};
  CHECK(judge(wide, {}).anneal == Anneal::undecided);
}

TEST_CASE("reading: cutting is held to the grade, display and re-annealing to the tension") {
  const ReadingResult low = judge(reading_of(199.0), {});
  CHECK(of(low, Use::cutting) == Objection::none_found);
  const ReadingResult middle = judge(reading_of(350.0), {});
  CHECK(of(middle, Use::cutting) == Objection::raised);
  CHECK(of(middle, Use::display) == Objection::none_found);
  // 3 MPa are 81 nm/cm.
  const ReadingResult high = judge(reading_of(811.0), {});
  CHECK(of(high, Use::display) == Objection::raised);
  CHECK(of(high, Use::re_annealing) == Objection::raised);
  CHECK(high.left_for_heating_Pa.value == 0.0);
  CHECK(of(judge(reading_of(809.0), {}), Use::display) == Objection::none_found);
}

TEST_CASE("reading: a limit between the ends is too close to call") {
  PolariscopeReading wide = reading_of(200.0);
  wide.retardation_m = {190.0 * nm, 200.0 * nm, 210.0 * nm};
  CHECK(of(judge(wide, {}), Use::cutting) == Objection::too_close);
}

TEST_CASE("reading: what is in the glass is taken off what heating may add") {
  const ReadingResult result = judge(reading_of(270.0), {});
  CHECK(result.left_for_heating_Pa.value == doctest::Approx(2e6));
}

TEST_CASE("reading: through a face, warm, coloured or opal, nothing follows for any use") {
  CHECK(judge(reading_of(0.0), {}).why_nothing_follows.empty());
  PolariscopeReading face = reading_of(0.0), warm = face, coloured = face, opal = face;
  face.view = View::face;
  warm.warm = true;
  coloured.looks = Looks::coloured;
  opal.looks = Looks::opal;
  for (const PolariscopeReading& reading : {face, warm, coloured, opal}) {
    const ReadingResult result = judge(reading, {});
    CHECK(result.why_nothing_follows.size() == 1);
    CHECK(result.anneal == Anneal::undecided);
    for (const UseJudged& judged : result.uses) CHECK(judged.objection == Objection::cannot_tell);
  }
}

TEST_CASE("reading: light that hugs a boundary is an objection to re-annealing at any size") {
  PolariscopeReading reading = reading_of(10.0);
  CHECK(of(judge(reading, {}), Use::re_annealing) == Objection::none_found);
  reading.hugs = Hugs::boundary;
  CHECK(of(judge(reading, {}), Use::re_annealing) == Objection::raised);
  CHECK(of(judge(reading, {}), Use::display) == Objection::cannot_tell);
  reading.warm = true;
  CHECK(of(judge(reading, {}), Use::re_annealing) == Objection::raised);
}
