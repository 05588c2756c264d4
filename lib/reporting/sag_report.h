#pragma once

#include "glass/sag_test.h"
#include "reporting/display.h"

#include <optional>
#include <string>
#include <vector>

namespace thickset {

/// A sag test with what follows from it; one of the two estimates at least.
struct SagContext {
  SagTest test;
  std::optional<SagStrip> strip;
  TemperatureDifference sensor_error;
  std::vector<std::string> assumed;
  std::optional<AnnealingEstimate> by_rule;
  std::optional<SagByBeam> by_beam;
  /// Where the strip was not given: of the thickest one that is usual.
  std::optional<SagByBeam> by_thickest_beam;
  Display display;
};

/// A size that is assumed, in whole mm: "3 mm", "0.12 in".
std::string shown_size(Length size, const Display& display);

/// The estimate that counts: by the beam where the strip was given; else by the rule, down to what
/// the thickest usual strip gives. Ends in whole degrees outwards.
AnnealingEstimate estimate_of(const SagContext& context);

/// First the range, then how it was found, then lines for a .glass file. At most 80 columns.
std::string sag_text(const SagContext& context);
std::string sag_csv(const SagContext& context);
std::string sag_keys(const SagContext& context);

}  // namespace thickset
