#include "kiln/air_parts.h"

namespace thickset {

AirCurve cut_at(const AirCurve& air, double time_s) {
  AirCurve cut;
  for (const AirCurve::Corner& corner : air.corners) {
    if (corner.time_s >= time_s) {
      if (!cut.corners.empty() && cut.corners.back().time_s < time_s) {
        cut.corners.push_back({time_s, air.at_K(time_s), corner.step});
      }
      break;
    }
    cut.corners.push_back(corner);
  }
  if (cut.corners.empty()) cut.corners.push_back({0.0, air.at_K(0.0), -1});
  if (cut.end_s() < time_s) {
    cut.corners.push_back({time_s, air.at_K(time_s), air.corners.back().step});
  }
  return cut;
}

void add_own_fall(AirCurve& air, Temperature to, double taking_s, const Kiln& kiln) {
  const Temperature from = Temperature::from_K(air.corners.back().T_K);
  const Program fall{.start = from, .steps = {{.target = to, .pace = AsFastAsPossible{}}}};
  const AirCurve own = follow(fall, kiln, Controller::LateOnCooling::waits, from).air;
  const double begin_s = air.end_s();
  const int step = air.corners.back().step;
  if (own.corners.size() < 2 || own.end_s() <= 0.0) {
    air.corners.push_back({begin_s + taking_s, to.in_K(), step});
    return;
  }
  const double stretched = taking_s / own.end_s();
  for (std::size_t i = 1; i < own.corners.size(); ++i) {
    air.corners.push_back({begin_s + stretched * own.corners[i].time_s, own.corners[i].T_K, step});
  }
  air.corners.back().T_K = to.in_K();
}

}  // namespace thickset
