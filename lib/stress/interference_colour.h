#pragma once

#include "stress/spread.h"

#include <optional>
#include <span>
#include <string_view>

/// Colours of white light between crossed polarisers.
namespace thickset::stress {

/// A colour and the retardations it is seen at, in one of the orders it comes back in.
struct InterferenceColour {
  std::string_view name;
  int order;  ///< 1 from the dark to the first violet; each later one ends with a violet
  double low_m;
  double high_m;
};

/// Colours by rising retardation. Above the last pink and green follow each other, ever paler.
///
/// Error:  each range holds what is computed for daylight and lamplight and 20 nm more on each
///         side, and the stations that charts of interference colours name (from memory). Eyes,
///         lamps and names differ; the ranges overlap for that reason.
/// Source: computed, not published: sin^2(pi retardation / wavelength) [BW99] over the spectra of
///         black bodies of 6500 and 2900 K, seen with the eyes of [WSS13], named by hue in CIELAB;
///         tests/stress/interference_colour_test.cpp computes it anew.
std::span<const InterferenceColour> interference_colours();

/// The colour of that name and order; nullptr where there is none.
const InterferenceColour* find_colour(std::string_view name, int order);

/// In how many orders a colour of that name is listed, and the first of them; 0: unknown.
struct ColourOrders {
  int count;
  int first;
};
ColourOrders orders_of(std::string_view name);

/// Retardation of a spot of that colour. With a tint plate, whose retardation adds to the glass's
/// or is taken off it, the difference from the plate's, which may be uncertain by 10 nm.
///
/// Out: the middle of the range, and its ends.
Spread retardation_of_colour_m(const InterferenceColour& colour,
                               std::optional<double> tint_plate_m);

}  // namespace thickset::stress
