#pragma once

#include <string>

#include "schedule/controller.h"

/// What can be keyed into a controller, in its own degrees (_deg) and its own steps. Every number
/// that differs from a step by less than a millionth of one counts as that step, so that 498 C,
/// held as 771.15 K, is a whole degree.
namespace thickset::keyable {

enum class Side { down, nearest, up };

/// `value` as a whole number of steps, on the side asked for.
double to_step(double value, double step, Side side);

double lowest_target_deg(const Controller& controller);
double highest_target_deg(const Controller& controller);

/// The slowest and the fastest rate, in own degrees per hour.
double smallest_rate_deg_per_h(const Controller& controller);
double largest_rate_deg_per_h(const Controller& controller);

/// The longest time that is a whole number of its time steps.
double longest_time_s(const Controller& controller);

/// "4.39 C/h becomes 4 C/h": both numbers with two decimals, or as many as tell them apart, zeros
/// at the end left out.
std::string becomes(double asked, double keyed, const std::string& unit);

/// A number with at most two decimals, zeros at the end left out.
std::string short_number(double value);

/// "14 min", from an hour on "2.3 h".
std::string duration_text(double time_s);

/// "14 min longer", from an hour on "2.3 h longer".
std::string longer(double time_s);

}  // namespace thickset::keyable
