#include "checking/bow.h"

#include <cmath>

namespace thickset {
namespace {

bool free_to_bend(const Casting& casting) {
  const Shape shape = casting.governing_shape();
  const auto* slab = std::get_if<Slab>(&shape);
  if (slab == nullptr) return false;
  if (casting.walls && !casting.walls->alike()) return !casting.walls->held;
  return slab->faces == Faces::one_free;
}

}  // namespace

std::optional<Bow> bow(const Casting& casting, const Measured& measured) {
  if (!free_to_bend(casting)) return std::nullopt;
  const History& history = measured.history;
  const double flat_per_m = history.at(measured.window_start_s).curvature_per_m;
  Bow result;
  for (const History::Row& row : history.rows) {
    if (row.time_s < measured.window_start_s) continue;
    // history: below 0 where the better face is hollow
    const double hollow_per_m = flat_per_m - row.curvature_per_m;
    if (std::abs(hollow_per_m) > std::abs(result.largest_per_m)) {
      result.largest_per_m = hollow_per_m;
      result.largest_at_s = row.time_s;
      result.kiln_then_K = row.kiln_K;
    }
    result.left_per_m = hollow_per_m;
  }
  return result;
}

}  // namespace thickset
