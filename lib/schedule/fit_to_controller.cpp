#include "schedule/fit_to_controller.h"

#include <algorithm>
#include <cassert>
#include <cmath>

#include <fmt/format.h>

#include "schedule/keyable.h"
#include "schedule/log_numbers.h"

namespace thickset {

namespace {

using keyable::short_number;
using keyable::Side;
using keyable::to_step;

constexpr double minute_s = 60.0;
constexpr double same_rel = 1e-9;  // numbers that differ by less are one number, converted twice
constexpr double most_parts = 1000.0;

bool differ(double a, double b) {
  return std::abs(a - b) > same_rel * std::max(std::abs(a), std::abs(b));
}

/// A leg of the given program, in the controller's degrees.
struct Asked {
  int step;
  double from_deg;
  double to_deg;
  bool is_hold;
  double time_s;          // of a hold, of a ramp too unless as_fast
  double rate_deg_per_s;  // of a ramp, positive; 0 for a hold
  bool as_fast;

  bool cools() const { return to_deg < from_deg; }
};

std::vector<Asked> asked_legs(const Program& program, Temperature start, Degrees degrees) {
  std::vector<Asked> result;
  for (const Leg& leg : legs(program, start)) {
    const double from_deg = in_degrees(*leg.from, degrees);
    const double to_deg = in_degrees(leg.to, degrees);
    if (leg.is_hold && !result.empty() && result.back().is_hold) {
      result.back().time_s += in_s(std::get<Duration>(leg.pace));
      continue;
    }
    const std::optional<Duration> time = ramp_time(leg.pace, *leg.from, leg.to);
    const double time_s = time ? in_s(*time) : 0.0;
    const double rate = time && !leg.is_hold ? std::abs(to_deg - from_deg) / time_s : 0.0;
    result.push_back({leg.step, from_deg, to_deg, leg.is_hold, time_s, rate, !time});
  }
  return result;
}

/// Where the end of a ramp is rounded to: to the nearest before a hold, else to the side that
/// lengthens the slower of the two ramps that meet there.
Side target_side(const Asked& ramp, const Asked* next) {
  if (next != nullptr && next->is_hold) return Side::nearest;
  const bool goes_on = next != nullptr && next->cools() == ramp.cools();
  if (!goes_on) return ramp.cools() ? Side::down : Side::nearest;
  const bool is_slower =
      !ramp.as_fast && (next->as_fast || ramp.rate_deg_per_s <= next->rate_deg_per_s);
  return is_slower == ramp.cools() ? Side::down : Side::up;
}

/// Builds the fitted program leg by leg; at_deg_ is where the keyed steps have come to.
class Fitting {
 public:
  Fitting(const Controller& controller, const OwnPace& own_pace)
      : controller_{controller},
        cooling_deg_per_h_{in_degrees_per_h(own_pace.cooling, controller.degrees)},
        heating_deg_per_h_{in_degrees_per_h(own_pace.heating, controller.degrees)},
        unit_{std::string{"°"} + letter(controller.degrees)},
        longest_s_{keyable::longest_time_s(controller)} {
    fitted_.program.notation = controller.notation();
    fitted_.program.degrees = controller.degrees;
  }

  void begin(const std::optional<Temperature>& start_row, Temperature start) {
    const double asked_deg = in_degrees(start_row.value_or(start), controller_.degrees);
    at_deg_ = asked_deg;
    fitted_.program.start = start_row;
    if (controller_.start == Controller::Start::from_reading) return;
    at_deg_ = in_range("the start", to_step(asked_deg, controller_.degree_step, Side::nearest));
    if (differ(asked_deg, at_deg_)) {
      fitted_.changes.push_back("the start: " + keyable::becomes(asked_deg, at_deg_, unit_));
    }
    fitted_.program.start = from_degrees(at_deg_, controller_.degrees);
  }

  void add(const Asked& leg, const Asked* next) {
    step_ = leg.step;
    const std::size_t told = fitted_.changes.size();
    const int used = steps_used(fitted_.program, controller_);
    const Side side = leg.is_hold ? Side::nearest : target_side(leg, next);
    const double to_deg = in_range(step_name(), to_step(leg.to_deg, controller_.degree_step, side));
    const bool already_told = leg.is_hold && to_deg == at_deg_;
    if (differ(leg.to_deg, to_deg) && !already_told) {
      change(keyable::becomes(leg.to_deg, to_deg, unit_));
    }
    if (leg.is_hold) {
      add_hold(to_deg, leg.time_s);
    } else if (!differ(at_deg_, to_deg)) {
      add_vanished_ramp(leg);
    } else if (leg.as_fast) {
      add_fastest(to_deg);
    } else {
      by_time() ? add_timed_ramp(leg, to_deg) : add_rated_ramp(leg, to_deg);
    }
    at_deg_ = to_deg;
    name_keyed(told, used);
  }

