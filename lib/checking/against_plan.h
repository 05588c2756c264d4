#pragma once

#include "checking/check_log.h"

namespace thickset {

/// Puts a log's course beside a plan that was checked.
AgainstPlan against_plan(const CheckResult& planned,
                         const LogCourse& run,
                         const Polyline& line,
                         const Glass& glass);

}  // namespace thickset
