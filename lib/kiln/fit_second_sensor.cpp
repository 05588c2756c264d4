#include "kiln/fit_second_sensor.h"

#include <algorithm>
#include <cassert>
#include <cmath>

#include <Eigen/Dense>
#include <boost/math/tools/minima.hpp>

namespace thickset {
namespace {

constexpr std::size_t most_second_means = 1000;

/// Offset and start for one lag: the misfit is linear in both.
struct Linear {
  double offset_K, start_K, offset_doubt_K;
  double squares_K2;
};

class Follower {
 public:
  Follower(std::vector<Reading> air, std::vector<Reading> shown)
      : air_{std::move(air)}, shown_{std::move(shown)} {}

  Linear at(double lag_s) const {
    const auto n = static_cast<Eigen::Index>(air_.size());
    Eigen::MatrixX2d share(n, 2);  // of offset and start
    Eigen::VectorXd rest(n);
    double follows_K = 0.0;  // what the air's course makes of a start at 0
    double left = 1.0;       // of the start
    for (Eigen::Index i = 0; i < n; ++i) {
      const auto k = static_cast<std::size_t>(i);
      if (i > 0) {
        // The air goes in straight lines; exact over each.
        const double dt_s = air_[k].time_s - air_[k - 1].time_s;
        const double x = dt_s / lag_s;
        const double decay = std::exp(-x);
        const double mean = x > 0.0 ? -std::expm1(-x) / x : 1.0;
        follows_K =
            decay * follows_K + (mean - decay) * air_[k - 1].T_K + (1.0 - mean) * air_[k].T_K;
        left *= decay;
      }
      share(i, 0) = 1.0;
      share(i, 1) = left;
      rest(i) = shown_[k].T_K - follows_K;
    }
    const Eigen::ColPivHouseholderQR<Eigen::MatrixX2d> factors{share};
    const Eigen::Vector2d found = factors.solve(rest);
    const Eigen::VectorXd misfit = share * found - rest;
    const double spare = std::max<double>(1.0, static_cast<double>(n - 3));
    const Eigen::Matrix2d normal = share.transpose() * share;
    const double variance = misfit.squaredNorm() / spare;
    return {.offset_K = found(0),
            .start_K = found(1),
            .offset_doubt_K = std::sqrt(std::max(0.0, normal.inverse()(0, 0) * variance)),
            .squares_K2 = misfit.squaredNorm()};
  }

  std::size_t size() const { return air_.size(); }

 private:
  std::vector<Reading> air_, shown_;
};

}  // namespace

SecondSensor fit_second_sensor(std::span<const Reading> first, std::span<const Reading> second) {
  assert(first.size() == second.size() && first.size() >= 6);
  const Follower follower{means_over_time(first, most_second_means),
                          means_over_time(second, most_second_means)};
  const double length_s = first.back().time_s - first.front().time_s;
  const double shortest_s = 1e-6 * length_s;
  const auto squares = [&](double log_lag) { return follower.at(std::exp(log_lag)).squares_K2; };
  // The misfit can have more than one valley: the best of a coarse row, then Brent's method there.
  constexpr int rows = 40;
  const double low = std::log(shortest_s), high = std::log(length_s);
  const double width = (high - low) / rows;
  double best = low, best_squares = squares(low);
  for (int i = 1; i <= rows; ++i) {
    const double here = low + width * i;
    const double there = squares(here);
    if (there < best_squares) {
      best = here;
      best_squares = there;
    }
  }
  constexpr int bits = 24;
  const auto [log_lag, least] = boost::math::tools::brent_find_minima(
      squares, std::max(low, best - width), std::min(high, best + width), bits);
  const double lag_s = std::exp(log_lag);
  const Linear linear = follower.at(lag_s);

  // A standard error is where the squares have grown by one variance.
  const double n = static_cast<double>(follower.size());
  const double variance = least / std::max(1.0, n - 3.0);
  const double step = std::max(1e-3 * lag_s, 1e-6 * length_s);
  const double bend = (follower.at(lag_s + step).squares_K2 - 2.0 * least +
                       follower.at(std::max(shortest_s, lag_s - step)).squares_K2) /
                      (step * step);
  const double lag_doubt_s = bend > 0.0 ? std::sqrt(2.0 * variance / bend) : lag_s;
  // On one fall a lag looks like an offset: what the one may be off by moves the other.
  const double offset_per_s = (follower.at(lag_s + step).offset_K - linear.offset_K) / step;
  double largest_K = 0.0;
  for (std::size_t i = 0; i < first.size(); ++i) {
    largest_K = std::max(largest_K, std::abs(first[i].T_K - second[i].T_K));
  }
  return {.lag_s = lag_s,
          .lag_doubt_s = lag_doubt_s,
          .offset_K = linear.offset_K,
          .offset_doubt_K = std::hypot(linear.offset_doubt_K, offset_per_s * lag_doubt_s),
          .rms_K = std::sqrt(least / n),
          .largest_difference_K = largest_K};
}

}  // namespace thickset
