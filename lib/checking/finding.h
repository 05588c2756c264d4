#pragma once

#include "units/rate.h"

#include <optional>
#include <string>

namespace thickset {

/// One thing a check found.
struct Finding {
  enum class Kind {
    retardation,         ///< too fast while stress is being set
    tension,             ///< too fast for the temporary tension
    other_treatment,     ///< within the limits, but not under every treatment of the bulk
    hold_too_short,      ///< the glass is not even, or not relaxed, when the hold ends
    hold_too_cool,       ///< the hold is too near the strain point for its sensor
    hold_too_hot,        ///< a hold far above the annealing point: the piece may sag
    no_cooling_to_room,  ///< the program ends with the glass too hot to open
    kiln_cannot_follow,
    cannot_be_keyed,   ///< a step this controller cannot be told
    controller_limit,  ///< a step that it changes
    notation_slip,     ///< a number that looks right when read another way only
    stage_ends_early,  ///< by the kiln's temperature, while stress still sets in the core
    heats,             ///< a step of a cool-down that heats
    in_pieces,         ///< tension on the way up is not counted: a whole piece is another matter
    outside_model,     ///< beyond what the models were made for
    log_ends_warm,     ///< what comes after a log is assumed
  };
  Kind kind;
  bool over = false;   ///< a limit is exceeded; else a note
  int step = -1;       ///< index in the program, -1: none in particular
  double value = 0.0;  ///< in the unit of the kind: nm/cm, MPa, minutes, K
  double limit = 0.0;
  std::string text{};                  ///< what, where and what mends it, one sentence or two
  std::optional<Rate> passing_rate{};  ///< of `step`, everything else unchanged
  std::string to_key{};                ///< a step that is missing: "key a step more to ..."

  /// Whether it belongs beside the verdict; else it is a note.
  bool said_first() const {
    return over || kind == Kind::other_treatment || kind == Kind::cannot_be_keyed ||
           kind == Kind::in_pieces;
  }
};

}  // namespace thickset
