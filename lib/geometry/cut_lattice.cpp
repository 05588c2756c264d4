#include "geometry/cut_lattice.h"

#include "base/error.h"
#include "geometry/lattice_over.h"
#include "geometry/poisson_maximum.h"
#include "geometry/surface_planes.h"
#include "numerics/as_index.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <vector>

#include <fmt/core.h>

namespace thickset {
namespace {

// A node this close to the surface, in spacings, counts as outside; no end is nearer.
constexpr double nearest = 1e-4;
// A gap narrower than this, in spacings, is two faces of one surface that touch.
constexpr double no_gap = 1e-6;
// A wall that resists less than this many spacings of glass is taken link by link: u goes straight
// down to 0 behind it.
constexpr double least_wall = 2.0;

/// Works through the lines of the lattice; each tells where its links are cut.
class Cutter {
 public:
  Cutter(const Region& region, const CoolingAt& cooling_at, CutLattice& out)
      : region_{region}, cooling_at_{cooling_at}, out_{out}, planes_{out.problem, out.filled} {
    const Region::Box box = region.bounds_m();
    for (int axis = 0; axis < 3; ++axis) {
      for (int i = 0; i < out.problem.lattice.nodes(axis); ++i) {
        const double middle_m = out.origin_m(axis) + i * out.spacing_m;
        const double low_m = std::max(middle_m - 0.5 * out.spacing_m, box.low_m(axis));
        const double high_m = std::min(middle_m + 0.5 * out.spacing_m, box.high_m(axis));
        in_box_[as_index(axis)].push_back(std::max(high_m - low_m, 0.0) / out.spacing_m);
      }
    }
  }

  void cut() {
    for (int axis = 0; axis < 3; ++axis) {
      cut_lines(axis);
    }
    out_.volume_m3 = length_ / 3.0 * std::pow(out_.spacing_m, 3);
    out_.unresolved = length_ > 0.0 ? unresolved_length_ / length_ : 1.0;
    planes_.apply();
    out_.problem.put_in_order();
  }

 private:
  struct Line {
    int axis;
    std::ptrdiff_t start, step;
    Eigen::Vector3d start_m;
  };
  struct Cut {
    double s;  // in spacings from the line's first node
    Eigen::Vector3d normal;
    double wall;  // length along the line, in spacings: 0 exposed, infinite insulated
    double level = 0.0, heat = 0.0;  // of a wall, in spacings^2 and spacings
  };

  void cut_lines(int axis) {
    const Lattice& lattice = out_.problem.lattice;
    const int first = (axis + 1) % 3;
    const int second = (axis + 2) % 3;
    for (int v = 1; v + 1 < lattice.nodes(second); ++v) {
      for (int u = 1; u + 1 < lattice.nodes(first); ++u) {
        const std::ptrdiff_t start =
            u * lattice.step(direction(first, true)) + v * lattice.step(direction(second, true));
        const Line line{axis, start, lattice.step(direction(axis, true)), out_.place_m(start)};
        read_cuts(line,
                  first,
                  second,
                  in_box_[as_index(first)][as_index(u)] * in_box_[as_index(second)][as_index(v)]);
        if (axis == 0) mark(line);
        note_slabs(line);
        cut_links(line);
      }
    }
  }

  void read_cuts(const Line& line, int first, int second, double share) {
    cuts_.clear();
    const std::vector<Region::Crossing> crossings =
        region_.crossings(line.axis, line.start_m(first), line.start_m(second));
    check(crossings, line);
    for (const Region::Crossing& c : crossings) {
      Eigen::Vector3d place_m = line.start_m;
      place_m(line.axis) = c.position_m;
      const double s = (c.position_m - line.start_m(line.axis)) / out_.spacing_m;
      const Cooling cooling = cooling_of(place_m, c.normal);
      const double spacing_m = out_.spacing_m;
      cuts_.push_back({s,
                       c.normal,
                       wall_length(cooling),
                       cooling.level_m2 / (spacing_m * spacing_m),
                       cooling.heat_m / spacing_m});
    }
    for (std::size_t i = 0; i + 1 < cuts_.size(); i += 2) {
      const double from = cuts_[i].s;
      const double to = cuts_[i + 1].s;
      length_ += share * (to - from);
      if (std::floor(to) < from) unresolved_length_ += share * (to - from);
    }
  }

