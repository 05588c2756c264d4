#include "kiln/fit_cooling.h"

#include <cmath>
#include <random>
#include <utility>
#include <vector>

#include <doctest/doctest.h>

#include "base/error.h"
#include "message_of.h"

using namespace thickset;

namespace {

const Temperature room = Temperature::from_C(20.0);

/// A kiln of one time constant: T = room + (T0 - room) exp(-t/tau).
std::vector<Reading> newton(double tau_h, double from_C, double hours, double every_min) {
  std::vector<Reading> readings;
  for (double t_min = 0.0; t_min <= 60.0 * hours; t_min += every_min) {
    readings.push_back(
        {60.0 * t_min, 293.15 + (from_C - 20.0) * std::exp(-t_min / (60.0 * tau_h))});
  }
  return readings;
}

double largest_rate_error(const CoolingFit& fit, double tau_h, double from_C, double to_C) {
  double largest = 0.0;
  for (double T_C = to_C; T_C <= from_C; T_C += 10.0) {
    const double exact_K_per_h = (T_C - 20.0) / tau_h;
    const double fitted = fit.cooling.rate_at(Temperature::from_C(T_C)).in_K_per_h();
    largest = std::max(largest, std::abs(fitted / exact_K_per_h - 1.0));
  }
  return largest;
}

}  // namespace

TEST_CASE("fit_cooling: Newton's cooling comes back from its own readings, by one point") {
  for (const double tau_h : {1.5, 4.0, 10.0}) {
    CAPTURE(tau_h);
    const CoolingFit fit = fit_cooling(newton(tau_h, 560.0, 24.0, 5.0), room, {});
    CHECK(fit.cooling.points().size() == 1);
    CHECK(largest_rate_error(fit, tau_h, 560.0, 100.0) <= 1e-6);
    CHECK(std::abs(fit.one_constant_s / (3600.0 * tau_h) - 1.0) <= 1e-6);
    CHECK(fit.rms_K <= 1e-6);
  }
}

TEST_CASE("fit_cooling: noise of 1 K, a last digit of 1 K and a gap of two hours cost under 1 %") {
  std::mt19937_64 random{7};
  std::normal_distribution<double> noise_K{0.0, 1.0};
  std::vector<Reading> readings;
  for (Reading reading : newton(4.0, 560.0, 16.0, 1.0)) {
    if (reading.time_s > 3.0 * 3600.0 && reading.time_s < 5.0 * 3600.0) continue;
    reading.T_K = 273.15 + std::round(reading.T_K - 273.15 + noise_K(random));
    readings.push_back(reading);
  }
  const CoolingFit fit = fit_cooling(readings, room, {});
  CHECK(largest_rate_error(fit, 4.0, 560.0, 100.0) <= 0.01);
  CHECK(fit.doubt.front() <= 0.01);
  CHECK(fit.doubt.front() > 0.0);
}

TEST_CASE("fit_cooling: a dozen readings by hand, to the degree, find the constant within 1 %") {
  std::vector<Reading> readings = newton(4.0, 520.0, 12.0, 60.0);
  for (Reading& reading : readings) reading.T_K = 273.15 + std::round(reading.T_K - 273.15);
  const CoolingFit fit = fit_cooling(readings, room, {});
  CHECK(fit.cooling.points().size() == 1);
  CHECK(largest_rate_error(fit, 4.0, 520.0, 60.0) <= 0.01);
}

