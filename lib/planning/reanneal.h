#pragma once

#include "planning/plan_in_settings.h"
#include "planning/rewarm.h"

namespace thickset {

/// A second anneal from cold to cold: the heating, the hold and the tail as one program.
struct Reanneal {
  Rewarm rewarm;
  TailInSetting anneal;
  Firing tail_firing;  ///< what the tail was planned from
  Program whole{};     ///< heating, hold and tail, as keyed
  /// What the whole leaves, simulated from the room on, under each treatment of the bulk.
  struct Leaves {
    Bulk bulk;
    Retardation retardation;
  };
  std::vector<Leaves> leaves{};
  bool within = false;  ///< every limit, by rewarm, tail and the whole
};

/// Plans the heating, then the tail after it in the steps that are left.
///
/// In: existing, the retardation read; hold, where to anneal, else at the annealing point.
/// The hold lasts until what is there has relaxed to the share of the grade that every hold asks
/// for, counted from when the slowest glass has arrived.
/// Throws: Error when the input cannot be simulated or keyed.
Reanneal plan_reanneal(const Casting& casting,
                       const Kiln& kiln,
                       const Controller& controller,
                       const TailRequest& request,
                       Retardation existing,
                       std::optional<Degrees> degrees);

}  // namespace thickset
