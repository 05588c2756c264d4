#include "checking/slips_of_degrees.h"

#include <cmath>
#include <optional>

#include <fmt/format.h>

#include "checking/rules.h"
#include "units/spoken.h"

namespace thickset {
namespace {

Degrees other_than(Degrees degrees) {
  return degrees == Degrees::celsius ? Degrees::fahrenheit : Degrees::celsius;
}

/// The same number in the other degrees.
Temperature read_in_other(Temperature keyed, Degrees degrees) {
  return from_degrees(in_degrees(keyed, degrees), other_than(degrees));
}

bool near_annealing(Temperature t, Temperature annealing) {
  return std::abs((t - annealing).in_K()) <= rules::hold_above_annealing.in_K();
}

/// The whole program in the other degrees, where no target anneals as it is.
std::optional<KeyingSlip> all_in_other(const CheckedProgram& checked) {
  const Program& program = checked.program;
  const Temperature annealing = checked.casting.glass.annealing_point.value;
  if (checked.result.measured.hold) return std::nullopt;
  for (const Step& step : program.steps) {
    if (near_annealing(step.target, annealing)) return std::nullopt;
  }
  for (std::size_t i = 0; i < program.steps.size(); ++i) {
    const Temperature keyed = program.steps[i].target;
    const Temperature meant = read_in_other(keyed, program.degrees);
    if (!near_annealing(meant, annealing)) continue;
    return KeyingSlip{
        .finding = {.kind = Finding::Kind::notation_slip,
                    .step = static_cast<int>(i),
                    .text = fmt::format("{}: the annealing point is {}; did you mean {}, where the "
                                        "program says {}? then key {}, and so with the other steps",
                                        checked.step_name(i),
                                        spoken(annealing, program.degrees),
                                        spoken(meant, other_than(program.degrees)),
                                        spoken(keyed, program.degrees),
                                        spoken(meant, program.degrees))},
        .instead_of = {{Finding::Kind::hold_too_short, -1},
                       {Finding::Kind::heats, static_cast<int>(i)}}};
  }
  return std::nullopt;
}

/// One target of a cool-down that, read in the other degrees, lies between its neighbours; as keyed
/// it makes step `heats` heat.
std::optional<KeyingSlip> one_in_other(const CheckedProgram& checked,
                                       std::size_t wrong,
                                       std::size_t heats) {
  const Program& program = checked.program;
  const Temperature keyed = program.steps[wrong].target;
  const Temperature meant = read_in_other(keyed, program.degrees);
  const bool last = wrong + 1 == program.steps.size();
  const Temperature below = last ? checked.firing.room : program.steps[wrong + 1].target;
  if (!(meant < checked.keyed(wrong).from && meant > below)) return std::nullopt;
  return KeyingSlip{.finding = {.kind = Finding::Kind::notation_slip,
                                .step = static_cast<int>(wrong),
                                .text = fmt::format(
                                    "{} heats, from {} to {}: looks like {} meant at {}? then key "
                                    "{}",
                                    checked.step_name(heats),
                                    spoken(checked.keyed(heats).from, program.degrees),
                                    spoken(checked.keyed(heats).to, program.degrees),
                                    spoken(meant, other_than(program.degrees)),
                                    checked.step_name(wrong),
                                    spoken(meant, program.degrees))},
                    .instead_of = {{Finding::Kind::heats, static_cast<int>(heats)}}};
}

}  // namespace

std::vector<KeyingSlip> slips_of_degrees(const CheckedProgram& checked) {
  if (const auto slip = all_in_other(checked)) return {*slip};
  std::vector<KeyingSlip> slips;
  bool cooled = false;
  for (std::size_t i = 0; i < checked.program.steps.size(); ++i) {
    const KeyedStep keyed = checked.keyed(i);
    if (keyed.to > keyed.from && cooled) {
      auto slip = one_in_other(checked, i, i);
      if (!slip) slip = one_in_other(checked, i - 1, i);
      if (slip) slips.push_back(*slip);
    }
    cooled = cooled || keyed.to < keyed.from;
  }
  return slips;
}

}  // namespace thickset
