#include "geometry/area_growth.h"

#include <cmath>
#include <numbers>

namespace thickset {
namespace {

using std::numbers::pi;

// Of a section of perimeter P and area unlimited in length: P(t) = P + 2 pi t.
AreaGrowth of_section(double perimeter_m) {
  return {2.0 * pi / perimeter_m, 0.0};
}

AreaGrowth growth_of(const Slab&) {
  return {0.0, 0.0};
}
AreaGrowth growth_of(const Rod& rod) {
  return of_section(pi * rod.diameter.in_m());
}
AreaGrowth growth_of(const Ball& ball) {
  const double radius_m = 0.5 * ball.diameter.in_m();
  return {2.0 / radius_m, 1.0 / (radius_m * radius_m)};
}
AreaGrowth growth_of(const Block& block) {
  const double a = block.a.in_m();
  const double b = block.b.in_m();
  const double c = block.c.in_m();
  const double surface_m2 = 2.0 * (a * b + b * c + c * a);
  return {2.0 * pi * (a + b + c) / surface_m2, 4.0 * pi / surface_m2};  // M = pi (a + b + c)
}
AreaGrowth growth_of(const Disc& disc) {
  const double radius_m = 0.5 * disc.diameter.in_m();
  const double height_m = disc.height.in_m();
  const double surface_m2 = 2.0 * pi * radius_m * (radius_m + height_m);
  return {2.0 * pi * (height_m + pi * radius_m) / surface_m2,  // M = pi h + pi^2 R
          4.0 * pi / surface_m2};
}
AreaGrowth growth_of(const Bar& bar) {
  return of_section(2.0 * (bar.a.in_m() + bar.b.in_m()));
}
AreaGrowth growth_of(const Prism& prism) {
  return of_section(3.0 * prism.side.in_m());
}

AreaGrowth growth_of(const Tube& tube) {
  if (tube.inside == Inside::open) return {0.0, 0.0};
  return growth_of(Rod{tube.diameter});
}
AreaGrowth growth_of(const Gridded& solid) {
  return solid.growth;
}

}  // namespace

AreaGrowth area_growth(const Shape& shape) {
  return std::visit([](const auto& s) { return growth_of(s); }, shape);
}

}  // namespace thickset
