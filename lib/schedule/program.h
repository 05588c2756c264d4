#pragma once

#include "base/place.h"
#include "units/duration.h"
#include "units/rate.h"
#include "units/temperature.h"

#include <optional>
#include <string>
#include <variant>
#include <vector>

namespace thickset {

/// How the steps of a program are written.
enum class Notation {
  rate,  ///< rate, target, hold
  time,  ///< target, minutes to reach it from the one before; equal target = hold
};

/// No ramp: the kiln's own pace.
struct AsFastAsPossible {
  constexpr bool operator==(const AsFastAsPossible&) const = default;
};

/// How a step goes from the temperature before to its target. A Rate is always positive; whether it
/// heats or cools follows from the target.
using Pace = std::variant<AsFastAsPossible, Rate, Duration>;

/// One step as a person writes it: in rate notation a ramp and a hold, in time notation one row
/// (a row whose target equals the one before holds for its Duration; its `hold` stays zero).
struct Step {
  Temperature target;
  Pace pace;
  Duration hold{0.0};
  Place place{};          ///< where it was read, empty for a planned step
  std::string comment{};  ///< what a planned step is for: "hold", "setting", ...; never read back
};

/// Temperature against time as a controller is told it.
struct Program {
  std::optional<Temperature> start;  ///< nullopt: from wherever the kiln is
  std::vector<Step> steps;
  Notation notation = Notation::rate;
  Degrees degrees = Degrees::celsius;  ///< of the file it was read from or is to be written in
};

/// Time of a ramp at this pace; AsFastAsPossible gives nullopt.
std::optional<Duration> ramp_time(const Pace& pace, Temperature from, Temperature to);

/// A piece of a program that is either one ramp or one hold, whatever the notation.
struct Leg {
  int step;                         ///< index of the step it belongs to
  std::optional<Temperature> from;  ///< nullopt: a first leg with no known start
  Temperature to;                   ///< of a hold the same as `from`, where that is known
  Pace pace;                        ///< of a ramp; of a hold its Duration
  bool is_hold;
};

/// The program as ramps and holds in the order they run. A ramp between equal temperatures is a
/// hold where its pace is a Duration, else it is left out, as is a hold of no time.
///
/// In: start, where the program begins when it has no start row; nullopt: not known, its first step
///     is then taken for a ramp.
std::vector<Leg> legs(const Program& program, std::optional<Temperature> start);

}  // namespace thickset
