#include "reporting/bow_section.h"

#include <cmath>

#include <fmt/format.h>

#include "checking/bow.h"
#include "simulation/steady_cooling.h"

namespace thickset {
namespace {

constexpr double straight_edge_m = 1.0;
constexpr double foot_m = 0.3048;

/// The faces as the user calls them.
struct FaceNames {
  const char* better;
  const char* other;
};
FaceNames faces_of(const ReportContext& context) {
  const Casting& casting = context.casting;
  if (!casting.walls) return {"face that cools", "face that does not cool"};
  const SteadyCooling steady =
      steady_cooling(casting, Exchange::with(context.kiln), casting.glass.strain_point.value);
  return steady.top_cools_better ? FaceNames{"top", "bottom"} : FaceNames{"bottom", "top"};
}

/// "1.24 mm over 1 m".
std::string deflection(double curvature_per_m, Lengths unit) {
  const double magnitude_per_m = std::abs(curvature_per_m);
  if (unit == Lengths::inch) {
    return fmt::format("{:.3f} in over 1 ft",
                       Length::from_m(deflection_m(magnitude_per_m, foot_m)).in_inch());
  }
  return fmt::format("{:.2f} mm over 1 m", 1e3 * deflection_m(magnitude_per_m, straight_edge_m));
}

const char* hollow(double curvature_per_m, const FaceNames& faces) {
  return curvature_per_m >= 0.0 ? faces.better : faces.other;
}

}  // namespace

std::string bow_section(const ReportContext& context, const CheckResult& result) {
  const std::optional<Bow> found = bow(context.casting, result.measured);
  if (!found) return {};
  const FaceNames faces = faces_of(context);
  const Lengths unit = context.display.lengths;
  std::string text = "\nBow of the slab, free to bend, flat when the hold ends:\n";
  text += wrapped(fmt::format("- Largest {}, the {} hollow, after {}, the kiln at {}.",
                              deflection(found->largest_per_m, unit),
                              hollow(found->largest_per_m, faces),
                              show(seconds(found->largest_at_s)),
                              show(Temperature::from_K(found->kiln_then_K), context.display))) +
          '\n';
  text += wrapped(fmt::format("- {} stays at room temperature, the {} hollow.",
                              deflection(found->left_per_m, unit),
                              hollow(found->left_per_m, faces))) +
          '\n';
  return text +
         wrapped(
             "It goes with the square of the length: half the length, a quarter. The slab's own "
             "weight, which flattens it, and what it stands in are not in it; where they keep it "
             "flat, take it as held.") +
         '\n';
}

std::string bow_keys(const ReportContext& context, const CheckResult& result) {
  const std::optional<Bow> found = bow(context.casting, result.measured);
  if (!found) return {};
  const auto over_1_m = [](double curvature_per_m) {
    return 1e3 * deflection_m(curvature_per_m, straight_edge_m);
  };
  std::string text =
      fmt::format("bow_largest_mm_over_1_m = {:.6g}\n", over_1_m(found->largest_per_m));
  text += fmt::format("bow_largest_after_h = {:.6g}\n", found->largest_at_s / 3600.0);
  text +=
      fmt::format("bow_largest_kiln_C = {:.6g}\n", Temperature::from_K(found->kiln_then_K).in_C());
  return text + fmt::format("bow_left_mm_over_1_m = {:.6g}\n", over_1_m(found->left_per_m));
}

}  // namespace thickset
