#pragma once

#include "schedule/firing_log.h"
#include "schedule/log_faults.h"

#include <span>

namespace thickset {

/// The same reading again and again that ends in a jump, or that goes on for longer than this
/// sensor's own unrest allows: left out but for the first.
void leave_out_frozen(SensorReadings& sensor,
                      std::span<const double> time_s,
                      std::span<const int> line,
                      LogRemarks& remarks);

}  // namespace thickset
