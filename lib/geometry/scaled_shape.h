#pragma once

#include "geometry/shape.h"

namespace thickset {

/// The same shape with every measure so many times as large. Of a solid on a grid the slabs that
/// stand for it are scaled with it, which leaves walls that are part of its field as thick against
/// it as they were.
Shape scaled(const Shape& shape, double factor);

}  // namespace thickset
