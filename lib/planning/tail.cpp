#include "planning/tail.h"

#include <optional>

#include "planning/nearest_tail.h"
#include "planning/tail_planner.h"

namespace thickset {

Tail plan_tail(std::span<const Casting> castings,
               const Kiln& kiln,
               const Controller& controller,
               const TailRequest& request) {
  const TailPlanner planner{castings, kiln, controller, request};
  if (std::optional<Tail> tail = planner.plan()) {
    planner.price_limits(*tail);
    return *tail;
  }
  return nearest_tail(castings, kiln, controller, request);
}

}  // namespace thickset
