#pragma once

#include "checking/check.h"

#include <functional>
#include <optional>
#include <span>
#include <string>
#include <vector>

/// What a check of a program and that of a log share: a run, its limits, and what would mend it.
namespace thickset {

/// The rate of one step at which `value` would be within `limit`, everything else unchanged.
using PassingRate =
    std::function<std::optional<Rate>(int step,
                                      const std::function<double(const Measured&)>& value,
                                      double limit)>;

/// How a run's steps are named in sentences: "step 2", "09:40 to 11:05".
using StepName = std::function<std::string(int step)>;

/// Where a run leaves too much or pulls too hard, and where only some treatments of the bulk agree.
///
/// In: treatments, the glass's own first. steps, how many can be slowed; those from there on are
///     what comes after the run. passing_rate, empty: what would mend it is not looked for.
std::vector<Finding> limit_findings(const Measured& measured,
                                    std::span<const CheckResult::OfTreatment> treatments,
                                    const Limits& limits,
                                    int steps,
                                    const StepName& name,
                                    const PassingRate& passing_rate);

/// What is nearest its limit in a step.
struct NearestLimit {
  double share = 0.0;  ///< value over limit
  const char* of = "";
};
NearestLimit nearest_limit(const Measured::OfStep& step, const Limits& limits);

/// A run of the glass's own treatment, or of another, for a check's result.
CheckResult::OfTreatment of_treatment(Bulk bulk, const Measured& measured);

/// Takes over from another run of the same course what is larger there.
void take_larger(Measured& measured, const Measured& other);

/// Marks the steps that findings are about, and gives them the slowest passing rate.
void mark_steps(CheckResult& result);

/// Worst first; and what they amount to.
void sort_findings(std::vector<Finding>& findings);
Verdict verdict_of(std::span<const Finding> findings);

}  // namespace thickset
