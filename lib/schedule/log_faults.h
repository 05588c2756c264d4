#pragma once

#include "schedule/firing_log.h"

#include <span>
#include <string>
#include <vector>

/// What sensors and loggers do wrong, found in readings and mended by one rule each. A reading that
/// is left out becomes NaN; the rule of each is in notes/data_formats.md#logs.
namespace thickset {

/// The readings of one sensor against time.
struct SensorReadings {
  std::string name;
  Degrees degrees = Degrees::celsius;
  std::vector<double> T_K;  ///< one a row; NaN where there is none
};

inline constexpr double coldest_reading_C = -30.0;  ///< below it no kiln stands
inline constexpr double hottest_reading_C = 1400.0;

/// Numbers that stand for no reading: outside what a kiln has, and 0 or -1 far from the readings
/// beside it.
void leave_out_codes(SensorReadings& sensor, std::span<const int> line, LogRemarks& remarks);

/// A run of readings in the other degrees: turned into the header's where the jump at its ends
/// goes away by that.
void turn_other_degrees(SensorReadings& sensor,
                        std::span<const double> time_s,
                        std::span<const int> line,
                        LogRemarks& remarks);

/// Up to three readings, or half a minute, that leave their neighbours by over 15 K at over 600 K/h
/// and come back: left out.
void leave_out_spikes(SensorReadings& sensor,
                      std::span<const double> time_s,
                      std::span<const int> line,
                      LogRemarks& remarks);

/// Another sensor that stays above or below the one in use where that is level, by more than two
/// standard sensors may differ.
void compare_sensors(const SensorReadings& used,
                     const SensorReadings& other,
                     std::span<const double> time_s,
                     LogRemarks& remarks);

/// Long times without a reading; nothing is left out. Returns the longest, 0 where there is none.
double remark_gaps(std::span<const double> time_s,
                   std::span<const double> T_K,
                   std::span<const int> line,
                   Degrees shown,
                   LogRemarks& remarks);

}  // namespace thickset
