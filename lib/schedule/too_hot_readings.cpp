#include "schedule/too_hot_readings.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/error.h"
#include "schedule/fault_text.h"
#include "schedule/log_numbers.h"

namespace thickset {
namespace {

bool too_hot(double T_K) {
  return Temperature::from_K(T_K).in_C() > hottest_reading_C;
}

bool is_a_kilns_in_F(double T_K) {
  return Temperature::from_F(Temperature::from_K(T_K).in_C()).in_C() <= hottest_reading_C;
}

/// Whether two neighbouring readings may both be a kiln's: no code stands so near one.
bool goes_on(double a_K, double b_K, double step_s) {
  constexpr double near_K = 25.0;
  constexpr double fastest_K_per_h = 1500.0;
  return std::abs(a_K - b_K) <= std::max(near_K, fastest_K_per_h / hour_s * step_s);
}

}  // namespace

void refuse_fahrenheit_as_celsius(const SensorReadings& sensor,
                                  std::span<const double> as_written_K,
                                  std::span<const double> time_s,
                                  std::span<const int> line,
                                  const std::string& source_name) {
  if (sensor.degrees != Degrees::celsius) return;
  const std::size_t none = as_written_K.size();
  std::size_t before = none;     // the last row with a reading and a time
  std::size_t first_hot = none;  // of a run of such readings that ends at `before`
  std::size_t found = none;
  for (std::size_t i = 0; i < none && found == none; ++i) {
    if (std::isnan(as_written_K[i]) || std::isnan(time_s[i])) continue;
    const bool joins = before == none ||
                       goes_on(as_written_K[before], as_written_K[i], time_s[i] - time_s[before]);
    const bool hot = too_hot(as_written_K[i]) && is_a_kilns_in_F(as_written_K[i]);
    if (!hot) {
      if (first_hot != none && joins) found = first_hot;
      first_hot = none;
    } else if (!joins) {
      first_hot = none;  // a jump, as to a code
    } else if (before == none || first_hot != none || !too_hot(as_written_K[before])) {
      if (first_hot == none) first_hot = i;
    }
    before = i;
  }
  if (found == none) return;
  throw Error{Place{source_name, line[found]},
              fmt::format("{} reads {:g}, hotter than a kiln in °C (up to {:g}), and goes on from "
                          "there as if in °F",
                          sensor.name,
                          std::round(10.0 * Temperature::from_K(as_written_K[found]).in_C()) / 10.0,
                          hottest_reading_C),
              fmt::format("is it °F? write {}_F in the header; else leave the field empty",
                          sensor.name.substr(0, sensor.name.size() - 2))};
}

}  // namespace thickset
