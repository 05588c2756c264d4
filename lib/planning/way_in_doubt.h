#pragma once

#include "checking/present.h"
#include "planning/judge_way.h"

#include <optional>
#include <vector>

/// What is answered of a way on for every case of what is known of the firing so far.
namespace thickset {

/// A course from now on, judged in each case of the doubt; the first is the likeliest.
std::vector<Judged> judged_in_doubt(const KilnCourse& course,
                                    const FiringSoFar& so_far,
                                    const WaysRequest& request,
                                    const InDoubt& doubt);

/// How long after now the elements may go off for good, in whole minutes: from there on the kiln's
/// own fall keeps the limits in every case, or where the way itself is over in one, makes it no
/// worse. nullopt: not before its end.
///
/// Bisection: taken as one moment, before which it is too early.
std::optional<Duration> elements_off_after(const WayOn& way,
                                           const FiringSoFar& so_far,
                                           const WaysRequest& request,
                                           const InDoubt& doubt);

}  // namespace thickset
