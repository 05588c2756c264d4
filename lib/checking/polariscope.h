#pragma once

#include "checking/limits.h"
#include "stress/spread.h"

#include <string>
#include <vector>

/// What a reading of the polariscope objects to. It never says that a piece is sound.
namespace thickset {

/// Where the light goes through: along the faces of a slab, or through them.
enum class View { edge, face };

/// What the glass lets through.
enum class Looks { clear, coloured, opal };

/// What the light follows: the whole piece, or the boundary of two glasses.
enum class Hugs { nothing, boundary };

/// One reading, in numbers, and what may spoil it.
struct PolariscopeReading {
  stress::Spread retardation_m;
  stress::Spread path_m;
  stress::Spread stress_optical_per_Pa;
  View view = View::edge;
  Looks looks = Looks::clear;
  Hugs hugs = Hugs::nothing;
  bool warm = false;
};

/// What a glass that is spoken of by [ISO10110-18] is called.
enum class Anneal { fine, between, coarse, undecided };

/// What is to be done with the piece next.
enum class Use { display, cutting, re_annealing };

/// Whether a reading raises an objection. `too_close`: the limit lies between the reading's ends.
enum class Objection { none_found, too_close, raised, cannot_tell };

/// One use judged: against a retardation per path or a stress, whichever counts for it.
struct UseJudged {
  Use use;
  Objection objection;
};

/// What follows from a reading.
struct ReadingResult {
  stress::Spread nm_per_cm;
  stress::Spread stress_Pa;  ///< without its sign, which no reading shows
  Anneal anneal = Anneal::undecided;
  /// Not empty where nothing can be concluded.
  std::vector<std::string> why_nothing_follows;
  std::vector<UseJudged> uses;
  stress::Spread left_for_heating_Pa;  ///< of the limit of tension, none below zero
};

/// Judges a reading.
///
/// Limits: cutting is held to the grade, display to the tension, re-annealing to the tension too:
///         what is in the glass already is taken off what heating may add. Light that hugs a
///         boundary is an objection to re-annealing, which cannot cure it; of the stress right
///         beside the boundary a reading tells only that it is more.
/// Source: [ISO10110-18] for the grades and retardation = C stress path. That a slab shows nothing
///         through its faces: its stress is the same in all directions in their plane, and light
///         sees the difference of two; notes/stress.md#reading.
ReadingResult judge(const PolariscopeReading& reading, const Limits& limits);

}  // namespace thickset
