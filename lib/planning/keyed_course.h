#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "planning/stage_search.h"
#include "schedule/fit_to_controller.h"

namespace thickset {

/// A cool-down as a controller takes it.
struct KeyedCourse {
  Course course;              ///< as keyed: ends, rates and rests after rounding
  FittedProgram fitted;       ///< with the fall and the hold before it
  int steps_used = 0;         ///< of the whole program
  CoolDown::Outcome outcome;  ///< tension of each stage, the last with what comes after it
};

/// What keeps a stage from being one unit faster.
enum class Limiting { retardation, tension, kiln, controller, yours, nothing };
const char* name_of(Limiting limiting);
/// A limit that the user set on the glass.
inline bool is_limit(Limiting limiting) {
  return limiting == Limiting::retardation || limiting == Limiting::tension;
}

/// What a controller makes of a cool-down.
class Keys {
 public:
  /// In: to_hold, the program up to and with the hold; start, where it begins if it has no start
  ///     row; own_pace, see fit_to_controller; steps, how many of the controller's are free.
  Keys(const Program& to_hold,
       const Controller& controller,
       Temperature start,
       Rate own_pace,
       int steps);

  /// Everything but the outcome.
  KeyedCourse key(const Course& course) const;
  /// The same with the outcome. In: cool_down, from the end of the hold that the keys begin with.
  KeyedCourse try_out(const Course& course,
                      const CoolDown& cool_down,
                      std::span<const CoolDown::Case> cases) const;
  KeyedCourse try_out(const Course& course, const CoolDown& cool_down) const {
    return try_out(course, cool_down, cool_down.cases());
  }
  bool can_be_keyed(const KeyedCourse& keyed) const {
    return keyed.fitted.cannot.empty() && keyed.steps_used <= steps_;
  }
  bool has_room_for(const Course& course) const { return key(course).steps_used <= steps_; }
  /// By so many of the smallest units that can be keyed, a rate faster (or a time shorter), an end
  /// higher; negative: slower, lower.
  Course with_rate(Course course, std::size_t stage, int units) const;
  Course with_end(Course course, std::size_t stage, int units) const;
  /// By so many units of time longer; negative: shorter, at least one unit.
  Course with_rest(Course course, std::size_t stage, int units) const;
  /// How many units make this share of a stage's rate (or time); at least one.
  int units_of(double share, const Course& course, std::size_t stage) const;
  int units_of_rest(double share, const Course& course, std::size_t stage) const;

  /// Rates that can be keyed next to one: at most it, and above it; nullopt where rates are not
  /// keyed or the unit is a small share of the rate.
  struct Neighbours {
    std::optional<double> below_K_per_s, above_K_per_s;
  };
  std::optional<Neighbours> coarse_neighbours(double rate_K_per_s) const;

 private:
  double kelvin_per_degree() const;
  double rate_unit_K_per_s() const;
  int hold_steps() const { return static_cast<int>(to_hold_.steps.size()); }

  Program to_hold_;
  Controller controller_;
  Temperature start_;
  Rate own_pace_;
  int steps_;
};

}  // namespace thickset