  FittedProgram result() && {
    const int used = steps_used(fitted_.program, controller_);
    if (used > controller_.steps) {
      fitted_.cannot.push_back(fmt::format(
          "the program takes {} steps, this controller has {}", used, controller_.steps));
    }
    tell_stairs(controller_.steps - used);
    return std::move(fitted_);
  }

 private:
  bool by_time() const { return controller_.notation() == Notation::time; }
  std::string step_name() const { return fmt::format("step {}", step_ + 1); }
  void change(const std::string& what) { fitted_.changes.push_back(step_name() + ": " + what); }
  void refuse(const std::string& what) { fitted_.cannot.push_back(step_name() + ": " + what); }

  /// Behind the step's own number, the numbers it is keyed as where they are others.
  void name_keyed(std::size_t first_change, int used_before) {
    if (first_change == fitted_.changes.size()) return;
    const int last = steps_used(fitted_.program, controller_);
    const int first = std::min(used_before + 1, last);
    const bool as_given = first == step_ + 1 && last == first;
    if (as_given || last == 0) return;
    const std::string keyed = first == last ? fmt::format(" (keyed as {})", last)
                                            : fmt::format(" (keyed as {} to {})", first, last);
    for (std::size_t i = first_change; i < fitted_.changes.size(); ++i) {
      fitted_.changes[i].insert(step_name().size(), keyed);
    }
  }

  void push(double to_deg, const Pace& pace, double hold_s = 0.0) {
    const Temperature target = from_degrees(to_deg, controller_.degrees);
    fitted_.program.steps.push_back({target, pace, seconds(hold_s), {}, ""});
    fitted_.from_step.push_back(step_);
  }

  void lose(double asked_s, double keyed_s) {
    fitted_.lost += seconds(std::abs(keyed_s - asked_s));
  }

  double in_range(const std::string& name, double to_deg) {
    const double lowest = keyable::lowest_target_deg(controller_);
    const double highest = keyable::highest_target_deg(controller_);
    const double inside = std::clamp(to_deg, lowest, highest);
    // Rounding alone may step over the edge; the target itself is then inside and is not refused.
    if (std::abs(inside - to_deg) >= controller_.degree_step) {
      fitted_.cannot.push_back(
          fmt::format("{}: {} {} is outside the {} to {} {} of this controller",
                      name,
                      short_number(to_deg),
                      unit_,
                      short_number(lowest),
                      short_number(highest),
                      unit_));
    }
    return inside;
  }

  double keyed_time_s(double time_s) const {
    const double step_s = in_s(controller_.time_step);
    return std::max(step_s, to_step(time_s, step_s, Side::up));
  }

  void tell_time(double asked_s, double keyed_s) {
    if (!differ(asked_s, keyed_s)) return;
    change(fmt::format("{}, {}",
                       keyable::becomes(asked_s / minute_s, keyed_s / minute_s, "min"),
                       keyable::longer(keyed_s - asked_s)));
  }

  /// A ramp slower than the controller takes.
  struct TooSlow {
    std::string name;
    double way_deg;
    double asked_deg_per_h;
  };

  /// Stairs of the slowest rate with holds between take as long as the ramps asked; `free` steps
  /// are shared out among those.
  void tell_stairs(int free) {
    const bool lines_apart = controller_.step_form == Controller::StepForm::ramp_and_hold_lines;
    const auto sharing = static_cast<double>(too_slow_.size());
    for (const TooSlow& ramp : too_slow_) {
      const double own_steps = 1.0 + std::floor(free / sharing);
      const double most = std::floor(own_steps / (lines_apart ? 2.0 : 1.0));
      if (most < 2.0) continue;
      const double height_deg = to_step(ramp.way_deg / most, controller_.degree_step, Side::up);
      const double stairs = std::ceil(ramp.way_deg / height_deg - same_rel);
      const double slowest = keyable::smallest_rate_deg_per_h(controller_);
      const double hold_s =
          keyed_time_s(height_deg * (1.0 / ramp.asked_deg_per_h - 1.0 / slowest) * hour_s);
      if (stairs < 2.0 || hold_s > longest_s_) continue;
      fitted_.nearer.push_back(fmt::format(
          "{}: {:.0f} stairs of up to {} {} at {} {}/h, each held {} min, would take as long "
          "as asked, but each runs at {} times the asked rate: simulate them first",
          ramp.name,
          stairs,
          short_number(height_deg),
          unit_,
          short_number(slowest),
          unit_,
          short_number(hold_s / minute_s),
          short_number(slowest / ramp.asked_deg_per_h)));
    }
  }

