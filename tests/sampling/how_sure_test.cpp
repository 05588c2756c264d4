#include <doctest/doctest.h>

#include <cmath>
#include <cstdint>
#include <vector>

#include "sampling/how_sure.h"
#include "sampling/quasi_random.h"

using namespace thickset;

namespace {

Study study(std::uint64_t samples) {
  return {.title = "",
          .grade_nm_per_cm = 20.0,
          .tension_limit_MPa = 3.0,
          .inputs = {{UncertainValue::thickness, 0.05, "", "", true},
                     {UncertainValue::sensor, 1.0, "", "", false},
                     {UncertainValue::conductivity, 0.1, "", "", true}},
          .samples = samples};
}

/// 16 +- 8 nm/cm by the first input alone, 2 +- 0.9 MPa by the third.
std::vector<Sample> made_up(std::uint64_t count) {
  const QuasiRandom sequence{3};
  std::vector<Sample> samples;
  for (std::uint64_t i = 0; i < count; ++i) {
    const std::vector<double> off = sequence.point(i);
    samples.push_back({i, 16.0 + 8.0 * off[0], 2.0 + 0.9 * off[2], off[1] < 0.5});
  }
  return samples;
}

}  // namespace

TEST_CASE("how sure: chances, bands and shares of results that are known") {
  constexpr std::uint64_t count = 1024;
  const HowSure sure = how_sure(study(count), made_up(count));
  // Of 8..24 nm/cm three quarters are up to 20; of 1.1..2.9 MPa all are up to 3. Each of 1024 equal
  // parts of an edge holds one of 1024 points: one sample is what may be at the border.
  constexpr double one_sample = 1.0 / 1024.0;
  CHECK(std::abs(sure.residual.share() - 0.75) <= one_sample);
  CHECK(sure.tension.share() == 1.0);
  CHECK(sure.both.kept == sure.residual.kept);
  CHECK(std::abs(sure.relaxes.share() - 0.75) <= one_sample);
  CHECK(std::abs(sure.residual_nm_per_cm.low - 8.8) < 16.0 * one_sample);
  CHECK(std::abs(sure.residual_nm_per_cm.high - 23.2) < 16.0 * one_sample);
  CHECK(std::abs(sure.tension_MPa.middle - 2.0) < 2.0 * one_sample);
  CHECK(sure.decisive == Decisive::residual);
  CHECK(std::abs(sure.of_residual.total[0] - 1.0) < 1e-9);
  CHECK(std::abs(sure.of_tension.total[2] - 1.0) < 1e-9);
  CHECK(sure.ranked().front() == 0);
}

TEST_CASE("how sure: the result that fails more often decides what matters most") {
  constexpr std::uint64_t count = 256;
  Study tight = study(count);
  tight.tension_limit_MPa = 1.5;
  const HowSure sure = how_sure(tight, made_up(count));
  CHECK(sure.decisive == Decisive::tension);
  CHECK(sure.ranked().front() == 2);
  CHECK(sure.both.kept <= std::min(sure.residual.kept, sure.tension.kept));
}

TEST_CASE("how sure: the share of a limit at a confidence is what scales the limit to it") {
  constexpr std::uint64_t count = 1024;
  const std::vector<Sample> samples = made_up(count);
  const ShareOfLimits at = at_confidence(study(count), samples, 0.9);
  CHECK(std::abs(at.grade - 22.4 / 20.0) < 0.001);
  CHECK(std::abs(at.tension - 2.72 / 3.0) < 0.001);
  Study eased = study(count);
  eased.grade_nm_per_cm *= at.grade;
  CHECK(std::abs(how_sure(eased, samples).residual.share() - 0.9) <= 1.5 / 1024.0);
}
