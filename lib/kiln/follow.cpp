#include "kiln/follow.h"

#include <algorithm>
#include <cmath>

namespace thickset {

namespace {

using LateOnCooling = Controller::LateOnCooling;

constexpr auto straight_within = TemperatureDifference::from_K(0.04);  // promised: 0.05 K
constexpr double same_K = 1e-6;  // kiln and setpoint nearer than this are together
constexpr double late_s = 60.0;  // below this nobody notices
constexpr double reached_above_room_K = 1.0;
constexpr int bisections = 60;  // halves any stretch down to a double's last digits

/// The setpoint over one ramp or hold.
struct Setpoint {
  double begin_s, begin_K;
  double end_s, end_K;

  double slope_K_per_s() const {
    return end_s > begin_s ? (end_K - begin_K) / (end_s - begin_s) : 0.0;
  }
  double at_K(double time_s) const {
    return time_s >= end_s ? end_K : begin_K + slope_K_per_s() * (time_s - begin_s);
  }
};

/// The kiln as it runs: adds corners to the curve as time goes on.
class Run {
 public:
  Run(const Kiln& kiln, Temperature start)
      : natural_{kiln.natural_cooling},
        heating_K_per_s_{kiln.fastest_heating.in_K_per_s()},
        T_K_{start.in_K()} {
    corners_.push_back({0.0, T_K_, -1});
  }

  double time_s() const { return time_s_; }
  double T_K() const { return T_K_; }
  AirCurve curve() && { return {std::move(corners_)}; }

  void begin_step(int step) { step_ = step; }

  /// Follows a setpoint as well as it can; gives the largest distance above it, or the largest
  /// below it as a negative number where it was never above.
  double follow(const Setpoint& set) {
    double above_K = T_K_ - set.begin_K;
    const auto note = [&] {
      const double now_K = T_K_ - set.at_K(time_s_);
      if (std::abs(now_K) > std::abs(above_K)) above_K = now_K;
    };
    while (time_s_ < set.end_s) {
      const double apart_K = T_K_ - set.at_K(time_s_);
      if (apart_K > same_K) {
        fall_towards(set);
      } else if (apart_K < -same_K) {
        heat_towards(set);
      } else {
        go_along(set);
      }
      note();
    }
    return above_K;
  }

  /// The kiln's own pace until it is there; gives the time it took.
  double go_to(double target_K) {
    const double begin_s = time_s_;
    if (target_K >= T_K_) {
      if (target_K > T_K_) add(time_s_ + (target_K - T_K_) / heating_K_per_s_, target_K);
      return time_s_ - begin_s;
    }
    const double reachable_K = std::max(target_K, natural_.room().in_K() + reached_above_room_K);
    while (T_K_ > reachable_K) {
      const double next_K = std::max(reachable_K, chord_end_K());
      add(time_s_ + fall_time_s(T_K_, next_K), next_K);
    }
    return time_s_ - begin_s;
  }

  /// Time the kiln needs to a target from here.
  double time_to_s(double target_K) const {
    if (target_K >= T_K_) return (target_K - T_K_) / heating_K_per_s_;
    const double reachable_K = std::max(target_K, natural_.room().in_K() + reached_above_room_K);
    return fall_time_s(T_K_, reachable_K);
  }

 private:
  double chord_end_K() const {
    return natural_.straight_down_to(Temperature::from_K(T_K_), straight_within).in_K();
  }
  double fall_time_s(double from_K, double to_K) const {
    return in_s(natural_.time_to_fall(Temperature::from_K(from_K), Temperature::from_K(to_K)));
  }
  double fallen_K(double time_s) const {
    return natural_.after(Temperature::from_K(T_K_), seconds(time_s)).in_K();
  }

  void add(double time_s, double T_K) {
    time_s_ = time_s;
    T_K_ = T_K;
    corners_.push_back({time_s, T_K, step_});
  }

  /// One straight piece of natural fall.
  struct Chord {
    double end_s, end_K;
    bool stays;  // so near the room that the fall no longer counts
  };

  Chord chord(double latest_s) const {
    const double next_K = chord_end_K();
    if (next_K <= natural_.room().in_K() || T_K_ <= next_K) return {latest_s, T_K_, true};
    const double end_s = time_s_ + fall_time_s(T_K_, next_K);
    // A whole piece ends at its own temperature, so that the fall goes on however short it was.
    if (end_s <= latest_s) return {end_s, next_K, false};
    return {latest_s, fallen_K(latest_s - time_s_), false};
  }

  /// One straight piece of natural fall, ended where it meets the setpoint.
  void fall_towards(const Setpoint& set) {
    const Chord fall = chord(set.end_s);
    if (fall.end_K > set.at_K(fall.end_s)) {
      add(fall.end_s, fall.end_K);
      return;
    }
    double before_s = time_s_;
    double meets_s = fall.end_s;
    for (int i = 0; i < bisections; ++i) {
      const double middle_s = 0.5 * (before_s + meets_s);
      const double kiln_K = fall.stays ? T_K_ : fallen_K(middle_s - time_s_);
      (kiln_K > set.at_K(middle_s) ? before_s : meets_s) = middle_s;
    }
    add(meets_s, set.at_K(meets_s));
  }

