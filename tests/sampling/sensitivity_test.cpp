#include <doctest/doctest.h>

#include <cmath>
#include <cstdint>
#include <functional>
#include <numbers>
#include <vector>

#include "sampling/quasi_random.h"
#include "sampling/sensitivity.h"

using namespace thickset;

namespace {

using Function = std::function<double(const std::vector<double>&)>;

Sensitivity sensitivity_of(const Function& function, std::size_t inputs, Eigen::Index samples) {
  const QuasiRandom sequence{inputs};
  Eigen::ArrayXXd points(samples, static_cast<Eigen::Index>(inputs));
  Eigen::ArrayXd results(samples);
  for (Eigen::Index i = 0; i < samples; ++i) {
    const std::vector<double> point = sequence.point(static_cast<std::uint64_t>(i));
    for (std::size_t d = 0; d < inputs; ++d) points(i, static_cast<Eigen::Index>(d)) = point[d];
    results(i) = function(point);
  }
  return sensitivities(points, results).front();
}

}  // namespace

TEST_CASE("sensitivity: of a linear function shares are those of squared slopes, exactly") {
  constexpr double round_off = 1e-10;
  const Sensitivity found = sensitivity_of(
      [](const std::vector<double>& x) { return 7.0 + 3.0 * x[0] - 4.0 * x[1]; }, 3, 64);
  const double first[] = {9.0 / 25.0, 16.0 / 25.0, 0.0};
  for (std::size_t i = 0; i < 3; ++i) {
    CHECK(std::abs(found.first_order[i] - first[i]) < round_off);
    CHECK(std::abs(found.total[i] - first[i]) < round_off);
  }
  CHECK(found.unexplained < round_off);
}

TEST_CASE("sensitivity: a product belongs to both its inputs, a square to its own") {
  // Variances over -1..1: x^2 has 4/45, x y has 1/9.
  constexpr double round_off = 1e-10;
  const Sensitivity found = sensitivity_of(
      [](const std::vector<double>& x) { return x[0] * x[0] + x[1] * x[2]; }, 3, 128);
  const double square = (4.0 / 45.0) / (4.0 / 45.0 + 1.0 / 9.0);
  const double first[] = {square, 0.0, 0.0};
  const double total[] = {square, 1.0 - square, 1.0 - square};
  for (std::size_t i = 0; i < 3; ++i) {
    CHECK(std::abs(found.first_order[i] - first[i]) < round_off);
    CHECK(std::abs(found.total[i] - total[i]) < round_off);
  }
}

TEST_CASE("sensitivity: agrees with the analytic shares of Ishigami and Homma's function") {
  // [ISHI90] sin x1 + a sin^2 x2 + b x3^4 sin x1 over -pi..pi with a = 7, b = 0.1; shares from the
  // closed form of its variances, four digits.
  constexpr double first[] = {0.3139, 0.4424, 0.0};
  constexpr double total[] = {0.5576, 0.4424, 0.2437};
  const Sensitivity found = sensitivity_of(
      [](const std::vector<double>& x) {
        const double x1 = std::numbers::pi * x[0], x2 = std::numbers::pi * x[1],
                     x3 = std::numbers::pi * x[2];
        return std::sin(x1) + 7.0 * std::pow(std::sin(x2), 2) +
               0.1 * std::pow(x3, 4) * std::sin(x1);
      },
      3,
      512);
  constexpr double half_percent = 0.005;
  CHECK(found.unexplained < half_percent);
  for (std::size_t i = 0; i < 3; ++i) {
    CAPTURE(i);
    CHECK(std::abs(found.first_order[i] - first[i]) < half_percent);
    CHECK(std::abs(found.total[i] - total[i]) < half_percent);
  }
}

