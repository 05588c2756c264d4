#include "checking/in_pieces.h"

#include <algorithm>

namespace thickset {
namespace {

constexpr double melted_within_K = 5.0;

}  // namespace

double in_pieces_until_s(const AirCurve& air, const Glass& glass) {
  double hottest_K = air.corners.front().T_K;
  for (const AirCurve::Corner& corner : air.corners) hottest_K = std::max(hottest_K, corner.T_K);
  if (hottest_K <= (glass.annealing_point.value + melts_above_annealing).in_K()) return 0.0;
  double until_s = 0.0;
  for (const AirCurve::Corner& corner : air.corners) {
    if (corner.T_K >= hottest_K - melted_within_K) until_s = corner.time_s;
  }
  return until_s;
}

}  // namespace thickset
