#include "planning/stages.h"

#include <algorithm>
#include <cmath>

#include "conduction/face.h"
#include "stress/permanent_estimate.h"
#include "stress/retardation.h"
#include "stress/surface_tension.h"

namespace thickset {
namespace {

constexpr double easing_K = 60.0;         // length of the easing stage
constexpr double of_natural_rate = 0.95;  // of the kiln's own fall that a stage may ask
constexpr double worth_a_stage = 1.3;     // rates nearer than this need no easing between

/// How far the slowest glass is above the kiln in steady cooling.
double core_lag_K(const Casting& casting, const Kiln& kiln, double T_K, Rate rate) {
  const Glass& glass = casting.glass;
  const Shape shape = casting.governing_shape();
  const double rate_K_per_s = rate.in_K_per_s();
  const double inside_K =
      rate_K_per_s * poisson_maximum_m2(shape) / glass.diffusivity_m2_per_s(T_K);
  const conduction::Face face =
      conduction::Face::exchange(kiln.film_coefficient_W_per_m2_K, kiln.emissivity);
  const double film_K = rate_K_per_s * glass.density_kg_per_m3.value *
                        glass.heat_capacity_J_per_kg_K.value.at(T_K) *
                        volume_to_surface(shape).in_m() / face.stiffness_W_per_m2_K(T_K);
  return inside_K + film_K;
}

/// The lowest temperature, between `end` and `top`, down to which the kiln falls by itself faster
/// than this rate, with the margin that stages keep.
Temperature lowest_kept(const NaturalCooling& natural,
                        Rate rate,
                        Temperature top,
                        Temperature end) {
  const auto keeps = [&](Temperature temperature) {
    return rate.in_K_per_s() <= of_natural_rate * natural.rate_at(temperature).in_K_per_s();
  };
  if (keeps(end)) return end;
  double low_K = end.in_K();
  double high_K = top.in_K();
  while (high_K - low_K > 0.5) {  // half a degree: targets are whole ones
    const double middle_K = 0.5 * (low_K + high_K);
    (keeps(Temperature::from_K(middle_K)) ? high_K : low_K) = middle_K;
  }
  return Temperature::from_K(high_K);
}

}  // namespace

const char* name_of(PlannedStage::Kind kind) {
  switch (kind) {
    case PlannedStage::Kind::upper: return "upper";
    case PlannedStage::Kind::setting: return "setting";
    case PlannedStage::Kind::easing: return "easing";
    case PlannedStage::Kind::run_out: return "run-out";
  }
  return "";
}

double estimate_permanent_Pa(const Glass& glass, Length slab, Rate rate) {
  return stress::structural_factor(glass.liquid_expansion_per_K.value,
                                   glass.expansion_per_K.value) *
         stress::classical_midplane_Pa(glass.biaxial_stress_Pa_per_K(),
                                       rate.in_K_per_s(),
                                       0.5 * slab.in_m(),
                                       glass.diffusivity_m2_per_s(glass.strain_point.value.in_K()));
}

StageEstimate estimate_rates(const Casting& casting, const Limits& limits) {
  const Glass& glass = casting.glass;
  const Shape shape = casting.governing_shape();
  const EquivalentSlabs equivalents = equivalent_slabs(shape);
  const double strain_K = glass.strain_point.value.in_K();
  const double biaxial = glass.biaxial_stress_Pa_per_K();
  const double grade_Pa =
      stress::stress_of_retardation_Pa(glass.stress_optical_per_Pa.value, limits.grade);
  const double left_per_rate_Pa =
      estimate_permanent_Pa(glass, equivalents.permanent_tension, Rate::from_K_per_s(1.0));
  const double run_out_K_per_s =
      stress::rate_of_surface_tension_K_per_s(
          limits.tension.in_Pa(),
          biaxial,
          0.5 * equivalents.steady_difference.in_m(),
          glass.diffusivity_m2_per_s(strain_K - stress::setting_below_strain_K)) /
      stress::surface_tension_factor(shape);
  return {.setting = Rate::from_K_per_s(std::min(grade_Pa / left_per_rate_Pa, run_out_K_per_s)),
          .run_out = Rate::from_K_per_s(run_out_K_per_s)};
}

std::vector<PlannedStage> lay_out_stages(const Casting& casting,
                                         const Kiln& kiln,
                                         const Firing& firing,
                                         Temperature hold,
                                         Temperature end,
                                         Rate setting,
                                         Rate run_out,
                                         int most_stages,
                                         bool never_late) {
  const NaturalCooling natural = kiln.natural_cooling.in_room(firing.room);
  const auto within_kiln = [&](Rate rate, Temperature lower_end) {
    return std::min(rate,
                    Rate::from_K_per_s(of_natural_rate * natural.rate_at(lower_end).in_K_per_s()));
  };
  const Temperature set_to = casting.glass.strain_point.value -
                             TemperatureDifference::from_K(stress::setting_below_strain_K);
  const Rate setting_rate = within_kiln(setting, set_to);
  const double lag_K = core_lag_K(casting, kiln, set_to.in_K(), setting_rate);
  Temperature setting_end = std::max(set_to - TemperatureDifference::from_K(lag_K), end);
  if (setting_end >= hold) setting_end = end;
  const Temperature easing_end =
      std::max(setting_end - TemperatureDifference::from_K(easing_K), end);
  const bool steps_up =
      run_out.in_K_per_s() > worth_a_stage * setting_rate.in_K_per_s() && setting_end > end;

  // Faster than the kiln falls where a stage begins is no use to anybody who keys it.
  const auto run_out_from = [&](Temperature top) { return within_kiln(run_out, top); };

  const auto run_out_to = [&](Temperature top) {
    return never_late ? lowest_kept(natural, run_out_from(top), top, end) : end;
  };

  using Kind = PlannedStage::Kind;
  if (most_stages <= 1 || !steps_up) {
    return {{Kind::setting,
             never_late ? lowest_kept(natural, setting_rate, setting_end, end) : end,
             setting_rate}};
  }
  if (most_stages == 2 || easing_end == end) {
    const Temperature set_until = easing_end == end ? setting_end : easing_end;
    return {{Kind::setting, set_until, setting_rate},
            {Kind::run_out, run_out_to(set_until), run_out_from(set_until)}};
  }
  const Rate easing =
      within_kiln(Rate::from_K_per_s(std::sqrt(setting_rate.in_K_per_s() *
                                               run_out_from(setting_end).in_K_per_s())),
                  easing_end);
  return {{Kind::setting, setting_end, setting_rate},
          {Kind::easing, easing_end, easing},
          {Kind::run_out, run_out_to(easing_end), run_out_from(easing_end)}};
}

}  // namespace thickset
