#include <doctest/doctest.h>

#include <cmath>
#include <numeric>
#include <vector>

#include "sampling/spread.h"

using namespace thickset;

namespace {
constexpr double round_off = 1e-12;
}

TEST_CASE("spread: a band of evenly spaced values lies where it must") {
  std::vector<double> values(101);
  std::iota(values.rbegin(), values.rend(), 0.0);  // 100 down to 0
  const NineInTen band = band_of(values);
  CHECK(std::abs(band.low - 5.0) < round_off);
  CHECK(std::abs(band.middle - 50.0) < round_off);
  CHECK(std::abs(band.high - 95.0) < round_off);
  CHECK(quantile(values, 0.0) == 0.0);
  CHECK(quantile(values, 1.0) == 100.0);
  CHECK(std::abs(quantile(values, 0.905) - 90.5) < round_off);
  const std::vector<double> one{3.0};
  CHECK(quantile(one, 0.3) == 3.0);
}

TEST_CASE("spread: a value at its limit keeps it, one above does not") {
  const std::vector<double> values{1.0, 2.0, 3.0, 4.0};
  CHECK(chance_within(values, 3.0).kept == 3);
  CHECK(chance_within(values, 2.999).kept == 2);
  CHECK(chance_within(values, 3.0).share() == 0.75);
  CHECK(chance_within(values, 0.5).kept == 0);
  const std::vector<double> not_a_number{std::nan("")};
  CHECK(chance_within(not_a_number, 3.0).kept == 0);
}

TEST_CASE("spread: the standard error is the binomial one, and not zero where all are kept") {
  // sqrt(0.9 * 0.1 / 10000) = 0.003.
  CHECK(std::abs(Chance{9000, 10000}.standard_error() - 0.003) < 1e-5);
  CHECK(Chance{128, 128}.standard_error() > 0.005);
  CHECK(Chance{128, 128}.standard_error() < 0.01);
}
