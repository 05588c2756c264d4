#pragma once

#include "schedule/program.h"
#include "units/duration.h"
#include "units/rate.h"

#include <optional>
#include <string>
#include <vector>

/// The ways a number of a program may have been meant.
namespace thickset {

/// One of them: what it was taken for, and what to key instead.
struct AnotherReading {
  enum class As { hours, hours_and_minutes, rate, minutes };
  As as;
  std::string meant;   ///< "20 h", "540 C/h", "5 h 30 min"
  Duration time{0.0};  ///< of the ramp or hold, as meant
  std::string key;     ///< "1200 min", "7.6 C/h"
};

/// Of minutes too short: hours, hours and minutes written h.mm.
std::vector<AnotherReading> readings_of_short_time(Duration keyed);

/// Of minutes too long: the minutes were multiplied by 60 once too often.
AnotherReading reading_of_long_time(Duration keyed);

/// Of minutes whose digits are a round time as h:mm, and none as minutes: 400 for 4:00, 130 for
/// 1:30. nullopt for other digits.
std::optional<AnotherReading> reading_as_clock(Duration keyed);

/// Of a ramp too fast, over distance_K: in time notation hours or a rate instead of minutes; in
/// rate notation minutes instead of a rate. None of the kiln's own pace.
std::vector<AnotherReading> readings_of_fast_ramp(const Step& step,
                                                  double distance_K,
                                                  Degrees degrees);

/// Of a ramp too slow: minutes once too often multiplied by 60; in rate notation as above.
std::vector<AnotherReading> readings_of_slow_ramp(const Step& step,
                                                  double distance_K,
                                                  Degrees degrees);

/// "4 h", "1 h 30 min", "45 min", "4.5 min".
std::string in_words(Duration time);

/// "the glass is even only about 1 h 12 min after the kiln is there".
std::string even_after(Duration needed);

/// A rate to key: rounded to what its size deserves, never faster; "7.6 C/h".
std::string rate_to_key(Rate rate, Degrees degrees);

}  // namespace thickset
