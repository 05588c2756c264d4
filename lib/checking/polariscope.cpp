#include "checking/polariscope.h"

#include <algorithm>
#include <cassert>

namespace thickset {
namespace {

constexpr double fine_nm_per_cm = 10.0;
constexpr double coarse_nm_per_cm = 20.0;

Anneal anneal_of(const stress::Spread& nm_per_cm) {
  if (nm_per_cm.high < fine_nm_per_cm) return Anneal::fine;
  if (nm_per_cm.low > coarse_nm_per_cm) return Anneal::coarse;
  if (nm_per_cm.low >= fine_nm_per_cm && nm_per_cm.high <= coarse_nm_per_cm) return Anneal::between;
  return Anneal::undecided;
}

Objection against(const stress::Spread& seen, double limit) {
  if (seen.low > limit) return Objection::raised;
  return seen.high > limit ? Objection::too_close : Objection::none_found;
}

std::vector<std::string> what_spoils(const PolariscopeReading& reading) {
  std::vector<std::string> why;
  if (reading.looks == Looks::opal) {
    why.emplace_back(
        "Opal glass scatters the light: no reading through it. Read a piece of clear glass that "
        "went through the same firing; it speaks for the firing, not for this piece.");
  }
  if (reading.looks == Looks::coloured) {
    why.emplace_back(
        "Coloured glass changes what is seen: no reading through it. Read a piece of clear glass "
        "that went through the same firing; it speaks for the firing, not for this piece.");
  }
  if (reading.warm) {
    why.emplace_back(
        "Warmth from a hand, a lamp or the kiln shows light that goes away. Let the piece lie "
        "until "
        "it is as cool as the room all through, hours for a thick one, and read again.");
  }
  if (reading.view == View::face) {
    why.emplace_back(
        "A slab seen through its face shows nothing, however stressed it is: the stress is the "
        "same "
        "in all directions there. Look along the faces, through a polished edge. What light "
        "there is through a face comes from edges, corners or mismatch.");
  }
  return why;
}

}  // namespace

ReadingResult judge(const PolariscopeReading& reading, const Limits& limits) {
  assert(reading.path_m.low > 0.0 && reading.stress_optical_per_Pa.low > 0.0);
  constexpr double nm_per_cm = 1e-7;  // metres per metre
  const stress::Spread per_path = stress::over(reading.retardation_m, reading.path_m);
  ReadingResult result{.nm_per_cm = {per_path.low / nm_per_cm,
                                     per_path.value / nm_per_cm,
                                     per_path.high / nm_per_cm},
                       .stress_Pa = stress::over(per_path, reading.stress_optical_per_Pa),
                       .anneal = Anneal::undecided,
                       .why_nothing_follows = what_spoils(reading),
                       .uses = {},
                       .left_for_heating_Pa = {0.0, 0.0, 0.0}};
  const double tension_Pa = limits.tension.in_Pa();
  const auto left_Pa = [&](double stress_Pa) { return std::max(0.0, tension_Pa - stress_Pa); };
  result.left_for_heating_Pa = {left_Pa(result.stress_Pa.high),
                                left_Pa(result.stress_Pa.value),
                                left_Pa(result.stress_Pa.low)};
  result.anneal = anneal_of(result.nm_per_cm);
  const Objection by_tension = against(result.stress_Pa, tension_Pa);
  const Objection by_grade = against(result.nm_per_cm, limits.grade.in_nm_per_cm());
  const bool mismatch = reading.hugs == Hugs::boundary;
  result.uses = {{Use::display, by_tension},
                 {Use::cutting, by_grade},
                 {Use::re_annealing, mismatch ? Objection::raised : by_tension}};
  if (!result.why_nothing_follows.empty()) result.anneal = Anneal::undecided;
  for (UseJudged& judged : result.uses) {
    const bool named = mismatch && judged.use == Use::re_annealing;  // at any size
    const bool beside_it = mismatch && judged.objection != Objection::raised;
    if (named) continue;
    if (beside_it || !result.why_nothing_follows.empty()) judged.objection = Objection::cannot_tell;
  }
  return result;
}

}  // namespace thickset
