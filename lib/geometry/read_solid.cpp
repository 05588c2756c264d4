#include "geometry/read_solid.h"

#include "geometry/check_mesh.h"
#include "geometry/read_stl.h"
#include "geometry/solid_size.h"

#include <utility>

#include <fmt/format.h>

namespace thickset {

Solid make_solid(const TriangleSoup& soup,
                 Lengths unit,
                 const Place& place,
                 const Progress& progress) {
  CheckedMesh checked = check_mesh(soup, unit, place, progress);
  const MeshMeasures measures = measure(checked.region.mesh());
  if (progress) progress("looking for the largest ball that fits");
  const LargestBall ball = largest_ball_in(checked.region, ball_accuracy, most_ball_work, progress);

  const auto in_file = [&](double m) { return in_lengths(Length::from_m(m), unit); };
  check_ball(in_file(2.0 * ball.radius_m),
             (measures.bounds_m.high_m - measures.bounds_m.low_m).unaryExpr(in_file),
             unit,
             place);
  if (ball.at_most_radius_m > (1.0 + 2.0 * ball_accuracy) * ball.radius_m) {
    checked.notes.push_back(
        fmt::format("the largest ball was looked for long enough: one of {:.4g} {} fits, and none "
                    "above {:.4g} {}",
                    in_file(2.0 * ball.radius_m),
                    unit_name(unit),
                    in_file(2.0 * ball.at_most_radius_m),
                    unit_name(unit)));
  }
  return {std::move(checked.region), measures, ball, std::move(checked.notes)};
}

Solid read_solid(const std::string& path, Lengths unit, const Progress& progress) {
  return make_solid(read_stl(path), unit, Place{path}, progress);
}

}  // namespace thickset