TEST_CASE(
    "sensitivity: of Sobol's g-function, whose corners no polynomial meets, shares are off by "
    "no more than what is said to be unexplained") {
  // [SOBOL93] product of (|4 x - 2| + a) / (1 + a) over 0..1: the variance of factor i is
  // 1 / (3 (1 + a_i)^2), that of the product the product of (1 + those) less 1.
  constexpr double a[] = {0.0, 1.0, 4.5, 9.0};
  double of_factor[4], all = 1.0;
  for (std::size_t i = 0; i < 4; ++i) {
    of_factor[i] = 1.0 / (3.0 * (1.0 + a[i]) * (1.0 + a[i]));
    all *= 1.0 + of_factor[i];
  }
  const Sensitivity found = sensitivity_of(
      [&](const std::vector<double>& x) {
        double product = 1.0;
        for (std::size_t i = 0; i < 4; ++i) product *= (std::abs(2.0 * x[i]) + a[i]) / (1.0 + a[i]);
        return product;
      },
      4,
      512);
  CHECK(found.unexplained > 0.002);
  CHECK(found.unexplained < 0.05);
  for (std::size_t i = 0; i < 4; ++i) {
    CAPTURE(i);
    const double first = of_factor[i] / (all - 1.0);
    const double total = of_factor[i] * (all / (1.0 + of_factor[i])) / (all - 1.0);
    CHECK(std::abs(found.first_order[i] - first) <= found.unexplained);
    CHECK(std::abs(found.total[i] - total) <= found.unexplained);
  }
}

TEST_CASE("sensitivity: noise is not explained, a constant has no shares") {
  // The last bits of a scrambled number hang on nothing.
  const Sensitivity noise = sensitivity_of(
      [](const std::vector<double>& x) { return std::fmod(1e6 * (x[0] + 3.0), 1.0); }, 2, 256);
  CHECK(noise.unexplained > 0.9);
  const Sensitivity constant =
      sensitivity_of([](const std::vector<double>&) { return 4.0; }, 2, 256);
  CHECK(constant.first_order[0] == 0.0);
  CHECK(constant.unexplained == 0.0);
}

TEST_CASE("sensitivity: nine inputs and few samples still rank a smooth result") {
  // What a casting's residual is like: nearly exponential in a few inputs.
  const Sensitivity found = sensitivity_of(
      [](const std::vector<double>& x) {
        return std::exp(0.3 * x[0] - 0.2 * x[3] + 0.1 * x[8] + 0.05 * x[4]);
      },
      9,
      128);
  CHECK(found.unexplained < 0.02);
  CHECK(found.total[0] > found.total[3]);
  CHECK(found.total[3] > found.total[8]);
  CHECK(found.total[8] > found.total[4]);
  CHECK(found.total[4] > found.total[1]);
}

TEST_CASE("sensitivity: results taken together have the shares that each has alone") {
  const auto first = [](const std::vector<double>& x) { return std::exp(x[0] - 0.3 * x[1]); };
  const auto second = [](const std::vector<double>& x) {
    return std::sin(2.0 * x[1]) + 0.1 * x[2];
  };
  constexpr Eigen::Index samples = 256;
  const QuasiRandom sequence{3};
  Eigen::ArrayXXd points(samples, 3), results(samples, 2);
  for (Eigen::Index i = 0; i < samples; ++i) {
    const std::vector<double> point = sequence.point(static_cast<std::uint64_t>(i));
    for (std::size_t d = 0; d < 3; ++d) points(i, static_cast<Eigen::Index>(d)) = point[d];
    results(i, 0) = first(point);
    results(i, 1) = second(point);
  }
  constexpr double round_off = 1e-10;
  const std::vector<Sensitivity> both = sensitivities(points, results);
  REQUIRE(both.size() == 2);
  const Sensitivity alone[] = {sensitivity_of(first, 3, samples),
                               sensitivity_of(second, 3, samples)};
  for (std::size_t result = 0; result < 2; ++result) {
    CHECK(both[result].degree == alone[result].degree);
    CHECK(std::abs(both[result].unexplained - alone[result].unexplained) < round_off);
    for (std::size_t input = 0; input < 3; ++input) {
      CHECK(std::abs(both[result].total[input] - alone[result].total[input]) < round_off);
    }
  }
}
