#include "conduction/covering.h"

#include <algorithm>
#include <cmath>

namespace thickset::conduction {
namespace {

constexpr int fewest_nodes = 4;
constexpr int most_nodes = 60;

}  // namespace

Covering::Covering(const Wall& wall, const AreaOutward& area, double spacing_m) {
  double from_m = 0.0;
  double half_before_m = 0.0;  // the glass's last node stands at its face
  double resistance = 0.0;
  double air_m = 0.0;
  for (std::size_t i = 0; i < wall.layers.size(); ++i) {
    const Layer& layer = wall.layers[i];
    if (layer.kind == Layer::Kind::contact) {
      resistance = layer.resistance_m2_K_per_W;
      continue;
    }
    const double thickness_m = layer.thickness.in_m();
    if (layer.kind == Layer::Kind::air) {
      air_m = thickness_m;
      from_m += thickness_m;
      continue;
    }
    const auto is_air = [&](std::size_t j) { return wall.layers[j].kind == Layer::Kind::air; };
    const bool node_at_start = air_m > 0.0;
    const bool node_at_end = i + 1 == wall.layers.size() || is_air(i + 1);
    const int nodes = std::clamp(
        static_cast<int>(std::ceil(thickness_m / spacing_m)) + 1, fewest_nodes, most_nodes);
    const double cells =
        nodes - 0.5 * (node_at_start ? 1.0 : 0.0) - 0.5 * (node_at_end ? 1.0 : 0.0);
    const double width_m = thickness_m / cells;
    const double start_half_m = node_at_start ? 0.0 : 0.5 * width_m;
    parts_.push_back({.material = &*layer.material,
                      .first = this->nodes(),
                      .count = nodes,
                      .area = area.at(from_m - 0.5 * air_m),
                      .inner_half_m = half_before_m,
                      .outer_half_m = start_half_m,
                      .resistance_m2_K_per_W = resistance,
                      .air_m = air_m});
    double inside_m = from_m;
    for (int node = 0; node < nodes; ++node) {
      const double at_m = from_m + start_half_m + node * width_m;
      const bool last = node + 1 == nodes;
      const double outside_m = last ? from_m + thickness_m : at_m + 0.5 * width_m;
      distance_m_.push_back(at_m);
      volume_m_.push_back(area.volume_m(outside_m) - area.volume_m(inside_m));
      area_by_spacing_per_m_.push_back(node == 0 ? 0.0 : area.at(inside_m) / width_m);
      inside_m = outside_m;
    }
    from_m += thickness_m;
    half_before_m = node_at_end ? 0.0 : 0.5 * width_m;
    resistance = 0.0;
    air_m = 0.0;
  }
}

}  // namespace thickset::conduction
