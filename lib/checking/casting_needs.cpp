#include "checking/casting_needs.h"

#include <algorithm>
#include <cmath>

#include "checking/rules.h"
#include "stress/permanent_estimate.h"
#include "stress/retardation.h"

namespace thickset {
namespace {

constexpr double even_K = 1.0;     // core and surface, and
constexpr double arrived_K = 5.0;  // slowest glass and kiln, nearer than this
constexpr double level_K = 0.5;    // the kiln at its target

// Where rates may grow, and how much: rounded from computed tails, notes/planning.md.
constexpr double setting_ends_below_strain_K = 60.0;
constexpr double easing_ends_below_strain_K = 150.0;
constexpr double easing_factor = 3.0;
// Heating pulls at the centre, with half of what cooling pulls with at the surface.
constexpr double heating_factor = 2.0;

double diffusivity_m2_per_s(const Glass& glass) {
  return glass.diffusivity_m2_per_s(glass.strain_point.value.in_K());
}

double rate_of_grade_K_per_s(const Casting& casting, const Limits& limits) {
  const Glass& glass = casting.glass;
  const double half_m = equivalent_slabs(casting).permanent_tension.in_m() / 2.0;
  const double factor =
      stress::structural_factor(glass.liquid_expansion_per_K.value, glass.expansion_per_K.value);
  const double of_one_K_per_s_Pa =
      factor * stress::classical_midplane_Pa(
                   glass.biaxial_stress_Pa_per_K(), 1.0, half_m, diffusivity_m2_per_s(glass));
  const double left_nm_per_cm =
      stress::retardation(glass.stress_optical_per_Pa.value, of_one_K_per_s_Pa).in_nm_per_cm();
  return limits.grade.in_nm_per_cm() / left_nm_per_cm;
}

double rate_of_tension_K_per_s(const Casting& casting, const Limits& limits) {
  const Glass& glass = casting.glass;
  return stress::rate_of_surface_tension_K_per_s(
      limits.tension.in_Pa(),
      glass.biaxial_stress_Pa_per_K(),
      equivalent_slabs(casting).steady_difference.in_m() / 2.0,
      diffusivity_m2_per_s(glass));
}

}  // namespace

BearableRate::BearableRate(const Casting& casting, const Limits& limits)
    : annealing_{casting.glass.annealing_point.value},
      strain_{casting.glass.strain_point.value},
      grade_K_per_s_{rate_of_grade_K_per_s(casting, limits)},
      tension_K_per_s_{rate_of_tension_K_per_s(casting, limits)} {}

std::optional<Rate> BearableRate::over(Temperature from, Temperature to) const {
  if (to > from) {
    if (from > strain_) return std::nullopt;
    return Rate::from_K_per_s(heating_factor * tension_K_per_s_);
  }
  if (from > annealing_ + rules::hold_above_annealing && to >= strain_) return std::nullopt;
  const double below_strain_K = (strain_ - from).in_K();
  if (below_strain_K >= easing_ends_below_strain_K) return Rate::from_K_per_s(tension_K_per_s_);
  const double factor = below_strain_K >= setting_ends_below_strain_K ? easing_factor : 1.0;
  return Rate::from_K_per_s(std::min(factor * grade_K_per_s_, tension_K_per_s_));
}

std::optional<Duration> time_to_even_at(const CheckedProgram& checked, std::size_t step) {
  Program held = checked.program;
  held.steps.erase(held.steps.begin() + static_cast<std::ptrdiff_t>(step) + 1, held.steps.end());
  held.steps[step].hold = rules::time_to_even_out(checked.casting);
  const Measured measured = checked.run(held);
  const double target_K = held.steps[step].target.in_K();
  const auto& rows = measured.history.rows;
  const auto after = std::find_if(rows.begin(), rows.end(), [&](const History::Row& row) {
    return row.step > static_cast<int>(step);
  });
  double even_s = after == rows.begin() ? 0.0 : std::prev(after)->time_s;
  const double end_s = even_s;
  double level_s = even_s;
  bool uneven = false;
  for (auto row = after; row != rows.begin();) {
    --row;
    if (std::abs(row->kiln_K - target_K) > level_K) break;
    level_s = row->time_s;
    uneven = uneven || std::abs(row->centre_K - row->surface_K) > even_K ||
             std::abs(row->centre_K - row->kiln_K) > arrived_K;
    if (!uneven) even_s = row->time_s;
  }
  if (even_s >= end_s) return std::nullopt;
  return seconds(even_s - level_s);
}

}  // namespace thickset
