#include "sampling/uncertain_value.h"

#include <algorithm>
#include <iterator>

namespace thickset {
namespace {

struct About {
  UncertainValue value;
  const char *name, *key, *measurement, *stated_in;
};
constexpr About abouts[] = {
    {UncertainValue::thickness,
     "thickness",
     "thickness",
     "measure the thickest place with calipers, on the piece or its pattern",
     "thickness_uncertainty in a .casting file"},
    {UncertainValue::sensor,
     "kiln's sensor",
     "sensor",
     "compare the kiln's sensor with a calibrated one, in its place and at the hold",
     "sensor_uncertainty in a .kiln file"},
    {UncertainValue::fixed_points,
     "annealing and strain point together",
     "fixed_points",
     "have the annealing point measured, or bend a strip of the glass (`thickset sag`)",
     "annealing_point_uncertainty in a .glass file"},
    {UncertainValue::strain_point,
     "strain point against annealing point",
     "strain_point",
     "have annealing and strain point measured on one sample: how far apart they are",
     "strain_point_uncertainty in a .glass file"},
    {UncertainValue::conductivity,
     "conductivity of the glass",
     "conductivity",
     "have the conductivity of the glass measured between 400 and 550 °C (752 and 1022 °F)",
     "conductivity_uncertainty in a .glass file"},
    {UncertainValue::heat_capacity,
     "heat capacity of the glass",
     "heat_capacity",
     "have the heat capacity of the glass measured up to 550 °C (1022 °F)",
     "heat_capacity_uncertainty in a .glass file"},
    {UncertainValue::expansion,
     "expansion of the glass",
     "expansion",
     "have the expansion of the glass measured",
     "expansion_uncertainty in a .glass file"},
    {UncertainValue::exchange,
     "exchange with the kiln",
     "exchange",
     "log a second sensor on the glass or the mould's outside during a slow fall",
     "exchange_uncertainty in a .kiln file"},
    {UncertainValue::mould_conductivity,
     "conductivity of the mould",
     "mould_conductivity",
     "weigh and dry a sample of the mould and have its conductivity measured, or log a sensor on "
     "either side of it",
     "conductivity_uncertainty in a .mould file"},
};

constexpr UncertainValue in_order[] = {UncertainValue::thickness,
                                       UncertainValue::sensor,
                                       UncertainValue::fixed_points,
                                       UncertainValue::strain_point,
                                       UncertainValue::conductivity,
                                       UncertainValue::heat_capacity,
                                       UncertainValue::expansion,
                                       UncertainValue::exchange,
                                       UncertainValue::mould_conductivity};

const About& about(UncertainValue value) {
  return *std::find_if(
      std::begin(abouts), std::end(abouts), [&](const About& one) { return one.value == value; });
}

}  // namespace

const char* name_of(UncertainValue value) {
  return about(value).name;
}
const char* key_of(UncertainValue value) {
  return about(value).key;
}
const char* measurement_of(UncertainValue value) {
  return about(value).measurement;
}
const char* stated_in(UncertainValue value) {
  return about(value).stated_in;
}
std::span<const UncertainValue> all_uncertain_values() {
  return in_order;
}

}  // namespace thickset
