#pragma once

#include <optional>
#include <string>
#include <vector>

#include "reporting/charts/drawing.h"
#include "reporting/charts/panel.h"
#include "reporting/report.h"
#include "simulation/section.h"

namespace thickset {

/// A simulated firing, and how much of it the charts show.
struct FiringView {
  const ReportContext& context;
  const Measured& measured;
  double until_s;              ///< from its start, at 0
  double counts_from_s = 0.0;  ///< stress before it is not drawn: the glass was in pieces
  /// Where steps begin, and their numbers.
  struct Start {
    std::string number;
    double time_s;
  };
  std::vector<Start> starts{};
  /// The firing that was meant, where it is compared with one, and how much later it begins.
  const History* planned = nullptr;
  double planned_later_s = 0.0;
};

/// The moment of the largest tension in the glass, of those shown. What stays may pull more at the
/// very end, when all is even.
double worst_moment_s(const FiringView& view);

/// The section at that moment, of the body whose tension counts. start: of the glass.
Section worst_section(const FiringView& view, Temperature start);

/// Kiln, surface and core against time, with the range from strain point to annealing point.
Chart temperature_chart(const FiringView& view);

/// The largest tension in the glass at each moment, and what would stay of the stress in its
/// middle if it evened out then; both against their limits.
Chart stress_chart(const FiringView& view);

/// Through the thickness: temperatures at the moment of the largest tension, and the stress that
/// stays.
Chart section_chart(const FiringView& view, const Section& worst);

/// What the piece shows between crossed polarisers, seen along its faces; nothing for a rod or a
/// ball, which show another picture.
/// path: glass that the light passes; nullopt: 100 mm are assumed.
std::optional<Chart> edge_view(const FiringView& view, std::optional<Length> path);

inline constexpr Length assumed_path = Length::from_mm(100.0);

// Parts of the charts above:

/// Hours since the start of all rows up to the view's end.
std::vector<double> hours_of(const History& history, double until_s);

/// Ticks of a time axis, in hours.
std::vector<Tick> time_ticks(double until_h, int most);

/// Kiln, surface and core against time, in the degrees shown, until the view's end.
struct Temperatures {
  std::vector<double> hours, kiln, surface, core;
};
Temperatures temperatures_of(const FiringView& view);

}  // namespace thickset