TEST_CASE("fit_cooling: a kiln that gives heat back late is not one constant, a table finds it") {
  // Air and brick: two exponentials, of 1.5 and 8 h.
  const auto shares_K = [](double t_h) {
    return std::pair{480.0 * std::exp(-t_h / 1.5), 280.0 * std::exp(-t_h / 8.0)};
  };
  std::vector<Reading> readings;
  for (double t_h = 0.0; t_h <= 20.0; t_h += 0.05) {
    const auto [quick_K, slow_K] = shares_K(t_h);
    readings.push_back({3600.0 * t_h, 293.15 + quick_K + slow_K});
  }
  const CoolingFit fit = fit_cooling(readings, room, {});
  CHECK(fit.rms_of_one_constant_K > 20.0);
  CHECK(fit.rms_K < 0.3);
  CHECK(fit.cooling.points().size() >= 4);
  CHECK(fit.from.in_C() == doctest::Approx(780.0));
  CHECK(fit.to.in_C() == doctest::Approx(20.0 + 280.0 * std::exp(-2.5)).epsilon(1e-2));
  for (double t_h = 0.2; t_h <= 18.0; t_h += 0.5) {
    const auto [quick_K, slow_K] = shares_K(t_h);
    const Temperature T = room + TemperatureDifference::from_K(quick_K + slow_K);
    CAPTURE(T.in_C());
    const double exact_K_per_h = quick_K / 1.5 + slow_K / 8.0;
    CHECK(std::abs(fit.cooling.rate_at(T).in_K_per_h() / exact_K_per_h - 1.0) <=
          0.05);  // straight lines between eight points of a curve
  }
}

TEST_CASE("fit_cooling: the doubt is as large as what noise does to the rate") {
  // The spread of the fitted constant over many draws, against the stated standard error.
  std::mt19937_64 random{11};
  std::normal_distribution<double> noise_K{0.0, 2.0};
  constexpr int draws = 60;
  double squares = 0.0, stated = 0.0;
  for (int draw = 0; draw < draws; ++draw) {
    std::vector<Reading> readings = newton(4.0, 500.0, 10.0, 6.0);
    for (Reading& reading : readings) reading.T_K += noise_K(random);
    const CoolingFit fit = fit_cooling(readings, room, {});
    const double error = fit.one_constant_s / (4.0 * 3600.0) - 1.0;
    squares += error * error;
    if (fit.cooling.points().size() == 1) stated += fit.doubt.front() / draws;
  }
  const double spread = std::sqrt(squares / draws);
  CHECK(stated / spread > 0.6);
  CHECK(stated / spread < 1.6);
}

TEST_CASE("fit_cooling: what cannot be fitted is refused with its reason") {
  const std::vector<Reading> few = newton(4.0, 520.0, 4.0, 60.0);
  CHECK(message_of([&] { fit_cooling(few, room, {}); }).find("5 readings") != std::string::npos);
  const std::vector<Reading> little = newton(400.0, 520.0, 10.0, 10.0);
  CHECK(message_of([&] { fit_cooling(little, room, {}); }).find("fell by 12 K") !=
        std::string::npos);
  const std::vector<Reading> cold = newton(2.0, 520.0, 30.0, 10.0);
  CHECK(message_of([&] { fit_cooling(cold, Temperature::from_C(25.0), {}); }).find("--room") !=
        std::string::npos);
}

TEST_CASE("longest_fall: from the top to where the kiln rises again, noise apart") {
  std::vector<Reading> readings;
  const auto add = [&](double hours, double T_K) { readings.push_back({3600.0 * hours, T_K}); };
  add(0, 300);
  add(1, 900);
  add(2, 1100);  // the top
  add(3, 1000);
  add(4, 1001);  // noise
  add(5, 900);
  add(6, 950);  // heated again
  add(7, 940);
  const Stretch fall = longest_fall(readings, 2.0);
  CHECK(fall.first == 2);
  CHECK(fall.beyond == 6);
}

TEST_CASE("means_over_time: few stay as they are, many become means that keep a straight line") {
  std::vector<Reading> line;
  for (int i = 0; i < 1000; ++i) line.push_back({10.0 * i, 900.0 - 0.3 * i});
  CHECK(means_over_time(line, 2000).size() == 1000);
  const std::vector<Reading> means = means_over_time(line, 50);
  CHECK(means.size() == 50);
  for (const Reading& mean : means) {
    CHECK(std::abs(mean.T_K - (900.0 - 0.03 * mean.time_s)) <= 1e-9);
  }
}
