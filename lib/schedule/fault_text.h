#pragma once

#include "schedule/log_faults.h"

#include <cmath>
#include <span>
#include <string>
#include <vector>

#include <fmt/format.h>

/// What the searches for faults in a log share: the rows to look at, and how their remarks read.
namespace thickset {

/// "line 12" or "lines 12 to 19".
inline std::string lines_text(int first, int last) {
  return first == last ? fmt::format("line {}", first) : fmt::format("lines {} to {}", first, last);
}

inline std::string readings_text(std::size_t count) {
  return count == 1 ? std::string{"one reading"} : fmt::format("{} readings", count);
}

/// The rows that hold a reading.
inline std::vector<std::size_t> present(std::span<const double> T_K) {
  std::vector<std::size_t> rows;
  rows.reserve(T_K.size());
  for (std::size_t i = 0; i < T_K.size(); ++i) {
    if (!std::isnan(T_K[i])) rows.push_back(i);
  }
  return rows;
}

inline std::string shown(const SensorReadings& sensor, double T_K) {
  return fmt::format("{:g} °{}",
                     std::round(in_degrees(Temperature::from_K(T_K), sensor.degrees) * 10.0) / 10.0,
                     letter(sensor.degrees));
}

}  // namespace thickset
