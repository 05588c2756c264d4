#include "checking/early_stage_end.h"

#include <algorithm>
#include <cmath>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "stress/permanent_estimate.h"
#include "units/spoken.h"

namespace thickset {
namespace {

constexpr double goes_up = 1.5;        // times the rate: then the stage has ended
constexpr double lag_K = 3.0;          // core above the kiln: less is no matter
constexpr double markedly_less = 0.9;  // of what the program leaves
constexpr double core_tol_K = 0.5;     // of where the core is meant to be
constexpr int most_runs = 4;           // for one stage
constexpr std::size_t most_stages = 3;

/// The stage's rate kept, down to another target.
Program ending_at(const CheckedProgram& checked, std::size_t stage, double target_K) {
  Program changed = checked.program;
  changed.steps[stage].target = Temperature::from_K(target_K);
  changed.steps[stage].pace = *checked.keyed(stage).rate;
  const std::size_t next = stage + 1;
  if (const auto rate = checked.keyed(next).rate) changed.steps[next].pace = *rate;
  return changed;
}

double core_at_end_K(const Measured& measured, std::size_t stage) {
  return measured.history.at(measured.steps[stage].end_s).centre_K;
}

struct LaterEnd {
  double target_K;
  Measured measured;
};

/// Found by lowering the target by what the core is still above the kiln's.
std::optional<LaterEnd> later_end(const CheckedProgram& checked, std::size_t stage) {
  const double meant_K = checked.keyed(stage).to.in_K();
  const double below_K = checked.keyed(stage + 1).to.in_K();
  double target_K = meant_K;
  double core_K = core_at_end_K(checked.result.measured, stage);
  for (int run = 0; run < most_runs; ++run) {
    target_K -= core_K - meant_K;
    if (target_K <= below_K) return std::nullopt;
    const Degrees degrees = checked.program.degrees;
    target_K =
        from_degrees(std::floor(in_degrees(Temperature::from_K(target_K), degrees) + 0.01), degrees)
            .in_K();
    Measured measured = checked.run(ending_at(checked, stage, target_K));
    core_K = core_at_end_K(measured, stage);
    const double one_degree_K = difference_from_degrees(1.0, checked.program.degrees).in_K();
    if (std::abs(core_K - meant_K) <= one_degree_K + core_tol_K)
      return LaterEnd{target_K, std::move(measured)};
  }
  return std::nullopt;
}

bool ends_early(const CheckedProgram& checked, std::size_t stage) {
  const KeyedStep slow = checked.keyed(stage);
  const KeyedStep next = checked.keyed(stage + 1);
  if (!slow.rate || slow.hold.count() > 0.0 || slow.to >= slow.from || next.to >= next.from)
    return false;
  if (next.rate && next.rate->in_K_per_s() < goes_up * slow.rate->in_K_per_s()) return false;
  const Glass& glass = checked.casting.glass;
  const double core_K = core_at_end_K(checked.result.measured, stage);
  const double set_K = glass.strain_point.value.in_K() - stress::setting_below_strain_K;
  return slow.to < glass.annealing_point.value && core_K > set_K && core_K - slow.to.in_K() > lag_K;
}

/// The stages that end early whose next step answers for most of what is left.
std::vector<std::size_t> most_to_gain(const CheckedProgram& checked) {
  std::vector<std::size_t> stages;
  for (std::size_t stage = 0; stage + 1 < checked.program.steps.size(); ++stage) {
    if (ends_early(checked, stage)) stages.push_back(stage);
  }
  const auto next_leaves = [&](std::size_t stage) {
    return checked.result.measured.steps[stage + 1].retardation_nm_per_cm;
  };
  std::stable_sort(stages.begin(), stages.end(), [&](std::size_t a, std::size_t b) {
    return next_leaves(a) > next_leaves(b);
  });
  if (stages.size() > most_stages) stages.resize(most_stages);
  return stages;
}

}  // namespace

std::optional<Finding> early_stage_end(const CheckedProgram& checked) {
  const Retardation left = checked.result.measured.permanent.retardation;
  if (left <= checked.limits.grade) return std::nullopt;
  const Degrees degrees = checked.program.degrees;
  std::optional<Finding> best;
  double least = markedly_less * left.in_nm_per_cm();
  for (const std::size_t stage : most_to_gain(checked)) {
    const auto later = later_end(checked, stage);
    if (!later) continue;
    const double leaves = later->measured.permanent.retardation.in_nm_per_cm();
    if (leaves > least) continue;
    least = leaves;
    const KeyedStep keyed = checked.keyed(stage);
    const double core_K = core_at_end_K(checked.result.measured, stage);
    const double later_s = (keyed.to.in_K() - later->target_K) / keyed.rate->in_K_per_s();
    best = Finding{
        .kind = Finding::Kind::stage_ends_early,
        .step = static_cast<int>(stage),
        .text = fmt::format(
            "{} ends when the kiln is at {}; the core is then still at {}, where stress sets, and "
            "the rate goes up: was it to be the core at {}? then key {} at the same rate ({:.0f} "
            "min later): leaves {:.1f} nm/cm instead of {:.1f}, limit {:g}",
            checked.step_name(stage),
            spoken(keyed.to, degrees),
            spoken(Temperature::from_K(core_K), degrees),
            spoken(keyed.to, degrees),
            spoken(Temperature::from_K(later->target_K), degrees),
            later_s / 60.0,
            leaves,
            left.in_nm_per_cm(),
            checked.limits.grade.in_nm_per_cm())};
  }
  return best;
}

}  // namespace thickset
