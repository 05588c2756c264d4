#pragma once

#include <span>

#include "planning/tail.h"

namespace thickset {

/// The tail that comes nearest to limits that no tail keeps: the grade raised until one does, to 3
/// %, else the tension; `cannot` says which and by how much. Where nothing can be keyed at all, the
/// quickest stages as nearly as they can be.
Tail nearest_tail(std::span<const Casting> castings,
                  const Kiln& kiln,
                  const Controller& controller,
                  TailRequest request);

}  // namespace thickset
