#include "geometry/permanent_tension.h"

#include "base/error.h"
#include "geometry/cooling_field.h"
#include "geometry/cut_lattice.h"
#include "numerics/as_index.h"
#include "numerics/elastic_lattice.h"

#include <algorithm>
#include <chrono>
#include <cmath>
#include <utility>

#include <fmt/core.h>
#include <Eigen/Eigenvalues>

namespace thickset {
namespace {

// Cells filled less are left out: they bear nothing and slow the solution.
constexpr float least_filled = 0.01F;

constexpr double fewest_elastic_cells = 8e3;  // 1000 on the coarser grid
constexpr double most_elastic_cells = 8e6;    // 2 GB
constexpr double most_poisson_ratio = 0.4;    // cubes lock near 1/2

double highest(const Eigen::Matrix3d& stress) {
  return Eigen::SelfAdjointEigenSolver<Eigen::Matrix3d>(stress, Eigen::EigenvaluesOnly)
      .eigenvalues()(2);
}

/// Shares of four neighbours in the value at t between the second (0) and third (1): Lagrange.
std::array<double, 4> cubic(double t) {
  return {-t * (t - 1.0) * (t - 2.0) / 6.0,
          (t + 1.0) * (t - 1.0) * (t - 2.0) / 2.0,
          -(t + 1.0) * t * (t - 2.0) / 2.0,
          (t + 1.0) * t * (t - 1.0) / 6.0};
}

/// The cells of a field as elastic cubes; their corners are its nodes shifted by half a cell.
class Cubes {
 public:
  Cubes(const Region& region, const CoolingField& field, const TensionSettings& settings)
      : field_{field},
        settings_{settings},
        corners_{{field.lattice().nodes(0) + 1,
                  field.lattice().nodes(1) + 1,
                  field.lattice().nodes(2) + 1}},
        expansion_{corners_.size()},
        solid_{corners_, shares(region), settings.poisson_ratio} {}

  ElasticLattice::Outcome solve(const ElasticLattice::Told& told) {
    return solid_.solve(expansion_.data(), settings_.relative_residual_tol, told);
  }

  /// In m2, in the middle of a cell.
  Eigen::Matrix3d stress_m2(const std::array<int, 3>& cell) const {
    const std::ptrdiff_t cube = corners_.index(cell[0], cell[1], cell[2]);
    const double scale_m2 =
        (1.0 - settings_.poisson_ratio) * field_.spacing_m() * field_.spacing_m();
    return scale_m2 * solid_.stress(cube, static_cast<double>(expansion_[as_index(cube)]));
  }

  /// By cubics along each axis through the middles of the 64 cells around a place; by straight
  /// lines where one of them is cut. Straight lines alone would cost 3 / (cells across)^2 between
  /// cells.
  Eigen::Matrix3d stress_m2(const Eigen::Vector3d& place_m) const {
    const Eigen::Vector3d from_first = (place_m - field_.place_m(0)) / field_.spacing_m();
    const Eigen::Array3d below = from_first.array().floor();
    const Eigen::Array3d beyond = from_first.array() - below;
    const std::array<int, 3> cell = {
        static_cast<int>(below(0)), static_cast<int>(below(1)), static_cast<int>(below(2))};
    Shares share{};
    for (std::size_t a = 0; a < 3; ++a) share[a] = cubic(beyond(static_cast<Eigen::Index>(a)));
    if (!all_whole(cell, share)) {
      for (std::size_t a = 0; a < 3; ++a) {
        const double t = beyond(static_cast<Eigen::Index>(a));
        share[a] = {0.0, 1.0 - t, t, 0.0};
      }
    }
    Eigen::Matrix3d sum = Eigen::Matrix3d::Zero();
    for_each_share(cell, share, [&](const std::array<int, 3>& at_cell, double of_cell) {
      sum += of_cell * stress_m2(at_cell);
    });
    return sum;
  }

