#pragma once

#include "stress/spread.h"

/// From what a polariscope shows to retardation: the path one ray lags behind the other, in metres.
namespace thickset::stress {

/// Retardation of an analyser turned until the spot is darkest, and of the whole bands between the
/// spot and glass that shows no light.
///
/// In:     turn_rad in 0..pi, error_rad its uncertainty; whole_bands >= 0.
/// Out:    wavelength (bands + turn / pi).
/// Source: [ASTM-F218]; [ASTM-C148], method B.
Spread retardation_of_turn_m(double turn_rad,
                             double error_rad,
                             double wavelength_m,
                             int whole_bands);

/// What one reference disc of [ASTM-C148], method A, retards.
inline constexpr double disc_m = 22.8e-9;

/// Retardation of a spot that looks like so many reference discs on each other.
/// Source: [ASTM-C148], method A.
Spread retardation_of_discs_m(double discs, double error_discs);

/// Apparent temper number: how many reference discs show at least as much light.
///
/// Out:    1 and up; the published table ends at 10.
/// Error:  the table of method B gives its ends as analyser turns to 0.1 degrees, that is to
///         0.0055 discs; so much more still counts as the lower number.
/// Source: [ASTM-C148], methods A and B.
int apparent_temper_number(double retardation_m);

/// Real temper number: the apparent one of glass of another thickness, T_A (4.06 mm / t).
///
/// In:     thickness_m > 0, of the glass that the light passes.
/// Source: [ASTM-C148].
double real_temper_number(int apparent, double thickness_m);

}  // namespace thickset::stress
