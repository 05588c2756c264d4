#pragma once

#include "checking/measure.h"
#include "schedule/firing_log.h"
#include "schedule/reduce_log.h"

#include <optional>
#include <string>
#include <vector>

namespace thickset {

/// A stretch of a log over which the kiln went nearly straight.
struct LogStretch {
  double start_s, end_s;  ///< since the first reading
  Temperature from, to;
  Rate rate;  ///< positive; whether it fell follows from `to`
  bool falls() const { return to < from; }
};

/// What the kiln did by a log, and what it is taken to do after it.
struct LogCourse {
  KilnCourse course;  ///< a step for each stretch; what comes after the log is index `steps`
  std::vector<LogStretch> stretches;
  double end_s = 0.0;        ///< of the log
  Temperature last;          ///< reading
  bool melted = false;       ///< so hot that the piece took its shape in it
  bool begins_cold = false;  ///< below the strain point: its structure is taken as annealed
  Temperature hottest;       ///< reading
  std::size_t corners = 0;   ///< of the log's line
};

/// The course that a log's line gives, stretches straight within 5 K, at most 24 of them. After the
/// last reading the kiln falls to the room by itself. Tension on the way up to where the glass
/// melted does not count: it was in pieces.
LogCourse course_of(const Polyline& line,
                    const Casting& casting,
                    const Kiln& kiln,
                    const Firing& firing);

/// A line of fewer corners within tolerance_K of this one, twice that just before a stretch's end;
/// stretches end where they did.
Polyline coarser(const Polyline& line, const LogCourse& course, double tolerance_K);

/// The same firing with one stretch at another rate, all after it later or earlier by that.
LogCourse with_rate(const Polyline& line,
                    const LogCourse& as_run,
                    std::size_t stretch,
                    Rate rate,
                    const Casting& casting,
                    const Kiln& kiln,
                    const Firing& firing);

/// Whether a log without a hold would have one near the annealing point if its readings were in the
/// other degrees than its header says: 513 read as F.
bool holds_in_other_degrees(const Polyline& line, Degrees said, const Glass& glass);

/// How glass that begins below its strain point is simulated.
stress::RelaxationSettings relaxation_settings(const LogCourse& course, const Glass& glass);

}  // namespace thickset