  /// Whether the eight cells around a place are half filled or more, so that stress is known there.
  bool is_within(const Eigen::Vector3d& place_m) const {
    const Eigen::Array3d below =
        ((place_m - field_.place_m(0)) / field_.spacing_m()).array().floor();
    bool within = true;
    for (int corner = 0; corner < 8; ++corner) {
      std::array<int, 3> cell{};
      for (int a = 0; a < 3; ++a) {
        cell[as_index(a)] = static_cast<int>(below(a)) + (corner >> a & 1);
        within = within && cell[as_index(a)] >= 0 && cell[as_index(a)] < field_.lattice().nodes(a);
      }
      within = within && filled(cell) >= half;
    }
    return within;
  }

  static constexpr float half = 0.5F;
  float filled(const std::array<int, 3>& cell) const {
    return solid_.filled()[as_index(corners_.index(cell[0], cell[1], cell[2]))];
  }
  bool is_whole(const std::array<int, 3>& cell) const { return filled(cell) >= 1.0F; }

 private:
  using Shares = std::array<std::array<double, 4>, 3>;

  template <class Use>
  static void for_each_share(const std::array<int, 3>& cell, const Shares& share, const Use& use) {
    for (int k = 0; k < 4; ++k) {
      for (int j = 0; j < 4; ++j) {
        for (int i = 0; i < 4; ++i) {
          const double of_cell =
              share[0][as_index(i)] * share[1][as_index(j)] * share[2][as_index(k)];
          if (of_cell != 0.0) use({cell[0] + i - 1, cell[1] + j - 1, cell[2] + k - 1}, of_cell);
        }
      }
    }
  }

  bool all_whole(const std::array<int, 3>& cell, const Shares& share) const {
    bool whole = true;
    for_each_share(cell, share, [&](const std::array<int, 3>& at_cell, double) {
      for (int a = 0; a < 3; ++a) {
        const int i = at_cell[as_index(a)];
        whole = whole && i >= 0 && i < field_.lattice().nodes(a);
      }
      whole = whole && is_whole(at_cell);
    });
    return whole;
  }

  ZeroedArray<float> shares(const Region& region) {
    const CutLattice cut = filled_lattice(region, settings_.cells);
    ZeroedArray<float> filled{corners_.size()};
    const Lattice& cells = cut.problem.lattice;
    for (int k = 0; k < cells.nodes(2); ++k) {
      for (int j = 0; j < cells.nodes(1); ++j) {
        for (int i = 0; i < cells.nodes(0); ++i) {
          const std::ptrdiff_t cell = cells.index(i, j, k);
          const float share = cut.filled[as_index(cell)];
          if (share < least_filled) continue;
          const std::size_t cube = as_index(corners_.index(i, j, k));
          filled[cube] = share;
          // what was hotter shrinks more as it evens out
          expansion_[cube] =
              static_cast<float>(-field_.u_m2(cell) / (field_.spacing_m() * field_.spacing_m()));
        }
      }
    }
    return filled;
  }

