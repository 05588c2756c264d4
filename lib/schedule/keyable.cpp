#include "schedule/keyable.h"

#include <cmath>

#include <fmt/format.h>

namespace thickset::keyable {

namespace {

constexpr double same_step = 1e-6;  // of a step; a double holds 1e4 steps to 1e-12 of one

/// A whole number of steps. Seven steps of 0.1 are 7 / 10, the double nearest to 0.7; 7 * 0.1 is
/// not.
double of_steps(double steps, double step) {
  constexpr double round_off = 1e-12;
  const double per_unit = std::round(1.0 / step);
  const bool is_fraction = per_unit > 1.0 && std::abs(per_unit * step - 1.0) < round_off;
  return is_fraction ? steps / per_unit : steps * step;
}

std::string with_decimals(double value, int decimals) {
  std::string text = fmt::format("{:.{}f}", value, decimals);
  if (text.find('.') == text.npos) return text;
  text.erase(text.find_last_not_of('0') + 1);
  if (text.back() == '.') text.pop_back();
  return text;
}

}  // namespace

double to_step(double value, double step, Side side) {
  const double steps = value / step;
  const double nearest = std::round(steps);
  if (side == Side::nearest || std::abs(steps - nearest) < same_step)
    return of_steps(nearest, step);
  return of_steps(side == Side::down ? std::floor(steps) : std::ceil(steps), step);
}

double lowest_target_deg(const Controller& controller) {
  return to_step(
      in_degrees(controller.lowest_target, controller.degrees), controller.degree_step, Side::up);
}

double highest_target_deg(const Controller& controller) {
  return to_step(in_degrees(controller.highest_target, controller.degrees),
                 controller.degree_step,
                 Side::down);
}

double smallest_rate_deg_per_h(const Controller& controller) {
  const double smallest = to_step(in_degrees_per_h(controller.smallest_rate, controller.degrees),
                                  controller.rate_step_per_h,
                                  Side::up);
  return std::max(smallest, controller.rate_step_per_h);
}

double largest_rate_deg_per_h(const Controller& controller) {
  return to_step(in_degrees_per_h(controller.largest_rate, controller.degrees),
                 controller.rate_step_per_h,
                 Side::down);
}

double longest_time_s(const Controller& controller) {
  return to_step(in_s(controller.longest_time), in_s(controller.time_step), Side::down);
}

std::string becomes(double asked, double keyed, const std::string& unit) {
  constexpr int most_decimals = 9;
  int decimals = 2;
  while (decimals < most_decimals &&
         with_decimals(asked, decimals) == with_decimals(keyed, decimals)) {
    ++decimals;
  }
  return fmt::format("{} {} becomes {} {}",
                     with_decimals(asked, decimals),
                     unit,
                     with_decimals(keyed, decimals),
                     unit);
}

std::string short_number(double value) {
  return with_decimals(value, 2);
}

std::string duration_text(double time_s) {
  constexpr double hour_s = 3600.0;
  constexpr double minute_s = 60.0;
  if (time_s >= hour_s) return fmt::format("{} h", with_decimals(time_s / hour_s, 1));
  return fmt::format("{} min", with_decimals(time_s / minute_s, 1));
}

std::string longer(double time_s) {
  return duration_text(time_s) + " longer";
}

}  // namespace thickset::keyable