  void check(const std::vector<Region::Crossing>& crossings, const Line& line) const {
    const double low_m = line.start_m(line.axis);
    const double length_m = out_.spacing_m * (out_.problem.lattice.nodes(line.axis) - 1);
    double before_m = low_m;
    bool good = crossings.size() % 2 == 0;
    for (const Region::Crossing& c : crossings) {
      // accepting form: NaN fails too
      good = good && c.position_m >= before_m && c.position_m <= low_m + length_m &&
             std::abs(c.normal.squaredNorm() - 1.0) < 1e-6;
      before_m = c.position_m;
    }
    if (good) return;
    throw Error{
        {},
        fmt::format("the surface of the solid is not closed, or not in its box, along axis {} "
                    "from {:.6g}, {:.6g}, {:.6g} m",
                    line.axis + 1,
                    line.start_m(0),
                    line.start_m(1),
                    line.start_m(2)),
        "mend the holes of the model"};
  }

  void mark(const Line& line) {
    const int nodes = out_.problem.lattice.nodes(line.axis);
    for (std::size_t c = 0; c + 1 < cuts_.size(); c += 2) {
      const int first = std::max(1, static_cast<int>(std::ceil(cuts_[c].s + nearest)));
      const int last = std::min(nodes - 2, static_cast<int>(std::floor(cuts_[c + 1].s - nearest)));
      for (int i = first; i <= last; ++i) {
        const std::size_t node = as_index(line.start + i * line.step);
        out_.problem.state[node] = LatticeProblem::inside;
        out_.filled[node] = 1.0F;
      }
    }
  }

  void note_slabs(const Line& line) {
    const int nodes = out_.problem.lattice.nodes(line.axis);
    for (std::size_t c = 0; c + 1 < cuts_.size(); c += 2) {
      const Cut& from = cuts_[c];
      const Cut& to = cuts_[c + 1];
      if (!(from.s < to.s)) continue;  // touched only
      const double largest = slab_along(from, to, line.axis);
      const int first = std::max(1, static_cast<int>(std::ceil(from.s)));
      const int last = std::min(nodes - 2, static_cast<int>(std::floor(to.s)));
      for (int i = first; i <= last; ++i) {
        float& least = out_.slab_maximum[as_index(line.start + i * line.step)];
        least = std::min(line.axis == 0 ? std::numeric_limits<float>::infinity() : least,
                         static_cast<float>(largest));
      }
    }
  }

  /// A line that meets an insulated surface or a wall askew says nothing of a slab.
  static double slab_along(const Cut& from, const Cut& to, int axis) {
    constexpr double straight = 0.98;
    for (const Cut* cut : {&from, &to}) {
      if (cut->wall > 0.0 && std::abs(cut->normal(axis)) < straight) {
        return std::numeric_limits<double>::infinity();
      }
    }
    // a wall's own heat raises u by no more than its level
    return poisson::walled_slab_maximum_m2(to.s - from.s, from.wall, to.wall) +
           std::max(from.level, to.level);
  }

  void cut_links(const Line& line) {
    const int nodes = out_.problem.lattice.nodes(line.axis);
    std::size_t next = 0;
    for (int i = 0; i + 1 < nodes; ++i) {
      const std::ptrdiff_t node = line.start + i * line.step;
      const bool here = out_.problem.has(node);
      const bool there = out_.problem.has(node + line.step);
      while (next < cuts_.size() && cuts_[next].s <= i) ++next;
      if (here && there) {
        cut_gap(line, i, next);
      } else if (here) {
        end_link(line, i, true, nearest_cut(i + 0.5, true));
      } else if (there) {
        end_link(line, i + 1, false, nearest_cut(i + 0.5, false));
      }
    }
  }

  /// Two nodes inside with a gap between them: both links end.
  void cut_gap(const Line& line, int i, std::size_t next) {
    if (next + 1 >= cuts_.size() || next % 2 == 0) return;
    const Cut& leaves = cuts_[next];
    const Cut& enters = cuts_[next + 1];
    if (!(enters.s < i + 1) || enters.s - leaves.s < no_gap) return;
    out_.problem.give_faces();
    out_.problem.faces[as_index(line.axis)][as_index(line.start + i * line.step)] = 0.0F;
    end_link(line, i, true, &leaves);
    end_link(line, i + 1, false, &enters);
  }