  const CoolingField& field_;
  const TensionSettings& settings_;
  Lattice corners_;
  ZeroedArray<float> expansion_;
  ElasticLattice solid_;
};

/// Without its uncertainty.
PermanentTension on_one_grid(const Region& region,
                             const CoolingAt& cooling_at,
                             const TensionSettings& settings,
                             const Progress& progress) {
  const CoolingField field{
      region, cooling_at, {settings.cells, settings.relative_residual_tol}, progress};
  Cubes cubes{region, field, settings};
  const auto begun = std::chrono::steady_clock::now();
  ElasticLattice::Told told;
  if (progress) {
    told = [&](int iteration, double left) {
      if (std::chrono::steady_clock::now() - begun < std::chrono::seconds{1}) return;
      progress(
          fmt::format("permanent stress of the solid, round {}, {:.0e} left", iteration, left));
    };
  }
  const ElasticLattice::Outcome outcome = cubes.solve(told);
  if (!outcome.reached) {
    throw Error{{},
                fmt::format("the permanent stress was not found: {:.1e} left after {} rounds",
                            outcome.relative_residual,
                            outcome.iterations),
                "a part may be joined to the rest by less than a cell; ask for more cells"};
  }
  const bool within = cubes.is_within(field.hottest_m());
  const double centre_m2 = within ? highest(cubes.stress_m2(field.hottest_m())) : 0.0;
  PermanentTension tension{.at_hottest_m2 = centre_m2,
                           .largest_m2 = centre_m2,
                           .place_m = field.hottest_m(),
                           .slab = Length::from_m(0.0),
                           .uncertainty = 0.0,
                           .largest_uncertainty = 0.0,
                           .iterations = outcome.iterations};
  const Lattice& cells = field.lattice();
  const auto look_for_largest = [&](auto&& counts) {
    for (int k = 1; k + 1 < cells.nodes(2); ++k) {
      for (int j = 1; j + 1 < cells.nodes(1); ++j) {
        for (int i = 1; i + 1 < cells.nodes(0); ++i) {
          if (!counts(i, j, k)) continue;
          const double stress_m2 = highest(cubes.stress_m2(std::array<int, 3>{i, j, k}));
          if (!(stress_m2 > tension.largest_m2)) continue;
          tension.largest_m2 = stress_m2;
          tension.place_m = field.place_m(cells.index(i, j, k));
        }
      }
    }
  };
  look_for_largest([&](int i, int j, int k) {
    return cubes.is_whole({i, j, k}) && cubes.is_whole({i - 1, j, k}) &&
           cubes.is_whole({i + 1, j, k}) && cubes.is_whole({i, j - 1, k}) &&
           cubes.is_whole({i, j + 1, k}) && cubes.is_whole({i, j, k - 1}) &&
           cubes.is_whole({i, j, k + 1});
  });
  if (!(tension.largest_m2 > 0.0)) {  // too thin for that
    look_for_largest([&](int i, int j, int k) { return cubes.filled({i, j, k}) >= Cubes::half; });
  }
  if (!within) tension.at_hottest_m2 = tension.largest_m2;
  tension.slab = Length::from_m(std::sqrt(24.0 * std::max(tension.at_hottest_m2, 0.0)));
  return tension;
}

}  // namespace

PermanentTension permanent_tension(const Region& region,
                                   const CoolingAt& cooling_at,
                                   const TensionSettings& settings,
                                   const Progress& progress) {
  if (!(settings.cells >= fewest_elastic_cells && settings.cells <= most_elastic_cells)) {
    throw Error{{},
                fmt::format("{} cells asked for a permanent stress", settings.cells),
                fmt::format("between {:.0f} and {:.0g}", fewest_elastic_cells, most_elastic_cells)};
  }
  if (!(settings.poisson_ratio >= 0.0 && settings.poisson_ratio <= most_poisson_ratio)) {
    throw Error{{},
                fmt::format("Poisson's ratio is {}", settings.poisson_ratio),
                fmt::format("between 0 and {}; glass has 0.2 to 0.25", most_poisson_ratio)};
  }
  TensionSettings coarse = settings;
  coarse.cells /= 8.0;
  const PermanentTension before = on_one_grid(region, cooling_at, coarse, progress);
  PermanentTension tension = on_one_grid(region, cooling_at, settings, progress);
  if (!(tension.largest_m2 > 0.0)) {
    throw Error{{},
                "no part of the solid is thick enough for the grid of the stress",
                "ask for more cells"};
  }
  tension.uncertainty = std::abs(before.at_hottest_m2 / tension.at_hottest_m2 - 1.0);
  tension.largest_uncertainty = std::abs(before.largest_m2 / tension.largest_m2 - 1.0);
  return tension;
}

}  // namespace thickset