  void add_hold(double at_deg, double asked_s) {
    const double parts = std::max(1.0, std::ceil(keyed_time_s(asked_s) / longest_s_));
    if (parts > most_parts) {
      refuse(fmt::format(
          "a hold of {} min takes {:.0f} steps", short_number(asked_s / minute_s), parts));
      push_hold(at_deg, longest_s_);
      lose(asked_s, longest_s_);
      return;
    }
    const double part_s = keyed_time_s(asked_s / parts);
    for (double part = 0.0; part < parts; ++part) push_hold(at_deg, part_s);
    lose(asked_s, parts * part_s);
    tell_time(asked_s, parts * part_s);
    tell_split(fmt::format("a hold of {} min", short_number(parts * part_s / minute_s)), parts, "");
  }

  void push_hold(double at_deg, double time_s) {
    if (by_time()) {
      push(at_deg, seconds(time_s));
      return;
    }
    std::vector<Step>& steps = fitted_.program.steps;
    const bool joins = !steps.empty() && steps.back().hold.count() == 0.0 && at_deg == at_deg_;
    if (joins) {
      steps.back().hold = seconds(time_s);
    } else {
      push(at_deg, fastest_rate(at_deg), time_s);
      at_deg_ = at_deg;
    }
  }

  void tell_split(const std::string& what, double parts, const std::string& way) {
    if (parts < 2.0) return;
    fitted_.splits.push_back(fmt::format("{}: {} is keyed as {:.0f} steps of at most {} min{}",
                                         step_name(),
                                         what,
                                         parts,
                                         short_number(longest_s_ / minute_s),
                                         way));
  }

  void add_vanished_ramp(const Asked& leg) {
    if (leg.as_fast) return;
    change(
        fmt::format("{} to {} {} is less than one step of the display and becomes a hold of {} min",
                    short_number(leg.from_deg),
                    short_number(leg.to_deg),
                    unit_,
                    short_number(keyed_time_s(leg.time_s) / minute_s)));
    add_hold(at_deg_, leg.time_s);
  }

  double own_pace_deg_per_h(double to_deg) const {
    return to_deg > at_deg_ ? heating_deg_per_h_ : cooling_deg_per_h_;
  }

  /// The fastest rate that can be keyed and is not above the kiln's own pace.
  Pace fastest_rate(double to_deg) const {
    const double rate_deg_per_h =
        std::clamp(to_step(own_pace_deg_per_h(to_deg), controller_.rate_step_per_h, Side::down),
                   keyable::smallest_rate_deg_per_h(controller_),
                   keyable::largest_rate_deg_per_h(controller_));
    return rate_from_degrees_per_h(rate_deg_per_h, controller_.degrees);
  }

  void add_fastest(double to_deg) {
    if (controller_.as_fast_key) {
      push(to_deg, AsFastAsPossible{});
      return;
    }
    const std::string no_key = ", as this controller has no key for it";
    if (!by_time()) {
      const Pace pace = fastest_rate(to_deg);
      push(to_deg, pace);
      change(fmt::format("as fast as possible becomes {} {}/h{}",
                         short_number(in_degrees_per_h(std::get<Rate>(pace), controller_.degrees)),
                         unit_,
                         no_key));
      return;
    }
    const double time_s = std::abs(to_deg - at_deg_) / own_pace_deg_per_h(to_deg) * hour_s;
    const double keyed_s = push_timed(to_deg, time_s);
    change(fmt::format(
        "as fast as possible becomes {} min{}", short_number(keyed_s / minute_s), no_key));
  }