  /// Full power until it meets the setpoint, or to the end of it.
  void heat_towards(const Setpoint& set) {
    const double closing_K_per_s = heating_K_per_s_ - set.slope_K_per_s();
    const double apart_K = set.at_K(time_s_) - T_K_;
    const double needed_s = closing_K_per_s > 0.0 ? apart_K / closing_K_per_s : set.end_s;
    if (time_s_ + needed_s < set.end_s) {
      add(time_s_ + needed_s, set.at_K(time_s_ + needed_s));
    } else {
      add(set.end_s, T_K_ + heating_K_per_s_ * (set.end_s - time_s_));
    }
  }

  /// From a meeting with the setpoint on: along it, as far as the kiln can.
  void go_along(const Setpoint& set) {
    const double slope = set.slope_K_per_s();
    if (slope > heating_K_per_s_) {
      add(set.end_s, T_K_ + heating_K_per_s_ * (set.end_s - time_s_));
      return;
    }
    const double leaves_K =
        slope < 0.0
            ? natural_.slower_than(Rate::from_K_per_s(-slope), Temperature::from_K(T_K_)).in_K()
            : set.end_K;
    if (slope >= 0.0 || leaves_K <= set.end_K) {
      add(set.end_s, set.end_K);
    } else if (leaves_K < T_K_ - same_K) {
      add(std::min(set.end_s, set.begin_s + (set.begin_K - leaves_K) / -slope), leaves_K);
    } else {
      leave(set);
    }
  }

  /// The first straight piece of natural fall after leaving a setpoint that falls faster.
  void leave(const Setpoint& set) {
    const Chord fall = chord(set.end_s);
    // A piece too short for the clock to show is taken whole, so that the fall goes on.
    const bool takes_time = fall.end_s > time_s_;
    add(fall.end_s, takes_time ? std::max(fall.end_K, set.at_K(fall.end_s)) : fall.end_K);
  }

  const NaturalCooling& natural_;
  double heating_K_per_s_;
  double time_s_ = 0.0;
  double T_K_;
  int step_ = -1;
  std::vector<AirCurve::Corner> corners_;
};

}  // namespace

double AirCurve::at_K(double time_s) const {
  const auto after = std::upper_bound(
      corners.begin(), corners.end(), time_s, [](double t_s, const Corner& corner) {
        return t_s < corner.time_s;
      });
  if (after == corners.begin()) return after->T_K;
  const Corner& before = *(after - 1);
  if (after == corners.end()) return before.T_K;
  const double share = (time_s - before.time_s) / (after->time_s - before.time_s);
  return before.T_K + share * (after->T_K - before.T_K);
}

FollowedProgram follow(const Program& program,
                       const Kiln& kiln,
                       LateOnCooling late,
                       Temperature start) {
  FollowedProgram followed;
  Run run{kiln, start};
  double set_K = program.start.value_or(start).in_K();
  for (const Leg& leg : legs(program, start)) {
    run.begin_step(leg.step);
    const double target_K = leg.to.in_K();
    const std::optional<Duration> time = ramp_time(leg.pace, *leg.from, leg.to);
    if (!time) {
      run.go_to(target_K);
      set_K = target_K;
      continue;
    }
    const auto note_if_late = [&](double above_K) {
      const double lateness_s = run.time_to_s(target_K);
      if (lateness_s < late_s) return;
      const double end_above_K = run.T_K() - target_K;
      const double most_K = above_K * end_above_K > 0.0 ? above_K : end_above_K;
      followed.late.push_back(
          {leg.step, seconds(lateness_s), TemperatureDifference::from_K(most_K)});
      followed.broken_off = late == LateOnCooling::stops;
    };
    // A hold after a ramp comes as late as the ramp did; a hold that begins the program may find
    // the kiln elsewhere.
    if (leg.is_hold && run.time_s() == 0.0) note_if_late(0.0);
    if (followed.broken_off) break;
    // A controller that waits begins to count a hold when the kiln is there.
    if (leg.is_hold && late == LateOnCooling::waits) run.go_to(target_K);
    const double begin_s = run.time_s();
    const double above_K =
        run.follow({begin_s, leg.is_hold ? target_K : set_K, begin_s + in_s(*time), target_K});
    set_K = target_K;
    if (leg.is_hold) continue;
    note_if_late(above_K);
    if (followed.broken_off) break;
    if (late == LateOnCooling::waits) run.go_to(target_K);
  }
  if (followed.broken_off) run.go_to(kiln.natural_cooling.room().in_K());
  followed.air = std::move(run).curve();
  return followed;
}

}  // namespace thickset
