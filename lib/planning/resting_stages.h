#pragma once

#include <vector>

#include "planning/fastest_stages.h"
#include "planning/settle.h"
#include "planning/tail_setup.h"

namespace thickset {

/// What is looked for: the quickest cool-downs, or whether there is any.
enum class Enough { quickest, any };

/// Where the slowest rate that can be keyed leaves too much: cool-downs at that rate with one, two,
/// three rests on the way, as far as one more gains something; with one, also in one stage fewer.
///
/// In:  found, the quickest stages at any rate, fewest first; cool_down, from the end of `hold`.
/// Out: the most stages first; empty where none keeps the limits. With Enough::any: the first that
///      is found, alone.
std::vector<SettledStages> settle_with_rests(const TailSetup& setup,
                                             const Hold& hold,
                                             const CoolDown& cool_down,
                                             const std::vector<FoundStages>& found,
                                             Enough enough);

}  // namespace thickset
