#include "numerics/vector_exp.h"

#include <algorithm>
#include <cmath>

#include <doctest/doctest.h>

using thickset::Exponential;

namespace {

constexpr double few_roundings = 1e-15;  // relative; the series is cut below 2e-16

}  // namespace

TEST_CASE("vector exp: agrees with long doubles to rounding from -700 to 700") {
  double furthest = 0.0;
  for (int i = -70000; i <= 70000; ++i) {
    const double x = 0.01 * i + 1e-4;
    const long double exact = std::exp(static_cast<long double>(x));
    const auto off = static_cast<double>(Exponential{x}.value() / exact - 1.0L);
    furthest = std::max(furthest, std::abs(off));
  }
  CHECK(furthest <= few_roundings);
}

TEST_CASE("vector exp: 1 - exp(x) loses nothing where x is small") {
  for (double size = 1e-300; size < 0.3; size *= 3.7) {
    CAPTURE(size);
    for (const double x : {-size, size}) {
      const auto exact = static_cast<double>(-std::expm1(static_cast<long double>(x)));
      CHECK(std::abs(Exponential{x}.from_one() / exact - 1.0) <= few_roundings);
    }
  }
}

TEST_CASE("vector exp: of what is not a number it makes none") {
  CHECK(std::isnan(Exponential{std::nan("")}.value()));
}
