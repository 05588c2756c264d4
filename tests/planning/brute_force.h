#pragma once

#include <cmath>
#include <cstddef>
#include <limits>
#include <vector>

#include "planning/cool_down.h"
#include "planning/course.h"

/// The quickest cool-down in a few stages from grids of ends and rates, coarse ones first: slow,
/// and with nothing in common with the planner's search but the simulation.
namespace thickset::brute_force {

class Search {
 public:
  /// cool_down must outlive it; its kiln falls as fast as anything tried here.
  explicit Search(const CoolDown& cool_down) : cool_down_{&cool_down} {}

  struct Found {
    Course course;
    double time_s = std::numeric_limits<double>::infinity();
  };

  Found quickest(int stages) {
    best_ = {};
    one_rate();
    if (stages == 1) return best_;
    const std::size_t n = static_cast<std::size_t>(stages);
    coarse(n);
    if (point_.size() != 2 * n - 2) return best_;
    constexpr double finest_K = 0.4;
    for (Steps steps{12.0, 0.5}; steps.end_K > finest_K;) {
      const Point centre = point_;
      around(centre, steps, 0, centre);
      if (point_ == centre) steps = {0.5 * steps.end_K, 0.5 * steps.log_rate};
    }
    return best_;
  }

  int simulations() const { return simulations_; }

 private:
  /// Ends of all stages but the last, K, then logarithms of all rates but that of the last stage
  /// but one, which is always as fast as the limits let it.
  using Point = std::vector<double>;
  struct Steps {
    double end_K, log_rate;
  };
  static constexpr double gains = 0.9995;     // of the best time, that a point has to come down to
  static constexpr double nearly = 0.9998;    // of a limit: as fast as it lets
  static constexpr double narrowest_K = 5.0;  // of a stage, as the planner's

  CoolDown::Outcome run(const Course& course) {
    ++simulations_;
    return cool_down_->run(steps_of(course));
  }

  void one_rate() {
    Course course{cool_down_->hold().in_K(), {cool_down_->end().in_K()}, {1.0 / 3600.0}};
    for (int i = 0; i < 12; ++i) course.rate_K_per_s[0] *= nearly / run(course).worst();
    best_ = {course, run(course).time_s};
  }

  void coarse(std::size_t n) {
    std::vector<std::vector<double>> ends = {{}};
    for (std::size_t i = 0; i + 1 < n; ++i) {
      std::vector<std::vector<double>> longer;
      for (const std::vector<double>& above : ends) {
        for (const double below_hold_K : {15.0, 35.0, 60.0, 90.0, 130.0, 180.0}) {
          const double to_K = cool_down_->hold().in_K() - below_hold_K;
          if (!above.empty() && to_K >= above.back()) continue;
          longer.push_back(above);
          longer.back().push_back(to_K);
        }
      }
      ends = std::move(longer);
    }
    const double log_one_rate = std::log(best_.course.rate_K_per_s[0]);
    for (const std::vector<double>& to_K : ends) rates(to_K, n - 1, log_one_rate);
  }

  void rates(const Point& point, std::size_t missing, double log_one_rate) {
    if (missing == 0) {
      if (gain(point)) point_ = point;
      return;
    }
    for (const double times : {0.5, 1.5, 4.0, 10.0, 30.0}) {
      Point longer = point;
      longer.push_back(log_one_rate + std::log(times));
      rates(longer, missing - 1, log_one_rate);
    }
  }

  /// All neighbours, those across corners too.
  void around(const Point& centre, const Steps& steps, std::size_t next, Point point) {
    if (next == centre.size()) {
      if (point != centre && gain(point)) point_ = point;
      return;
    }
    const double step = next < centre.size() / 2 ? steps.end_K : steps.log_rate;
    for (const double way : {0.0, -1.0, 1.0}) {
      point[next] = centre[next] + way * step;
      around(centre, steps, next + 1, point);
    }
  }

  /// Whether a point beats the best time within the limits; the best is then moved to it.
  bool gain(const Point& point) {
    const std::size_t n = point.size() / 2 + 1;
    const std::size_t solved = n - 2;
    Course course{cool_down_->hold().in_K(), {}, {}};
    double others_s = 0.0;
    for (std::size_t i = 0; i < n; ++i) {
      course.to_K.push_back(i + 1 < n ? point[i] : cool_down_->end().in_K());
      if (course.width_K(i) < narrowest_K) return false;
      const std::size_t rate = n - 1 + (i < solved ? i : i - 1);
      course.rate_K_per_s.push_back(i == solved ? 1.0 : std::exp(point[rate]));
      if (i != solved) others_s += course.asked_s(i);
    }
    const double left_s = gains * best_.time_s - others_s;
    if (left_s <= 0.0) return false;
    double& rate_K_per_s = course.rate_K_per_s[solved];
    rate_K_per_s = course.width_K(solved) / left_s;
    bool gained = false;
    for (int i = 0; i < 6; ++i) {
      const CoolDown::Outcome outcome = run(course);
      if (outcome.worst() > 1.0 || outcome.time_s >= best_.time_s) break;
      best_ = {course, outcome.time_s};
      gained = true;
      const double left = outcome.left[outcome.governing()];
      if (left > nearly) break;
      rate_K_per_s /= std::max(left, 0.5);
    }
    return gained;
  }

  const CoolDown* cool_down_;
  Found best_;
  Point point_;
  int simulations_ = 0;
};

}  // namespace thickset::brute_force
