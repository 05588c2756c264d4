#pragma once

#include "units/length.h"
#include "units/rate.h"
#include "units/temperature.h"

#include <optional>

namespace thickset {

/// A strip laid on two posts and heated at one rate until its middle, sagging, touches something.
struct SagTest {
  Temperature touch;  ///< at that moment
  Length span;        ///< between the posts
  Rate heating;
};

/// The strip itself. Its width does not count: weight and stiffness both go with it.
struct SagStrip {
  Length thickness;
  Length drop;  ///< how far the middle had to sink
};

struct AnnealingEstimate {
  Temperature low, middle, high;
};

/// The teachers' rule: touch-down less 40 C is about the annealing point; 15 C either way is ours.
/// For a span of 275 mm heated at 50 C/h; common practice, unproved. nullopt where span or heating
/// are farther from those than a tenth and a fifth.
std::optional<AnnealingEstimate> annealing_by_rule(const SagTest& test,
                                                   TemperatureDifference sensor_error);

/// How fast the middle of a strip on two posts sinks under its own weight: 5 rho g L^4 / (96 eta
/// h^2).
///
/// In:     all above zero; slopes stay small, the strip is thin.
/// Source: [TG70] for the elastic beam, 5 q L^4 / (384 E I), with 3 eta in place of E (a liquid
/// that
///         keeps its volume) and the rate in place of the deflection. [ASTM-C1350M] has the same
///         with a load in the middle; notes/relaxation.md#sag.
double sag_rate_m_per_s(double span_m,
                        double thickness_m,
                        double density_kg_per_m3,
                        double viscosity_Pa_s);

struct SagByBeam {
  AnnealingEstimate annealing;
  double log10_viscosity_at_touch_Pa_s;
};

/// The annealing point for which the strip would have sunk just so far: curves of five standard
/// glasses, each moved along the temperature until it does.
///
/// Out:    lowest and highest of the five, with a quarter more or less viscosity for what was
///         measured, and the sensor's error on both sides. `middle` is half way.
/// Error:  as `annealing` says; the curves differ by a few kelvin, since touch-down is within some
///         two decades of the annealing point.
/// Throws: Error at `place` where no curve sinks that far below 300 K above the annealing point, or
///         where the strip is too thick or sinks too far for a beam: drop above a fifth of the
///         span, thickness above a tenth.
/// Source: isokoms of [FLUEGEL07], table 12, experimental; density 2500 kg/m3 assumed.
SagByBeam annealing_by_beam(const SagTest& test,
                            const SagStrip& strip,
                            TemperatureDifference sensor_error);

}  // namespace thickset
