#pragma once

#include <string>
#include <string_view>

#include "base/place.h"
#include "units/stress.h"

namespace thickset {

/// A limit and where its value comes from, as reports print it.
template <class Quantity>
struct Limit {
  Quantity value;
  std::string reason;
};

/// A limit of the permanent retardation: nm/cm, or a word.
///
/// [ISO10110-18] calls more than 20 nm/cm a coarse anneal and less than 10 a fine one, and names
/// 5 nm/cm for precision work. As a limit, a word is the most it may be: coarse = 20 nm/cm,
/// fine = 10, precision = 5.
///
/// Throws: Error at `place` for an unknown word, a bare number or one outside 0.5 to 1000 nm/cm.
Limit<Retardation> read_grade(std::string_view text, const Place& place);

/// A limit of the tension at any moment: MPa, or the state of the surface.
///
/// raw = 3 MPa: as cast, or unknown; ground = 4 MPa: ground all over. Both are assumed, no source
/// for cast glass was found. A number goes up to 7 MPa, for flaw-free faces without re-entrant
/// corners: annealed glass carries 6.9 MPa under long load [SHAND58], float glass as produced
/// 7.3 [EN16612]. Corners, inclusions and cold-working marks can double the stress where they are.
///
/// Throws: Error at `place` for an unknown word, a bare number or one outside 0.2 to 7 MPa.
Limit<Stress> read_tension(std::string_view text, const Place& place);

/// What a tail must keep. A reason goes with its value: who sets one sets the other.
struct Limits {
  Retardation grade = Retardation::from_nm_per_cm(20.0);  ///< permanent, edge-on, at the centre
  Stress tension = Stress::from_MPa(3.0);                 ///< anywhere, at any moment
  std::string grade_reason = "coarse: above it an anneal is coarse, ISO 10110-18; default";
  std::string tension_reason = "raw or unknown cast surface, assumed; default";
};

/// The same with one limit that many times as high.
inline Limits with_grade_times(Limits limits, double factor) {
  limits.grade = Retardation::from_nm_per_cm(factor * limits.grade.in_nm_per_cm());
  return limits;
}
inline Limits with_tension_times(Limits limits, double factor) {
  limits.tension = Stress::from_MPa(factor * limits.tension.in_MPa());
  return limits;
}

}  // namespace thickset
