#pragma once

#include <algorithm>
#include <cmath>
#include <vector>

#include "schedule/log_faults.h"

namespace thickset {

/// Readings at even times, in the degrees of their header.
struct FaultyReadings {
  SensorReadings sensor;
  std::vector<double> time_s;
  std::vector<int> line;
  LogRemarks remarks;

  FaultyReadings(const std::vector<double>& values,
                 double interval_s,
                 Degrees degrees = Degrees::celsius) {
    sensor.name = degrees == Degrees::celsius ? "air_C" : "air_F";
    sensor.degrees = degrees;
    for (std::size_t i = 0; i < values.size(); ++i) {
      sensor.T_K.push_back(from_degrees(values[i], degrees).in_K());
      time_s.push_back(interval_s * static_cast<double>(i));
      line.push_back(static_cast<int>(i) + 2);
    }
  }
  double at(std::size_t i) const {
    return in_degrees(Temperature::from_K(sensor.T_K[i]), sensor.degrees);
  }
  std::size_t left_out() const {
    return static_cast<std::size_t>(std::count_if(
        sensor.T_K.begin(), sensor.T_K.end(), [](double T_K) { return std::isnan(T_K); }));
  }
};

}  // namespace thickset
