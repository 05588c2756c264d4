#include "geometry/scaled_shape.h"

#include <cassert>
#include <initializer_list>

namespace thickset {
namespace {

void scale(Length& length, double factor) {
  length = Length::from_m(factor * length.in_m());
}

void scale(std::initializer_list<Length*> lengths, double factor) {
  for (Length* const length : lengths) scale(*length, factor);
}

void scale(Slab& slab, double factor) {
  scale(slab.thickness, factor);
}
void scale(Rod& rod, double factor) {
  scale(rod.diameter, factor);
}
void scale(Ball& ball, double factor) {
  scale(ball.diameter, factor);
}
void scale(Block& block, double factor) {
  scale({&block.a, &block.b, &block.c}, factor);
}
void scale(Disc& disc, double factor) {
  scale({&disc.diameter, &disc.height}, factor);
}
void scale(Bar& bar, double factor) {
  scale({&bar.a, &bar.b}, factor);
}
void scale(Prism& prism, double factor) {
  scale(prism.side, factor);
}
void scale(Tube& tube, double factor) {
  scale({&tube.diameter, &tube.wall}, factor);
}
void scale(Gridded& solid, double factor) {
  for (Gridded::Measures& measures : solid.measures) {
    for (Length& size : measures.sizes) scale(size, factor);
  }
  scale({&solid.ball,
         &solid.volume_to_surface,
         &solid.steady_difference,
         &solid.slowest_mode,
         &solid.permanent_tension},
        factor);
  solid.growth.per_m /= factor;
  solid.growth.per_m2 /= factor * factor;
}

}  // namespace

Shape scaled(const Shape& shape, double factor) {
  assert(factor > 0.0);
  Shape changed = shape;
  std::visit([&](auto& solid) { scale(solid, factor); }, changed);
  return changed;
}

}  // namespace thickset