  void add_rated_ramp(const Asked& leg, double to_deg) {
    const double asked_deg_per_h = leg.rate_deg_per_s * hour_s;
    const double smallest = keyable::smallest_rate_deg_per_h(controller_);
    const double largest = keyable::largest_rate_deg_per_h(controller_);
    double rate = to_step(asked_deg_per_h, controller_.rate_step_per_h, Side::down);
    rate = std::min(rate, largest);
    if (rate < smallest) {
      rate = smallest;
      too_slow_.push_back({step_name(), std::abs(to_deg - at_deg_), asked_deg_per_h});
      refuse(fmt::format("{} {}/h is slower than the {} {}/h this controller can be told",
                         short_number(asked_deg_per_h),
                         unit_,
                         short_number(smallest),
                         unit_));
    } else if (differ(asked_deg_per_h, rate)) {
      const double keyed_s = std::abs(to_deg - at_deg_) / rate * hour_s;
      const std::string later =
          keyed_s > leg.time_s ? ", " + keyable::longer(keyed_s - leg.time_s) : "";
      change(keyable::becomes(asked_deg_per_h, rate, unit_ + "/h") + later);
    }
    lose(leg.time_s, std::abs(to_deg - at_deg_) / rate * hour_s);
    push(to_deg, rate_from_degrees_per_h(rate, controller_.degrees));
  }

  void add_timed_ramp(const Asked& leg, double to_deg) {
    const double at_rate_s = std::abs(to_deg - at_deg_) / leg.rate_deg_per_s;
    const double keyed_s = push_timed(to_deg, std::max(at_rate_s, leg.time_s));
    lose(leg.time_s, keyed_s);
    tell_time(leg.time_s, keyed_s);
  }

  /// Adds a ramp of at least this time, in parts where it is longer than one step can be; gives the
  /// time keyed.
  double push_timed(double to_deg, double time_s) {
    const double most = std::floor(std::abs(to_deg - at_deg_) / controller_.degree_step + 0.5);
    double parts = std::max(1.0, std::ceil(keyed_time_s(time_s) / longest_s_));
    // Parts of unequal whole degrees may need one more than equal ones would.
    while (parts <= std::min(most, most_parts) &&
           longest_part_s(to_deg, time_s, parts) > longest_s_) {
      ++parts;
    }
    if (parts > 1.0 && parts > std::min(most, most_parts)) {
      refuse(fmt::format("{} {} in {} min is slower than this controller can be told",
                         short_number(std::abs(to_deg - at_deg_)),
                         unit_,
                         short_number(time_s / minute_s)));
      push(to_deg, seconds(longest_s_));
      return longest_s_;
    }
    double keyed_s = 0.0;
    std::string way;
    double from_deg = at_deg_;
    for (double part = 1.0; part <= parts; ++part) {
      const double end_deg = part_end_deg(to_deg, part, parts);
      const double part_s = part_time_s(to_deg, time_s, from_deg, end_deg);
      push(end_deg, seconds(part_s));
      keyed_s += part_s;
      if (part < parts) way += fmt::format(" {} {}", short_number(end_deg), unit_);
      from_deg = end_deg;
    }
    tell_split(fmt::format("{} min", short_number(keyed_s / minute_s)), parts, ", by way of" + way);
    return keyed_s;
  }

  double part_end_deg(double to_deg, double part, double parts) const {
    if (part == parts) return to_deg;
    return to_step(
        at_deg_ + (to_deg - at_deg_) * part / parts, controller_.degree_step, Side::nearest);
  }

  double part_time_s(double to_deg, double time_s, double from_deg, double end_deg) const {
    const double share = std::abs(end_deg - from_deg) / std::abs(to_deg - at_deg_);
    return keyed_time_s(time_s * share);
  }

  double longest_part_s(double to_deg, double time_s, double parts) const {
    double longest_s = 0.0;
    double from_deg = at_deg_;
    for (double part = 1.0; part <= parts; ++part) {
      const double end_deg = part_end_deg(to_deg, part, parts);
      longest_s = std::max(longest_s, part_time_s(to_deg, time_s, from_deg, end_deg));
      from_deg = end_deg;
    }
    return longest_s;
  }

  const Controller& controller_;
  double cooling_deg_per_h_, heating_deg_per_h_;
  std::string unit_;
  double longest_s_;
  double at_deg_ = 0.0;
  int step_ = 0;
  std::vector<TooSlow> too_slow_;
  FittedProgram fitted_;
};

}  // namespace

FittedProgram fit_to_controller(const Program& program,
                                const Controller& controller,
                                Temperature start,
                                const OwnPace& own_pace) {
  assert(own_pace.cooling.in_K_per_s() > 0.0 && own_pace.heating.in_K_per_s() > 0.0);
  const std::vector<Asked> asked = asked_legs(program, start, controller.degrees);
  Fitting fitting{controller, own_pace};
  fitting.begin(program.start, start);
  for (std::size_t i = 0; i < asked.size(); ++i) {
    fitting.add(asked[i], i + 1 < asked.size() ? &asked[i + 1] : nullptr);
  }
  return std::move(fitting).result();
}

}  // namespace thickset
