#include "sampling/uncertain_input.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <optional>
#include <utility>

#include <fmt/format.h>

#include "geometry/scaled_shape.h"
#include "units/spoken.h"

namespace thickset {
namespace {

// Stand-ins, where no file states a range. None has a source: what careful people were found to be
// off by, rounded up. notes/confidence.md#ranges.
constexpr double usual_thickness = 0.05;
constexpr double usual_strain_point_K = 3.0;
constexpr double strain_point_of_gap = 0.25;  ///< and no more than this of what lies between both
constexpr double usual_conductivity = 0.10;
constexpr double usual_heat_capacity = 0.05;
constexpr double usual_expansion = 0.03;
constexpr double usual_exchange = 0.20;
constexpr double published_mould = 0.15;
constexpr double mould_from_memory = 0.30;
constexpr double assumed_mould_factor = 2.0;  ///< half to double

constexpr const char* assumed = "assumed";

UncertainInput share_of(UncertainValue what,
                        const std::optional<double>& stated,
                        double otherwise,
                        const char* file) {
  const double share = stated.value_or(otherwise);
  return {.what = what,
          .half_width = share,
          .range = fmt::format("+-{:.3g} %", 100.0 * share),
          .from = stated ? file : assumed,
          .assumed = !stated};
}

UncertainInput kelvins(UncertainValue what,
                       double half_width_K,
                       std::string from,
                       bool is_assumed) {
  return {.what = what,
          .half_width = half_width_K,
          .range = "+-" + in_both(TemperatureDifference::from_K(half_width_K)),
          .from = std::move(from),
          .assumed = is_assumed};
}

UncertainInput sensor_of(const Casting& casting, const Kiln& kiln) {
  const Temperature at = casting.glass.annealing_point.value;
  return {.what = UncertainValue::sensor,
          .half_width = 1.0,
          .range = fmt::format("+-{} at {}", in_both(sensor_tolerance(kiln, at)), in_both(at)),
          .from = sensor_tolerance_from(kiln, at),
          .assumed = false};
}

/// How far a material's conductivity may be off: multiplied or divided at the ends.
struct MouldRange {
  double share;  ///< 1 +- share
  bool halves;   ///< from half to double instead
  bool stated;   ///< by its file
};

MouldRange range_of(const Mould& mould) {
  if (mould.conductivity_uncertainty) return {*mould.conductivity_uncertainty, false, true};
  switch (mould.status) {
    case Mould::Status::published: return {published_mould, false, false};
    case Mould::Status::from_memory: return {mould_from_memory, false, false};
    case Mould::Status::assumed: break;
  }
  return {0.0, true, false};
}

double factor_at(const MouldRange& range, double off) {
  return range.halves ? std::pow(assumed_mould_factor, off) : 1.0 + range.share * off;
}

void for_each_material(Walls& walls, const auto& change) {
  for (Wall* const wall : {&walls.top, &walls.bottom}) {
    for (Layer& layer : wall->layers) {
      if (layer.material) change(*layer.material);
    }
  }
}

std::optional<UncertainInput> moulds_of(const Casting& casting) {
  if (!casting.walls) return std::nullopt;
  std::vector<std::string> ranges;
  bool stated = true;
  Walls walls = *casting.walls;
  for_each_material(walls, [&](const Mould& mould) {
    const MouldRange range = range_of(mould);
    stated = stated && range.stated;
    std::string text = range.halves ? fmt::format("{} half to double", mould.name)
                                    : fmt::format("{} +-{:.3g} %", mould.name, 100.0 * range.share);
    if (std::find(ranges.begin(), ranges.end(), text) == ranges.end()) {
      ranges.push_back(std::move(text));
    }
  });
  if (ranges.empty()) return std::nullopt;
  return UncertainInput{.what = UncertainValue::mould_conductivity,
                        .half_width = 1.0,
                        .range = fmt::format("{}", fmt::join(ranges, ", ")),
                        .from = stated ? "the moulds' files" : assumed,
                        .assumed = !stated};
}

}  // namespace

std::vector<UncertainInput> uncertain_inputs(const Casting& casting, const Kiln& kiln) {
  constexpr const char* glass_file = "the glass's file";
  const Glass& glass = casting.glass;
  const double gap_K = (glass.annealing_point.value - glass.strain_point.value).in_K();
  const auto& strain_point = glass.uncertainty.strain_point;
  const auto& points = glass.annealing_point_uncertainty;
  std::vector<UncertainInput> inputs{
      share_of(UncertainValue::thickness,
               casting.thickness_uncertainty,
               usual_thickness,
               "the casting's file"),
      sensor_of(casting, kiln),
      kelvins(UncertainValue::fixed_points,
              points.value.in_K(),
              points.assumed ? "data sheets and certificates differ so" : glass_file,
              points.assumed),
      kelvins(UncertainValue::strain_point,
              strain_point ? strain_point->in_K()
                           : std::min(usual_strain_point_K, strain_point_of_gap * gap_K),
              strain_point ? glass_file : assumed,
              !strain_point),
      share_of(UncertainValue::conductivity,
               glass.uncertainty.conductivity,
               usual_conductivity,
               glass_file),
      share_of(UncertainValue::heat_capacity,
               glass.uncertainty.heat_capacity,
               usual_heat_capacity,
               glass_file),
      share_of(UncertainValue::expansion, glass.uncertainty.expansion, usual_expansion, glass_file),
      share_of(
          UncertainValue::exchange, kiln.exchange_uncertainty, usual_exchange, "the kiln's file")};
  if (std::optional<UncertainInput> moulds = moulds_of(casting)) {
    inputs.push_back(*std::move(moulds));
  }
  return inputs;
}

Temperature DrawnFiring::true_of(Temperature shown) const {
  return shown + TemperatureDifference::from_K(sensor_off * sensor_tolerance(kiln, shown).in_K());
}

AirCurve DrawnFiring::true_of(AirCurve shown) const {
  for (AirCurve::Corner& corner : shown.corners) {
    corner.T_K = true_of(Temperature::from_K(corner.T_K)).in_K();
  }
  return shown;
}

DrawnFiring drawn(const Casting& casting,
                  const Kiln& kiln,
                  std::span<const UncertainInput> inputs,
                  std::span<const double> off) {
  assert(inputs.size() == off.size());
  DrawnFiring firing{casting, kiln};
  Glass& glass = firing.casting.glass;
  double all_points_K = 0.0, strain_point_K = 0.0;
  for (std::size_t i = 0; i < inputs.size(); ++i) {
    const double part = inputs[i].half_width * off[i];
    const double factor = 1.0 + part;
    switch (inputs[i].what) {
      case UncertainValue::thickness:
        firing.casting.shape = scaled(casting.shape, factor);
        if (casting.reservoir) {
          firing.casting.reservoir = Length::from_m(factor * casting.reservoir->in_m());
        }
        break;
      case UncertainValue::sensor: firing.sensor_off = part; break;
      case UncertainValue::fixed_points: all_points_K = part; break;
      case UncertainValue::strain_point: strain_point_K = part; break;
      case UncertainValue::conductivity:
        glass.conductivity_W_per_m_K.value = glass.conductivity_W_per_m_K.value.times(factor);
        break;
      case UncertainValue::heat_capacity:
        glass.heat_capacity_J_per_kg_K.value = glass.heat_capacity_J_per_kg_K.value.times(factor);
        break;
      case UncertainValue::expansion:
        glass.expansion_per_K.value *= factor;
        glass.liquid_expansion_per_K.value *= factor;
        break;
      case UncertainValue::exchange:
        firing.kiln.film_coefficient_W_per_m2_K *= factor;
        firing.kiln.emissivity *= factor;
        break;
      case UncertainValue::mould_conductivity:
        for_each_material(*firing.casting.walls, [&](Mould& mould) {
          mould = mould.with_conductivity_times(factor_at(range_of(mould), part));
        });
        break;
    }
  }
  glass = with_points_moved(glass,
                            TemperatureDifference::from_K(all_points_K),
                            TemperatureDifference::from_K(strain_point_K));
  return firing;
}

}  // namespace thickset
