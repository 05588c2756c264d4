#pragma once

#include "stress/interference_colour.h"

/// What white light between crossed polarisers looks like on a screen.
namespace thickset::stress {

/// A colour of a screen, each part in 0..1, sRGB encoded.
struct ScreenColour {
  double red, green, blue;
};

/// The colour of glass of this retardation at 45 degrees to crossed polarisers, daylight behind;
/// the lamp alone is white.
///
/// In:     retardation_m >= 0.
/// Error:  screens, papers, eyes and lamps differ, and a screen cannot show the most vivid colours:
///         those are cut to what it can. Strong colours are where it errs most. The dispersion of
///         the stress-optical coefficient is left out.
/// Source: sin^2(pi retardation / wavelength) [BW99] over the spectrum of a black body of 6500 K,
///         seen with the eyes of [WSS13]; [IEC61966] for the screen.
ScreenColour colour_on_screen(double retardation_m);

/// The listed colour whose range a retardation lies deepest in; past the last of them the last.
const InterferenceColour& colour_at(double retardation_m);

}  // namespace thickset::stress