  /// The cut nearest to s that leaves the solid (or enters it); null on a line that only grazes it.
  const Cut* nearest_cut(double s, bool leaving) const {
    const Cut* best = nullptr;
    for (std::size_t c = leaving ? 1 : 0; c < cuts_.size(); c += 2) {
      if (best == nullptr || std::abs(cuts_[c].s - s) < std::abs(best->s - s)) best = &cuts_[c];
    }
    return best;
  }

  void end_link(const Line& line, int i, bool on, const Cut* cut) {
    const std::ptrdiff_t node = line.start + i * line.step;
    const double side = on ? 1.0 : -1.0;
    const Direction towards = direction(line.axis, on);
    // On a line that only grazes the solid the node is as good as on the surface.
    const Cut at_node{static_cast<double>(i), side * Eigen::Vector3d::Unit(line.axis), 0.0};
    const Cut& met = cut != nullptr ? *cut : at_node;
    const double within = std::clamp(side * (met.s - i), nearest, 1.0);
    if (met.wall >= least_wall) {
      planes_.add(node, towards, within, {met.normal, met.wall, met.level, met.heat});
      return;
    }
    const double along = std::abs(met.normal(line.axis));
    const double wall = met.wall / std::max(along, nearest);
    out_.problem.ends.push_back({.node = static_cast<std::int32_t>(node),
                                 .towards = towards,
                                 .distance = static_cast<float>(within + wall),
                                 .within = static_cast<float>(within),
                                 .level = static_cast<float>(met.level),
                                 .heat = static_cast<float>(along * met.heat)});
  }

  Cooling cooling_of(const Eigen::Vector3d& place_m, const Eigen::Vector3d& normal) const {
    return cooling_at_ ? cooling_at_(place_m, normal) : Cooling::exposed();
  }

  /// In spacings; 0 where exposed, infinite where nothing passes.
  double wall_length(const Cooling& cooling) const {
    if (cooling.kind == Cooling::Kind::exposed) return 0.0;
    if (cooling.kind == Cooling::Kind::insulated) return std::numeric_limits<double>::infinity();
    if (!(cooling.length_m > 0.0) || !std::isfinite(cooling.length_m)) {
      throw Error{{},
                  fmt::format("a wall's resistance is that of {} m of glass", cooling.length_m),
                  "it needs to be above 0 and finite; without a wall the surface is exposed"};
    }
    return cooling.length_m / out_.spacing_m;
  }

  const Region& region_;
  const CoolingAt& cooling_at_;
  CutLattice& out_;
  SurfacePlanes planes_;
  std::array<std::vector<double>, 3> in_box_;  // share of each layer of cells in the region's box
  std::vector<Cut> cuts_;
  double length_ = 0.0, unresolved_length_ = 0.0;  // in spacings, over lines of all three axes
};

CutLattice laid_over(const Region& region, const CoolingAt& cooling_at, double cells) {
  const PlacedLattice placed = lattice_over(region.bounds_m(), cells);
  const Lattice& lattice = placed.lattice;
  CutLattice out{};
  out.problem.lattice = lattice;
  out.origin_m = placed.origin_m;
  out.spacing_m = placed.spacing_m;
  out.problem.state = ZeroedArray<std::uint8_t>{lattice.size()};
  out.filled = ZeroedArray<float>{lattice.size()};
  out.slab_maximum = ZeroedArray<float>{lattice.size()};
  Cutter{region, cooling_at, out}.cut();
  return out;
}

}  // namespace

Eigen::Vector3d CutLattice::place_m(std::ptrdiff_t node) const {
  const std::array<int, 3> p = problem.lattice.place(node);
  return origin_m + spacing_m * Eigen::Vector3d(p[0], p[1], p[2]);
}

CutLattice cut_lattice(const Region& region, const CoolingAt& cooling_at, double cells) {
  CutLattice out = laid_over(region, cooling_at, cells);
  const auto& filled = out.filled;
  if (std::all_of(filled.data(), filled.data() + filled.size(), [](float f) { return !(f > 0); })) {
    throw Error{{}, "no point of the grid lies in the solid", "ask for more cells"};
  }
  // where all is exposed every piece ends on the surface
  if (!out.problem.plain() && out.problem.cut_off() > 0) {
    throw Error{{},
                "the solid, or a piece of it, is insulated all round",
                "heat has to leave through some of its surface"};
  }
  return out;
}

CutLattice filled_lattice(const Region& region, double cells) {
  const auto insulated = [](const Eigen::Vector3d&, const Eigen::Vector3d&) {
    return Cooling::insulated();
  };
  return laid_over(region, insulated, cells);
}

}  // namespace thickset
