#pragma once

#include "checking/firing_so_far.h"
#include "checking/opening.h"

#include <functional>
#include <optional>
#include <span>
#include <vector>

namespace thickset {

/// A computed value and how far what is known puts it: the sensor off by its tolerance either way,
/// heat spreading through the glass a tenth slower or faster.
struct Doubtful {
  double value, lowest, highest;
};

/// The glass at this moment.
struct Present {
  Doubtful slowest_K, surface_K, mean_K;
  double surface_Pa, centre_Pa, tension_Pa;  ///< now
  double pulled_Pa, pulled_at_s;             ///< most on the way here, and when
  TemperatureDifference sensor_tolerance = TemperatureDifference::from_K(0.0);
};

/// A course as it was, and as it may have been: a casting, so far and course for each way to be
/// wrong; the first is the likeliest.
class InDoubt {
 public:
  InDoubt(const Casting& casting, const FiringSoFar& so_far, const Kiln& kiln);

  struct Case {
    Casting casting;
    TemperatureDifference hotter;
  };
  const std::vector<Case>& cases() const { return cases_; }

  /// A course as it was in that case.
  static KilnCourse as_in(const Case& one, KilnCourse course);

  /// Each case's history of one course. Throws: Error when it cannot be simulated.
  std::vector<History> histories(const FiringSoFar& so_far,
                                 const KilnCourse& course,
                                 const Kiln& kiln) const;

 private:
  std::vector<Case> cases_;
};

/// In: histories of a course that begins with the firing so far; counts_from_s: tension before it
/// does not count.
Present present(const FiringSoFar& so_far,
                const Kiln& kiln,
                std::span<const History> histories,
                double counts_from_s);

/// How long from now until the slowest glass is this cool or cooler for good, by the latest of the
/// histories; nullopt: not in one of them, or later than `within`.
std::optional<Duration> until_slowest_at(Temperature cool,
                                         const FiringSoFar& so_far,
                                         std::span<const History> histories,
                                         Duration within);

/// Tension at the surface if the kiln were opened now: what its present unevenness pulls, and what
/// opening adds to glass even at its mean. An upper bound: the first fades while the second grows.
double pull_if_opened_Pa(const Casting& casting,
                         const Present& now,
                         Temperature room,
                         const OpenedInto& into);

}  // namespace thickset
