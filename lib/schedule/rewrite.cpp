#include "schedule/rewrite.h"

#include <cmath>

#include "base/error.h"

namespace thickset {
namespace {

Pace in_notation(const Leg& leg, Notation notation) {
  const bool is_rate = std::holds_alternative<Rate>(leg.pace);
  if (std::holds_alternative<AsFastAsPossible>(leg.pace) || is_rate == (notation == Notation::rate)) {
    return leg.pace;
  }
  if (!leg.from) {
    throw Error{{}, "the program does not say where its first ramp begins",
                "give it a start row, or say where it begins with --from"};
  }
  const double distance_K = std::abs((leg.to - *leg.from).in_K());
  if (notation == Notation::time) {
    return seconds(distance_K / std::get<Rate>(leg.pace).in_K_per_s());
  }
  return Rate::from_K_per_s(distance_K / in_s(std::get<Duration>(leg.pace)));
}

}  // namespace

Program rewritten(const Program& program,
                  Notation notation,
                  Degrees degrees,
                  std::optional<Temperature> start) {
  Program result{
      .start = program.start, .steps = {}, .notation = notation, .degrees = degrees};
  for (const Leg& leg : legs(program, start)) {
    if (!leg.is_hold) {
      result.steps.push_back({.target = leg.to, .pace = in_notation(leg, notation)});
      continue;
    }
    const Duration hold = std::get<Duration>(leg.pace);
    if (notation == Notation::time) {
      result.steps.push_back({.target = leg.to, .pace = hold});
    } else if (result.steps.empty()) {
      result.steps.push_back({.target = leg.to, .pace = AsFastAsPossible{}, .hold = hold});
    } else {
      result.steps.back().hold += hold;
    }
  }
  return result;
}

}  // namespace thickset
