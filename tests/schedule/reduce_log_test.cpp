#include "schedule/reduce_log.h"

#include <chrono>
#include <cmath>
#include <random>

#include <doctest/doctest.h>

using namespace thickset;

namespace {

constexpr double round_off_K = 1e-9;

/// Largest distance of a line from the readings it was made of.
double farthest_K(const Polyline& line,
                  const std::vector<double>& time_s,
                  const std::vector<double>& T_K) {
  double farthest = 0.0;
  for (std::size_t i = 0; i < time_s.size(); ++i) {
    farthest = std::max(farthest, std::abs(line.at_K(time_s[i]) - T_K[i]));
  }
  return farthest;
}

/// A week: melt, fall, hold, three stages.
double truth_K(double time_s) {
  const double h = time_s / 3600.0;
  if (h < 6.0) return 1073.0;
  if (h < 8.0) return 1073.0 - 143.0 * (h - 6.0);
  if (h < 30.0) return 787.0;
  if (h < 110.0) return 787.0 - 2.0 * (h - 30.0);
  if (h < 140.0) return 627.0 - 5.0 * (h - 110.0);
  return std::max(295.0, 477.0 - 10.0 * (h - 140.0));
}

}  // namespace

TEST_CASE("a log's line: within its tolerance of every reading, whatever the noise") {
  std::mt19937 random{11};
  for (const double noise_K : {0.0, 0.03, 0.2, 3.0, 100.0}) {
    for (const double tolerance_K : {0.02, 0.1, 0.5}) {
      CAPTURE(noise_K);
      CAPTURE(tolerance_K);
      std::normal_distribution<double> noise{0.0, noise_K > 0.0 ? noise_K : 1.0};
      std::uniform_real_distribution<double> step_s{0.01, 400.0};
      std::vector<double> time_s;
      std::vector<double> T_K;
      double now_s = 0.0;
      for (int i = 0; i < 3000; ++i) {
        time_s.push_back(now_s);
        T_K.push_back(truth_K(now_s) + (noise_K > 0.0 ? noise(random) : 0.0));
        now_s += step_s(random);
      }
      const Polyline line = polyline_within(time_s, T_K, tolerance_K);
      CHECK(farthest_K(line, time_s, T_K) <= tolerance_K + round_off_K);
      CHECK(line.corners.front().time_s == time_s.front());
      CHECK(line.corners.back().time_s == time_s.back());
      for (std::size_t i = 1; i < line.corners.size(); ++i) {
        CHECK_MESSAGE(line.corners[i].time_s > line.corners[i - 1].time_s, i);
      }
    }
  }
}

TEST_CASE("a log's line: straight readings leave their ends, a corner leaves one more") {
  std::vector<double> time_s;
  std::vector<double> T_K;
  for (int i = 0; i <= 1000; ++i) {
    time_s.push_back(10.0 * i);
    T_K.push_back(i <= 500 ? 800.0 : 800.0 - 0.1 * (i - 500));
  }
  const Polyline line = polyline_within(time_s, T_K, 0.1);
  CHECK(line.corners.size() == 3);
  CHECK(polyline_within(std::vector<double>{0.0}, std::vector<double>{300.0}, 0.1).corners.size() ==
        1);
}

TEST_CASE("a log's line: a week at 1 Hz with noise becomes few corners near the true course") {
  FiringLog log{.source = "week",
                .sensor = "air_C",
                .clock = {},
                .time_s = {},
                .T_K = {},
                .line = {},
                .remarks = {}};
  std::mt19937 random{5};
  std::normal_distribution<double> noise{0.0, 0.4};
  for (int i = 0; i < 600'000; ++i) {
    log.time_s.push_back(i);
    log.T_K.push_back(truth_K(i) + noise(random));
  }
  log.interval_s = 1.0;
  log.resolution_K = 0.01;
  const auto begin = std::chrono::steady_clock::now();
  const Polyline line = reduced(log);
  const double took_s =
      std::chrono::duration<double>(std::chrono::steady_clock::now() - begin).count();
  const AveragedLog means = averaged(log);
  CHECK(farthest_K(line, means.time_s, means.T_K) <= means.tolerance_K + round_off_K);
  CHECK(means.tolerance_K == log_tolerance_K);
  // Means of 30 readings of 0.4 K are off by 0.07 K; the square of the mean distance adds up from
  // those and the line's tolerance.
  double sum_K2 = 0.0;
  for (std::size_t i = 0; i < log.time_s.size(); i += 7) {
    const double off_K = line.at_K(log.time_s[i]) - truth_K(log.time_s[i]);
    sum_K2 += off_K * off_K;
  }
  const double mean_off_K = std::sqrt(sum_K2 / (600'000.0 / 7.0));
  CHECK(mean_off_K < std::hypot(0.4 / std::sqrt(30.0), log_tolerance_K));
  CHECK(line.corners.size() < 12'000);
  MESSAGE("600 000 readings reduced in ", took_s, " s to ", line.corners.size(), " corners");
}

TEST_CASE("a log's outline: the corners of a program come back out of its noisy log") {
  std::mt19937 random{13};
  std::normal_distribution<double> noise{0.0, 0.5};
  std::vector<double> time_s;
  std::vector<double> T_K;
  for (int i = 0; i <= 10'000; ++i) {
    time_s.push_back(60.0 * i);
    T_K.push_back(truth_K(60.0 * i) + noise(random));
  }
  const Polyline line = polyline_within(time_s, T_K, 0.1);
  const std::vector<std::size_t> corners = outline(line, 3.0, 24);
  CHECK(corners.front() == 0);
  CHECK(corners.back() == line.corners.size() - 1);
  for (const double corner_h : {6.0, 8.0, 30.0, 110.0, 140.0}) {
    CAPTURE(corner_h);
    double nearest_h = 1e9;
    for (const std::size_t i : corners) {
      nearest_h = std::min(nearest_h, std::abs(line.corners[i].time_s / 3600.0 - corner_h));
    }
    // Three kelvin of the slower side, and noise.
    CHECK(nearest_h < 2.0);
  }
  CHECK(corners.size() < 12);
  CHECK(outline(line, 0.0, 5).size() == 6);
}

TEST_CASE("a log's line: whole degrees become slopes, not stairs") {
  FiringLog log{.source = "stairs",
                .sensor = "air_C",
                .clock = {},
                .time_s = {},
                .T_K = {},
                .line = {},
                .remarks = {}};
  for (int i = 0; i < 2000; ++i) {
    log.time_s.push_back(60.0 * i);
    log.T_K.push_back(std::round(800.0 - 0.1 * i));
  }
  log.interval_s = 60.0;
  log.resolution_K = 1.0;
  const Polyline line = reduced(log);
  CHECK(line.corners.size() < 20);
  CHECK(farthest_K(line, log.time_s, log.T_K) <= 0.5 + round_off_K);
}
