#pragma once

#include <Eigen/Core>

#include "base/progress.h"
#include "geometry/cooled_surface.h"
#include "geometry/cut_lattice.h"
#include "geometry/region.h"
#include "numerics/lattice_solver.h"
#include "units/length.h"

namespace thickset {

/// Steady cooling of any solid: -Laplace(u) = 1 inside, with the surface cooled as said. Its
/// temperatures at rate R are surface + R u / diffusivity.
class CoolingField {
 public:
  struct Settings {
    double cells = 128.0 * 128.0 * 128.0;  ///< about as many in the solid's box; cubes
    double relative_residual_tol = 1e-8;   ///< |b - A u| <= tol |b|
  };

  /// Error:  of second order in the spacing; with m cells across where it is hottest at most about
  ///         1 / m^2 of the largest u (measured: notes/field.md).
  /// Throws: Error, see cut_lattice; also when the iteration does not reach its tolerance.
  CoolingField(const Region& region,
               const CoolingAt& cooling_at,
               const Settings& settings,
               const Progress& progress = {});

  double largest_m2() const { return largest_m2_; }
  const Eigen::Vector3d& hottest_m() const { return hottest_m_; }
  double mean_m2() const { return mean_m2_; }
  double volume_m3() const { return cut_.volume_m3; }

  /// largest u over that of a slab as thick as the largest ball that the solid holds: 1 for a slab,
  /// 1/2 for a rod, 1/3 for a ball.
  double shape_factor(double ball_radius_m) const;

  /// Share of the volume in pieces too thin to hold a node: not seen by the field.
  double unresolved() const { return cut_.unresolved; }
  double spacing_m() const { return cut_.spacing_m; }
  /// m of the error above: how many cells the solid is thick, along an axis, where it is hottest
  /// (twice as many where one face is insulated).
  double cells_across() const { return cells_across_; }
  int iterations() const { return iterations_; }

  const Lattice& lattice() const { return solver_.matrix().lattice(); }
  bool has(std::ptrdiff_t node) const { return solver_.matrix().problem().has(node); }
  Eigen::Vector3d place_m(std::ptrdiff_t node) const;
  double u_m2(std::ptrdiff_t node) const;

  /// Slab, cooled from both faces, with the same centre - surface difference: u = d^2 / 8.
  Length steady_difference_slab() const;

  struct Mode {
    double eigenvalue_per_m2;  ///< smallest of -Laplace(v) = eigenvalue v, same surface
    Length slab;               ///< with the same one: (pi / d)^2
    double time_constant_s(double diffusivity_m2_per_s) const {
      return 1.0 / (eigenvalue_per_m2 * diffusivity_m2_per_s);
    }
  };
  /// How unevenness dies away at the end: as exp(-t / time constant).
  /// Error:  of the grid as above; the iteration's is below 1e-4.
  /// Throws: Error when the iteration does not settle.
  Mode slowest_mode(const Progress& progress = {});

  /// Where a thin part is kept hot by a thick one beside it.
  ///
  /// A part of thickness c, alone, would reach no more than the slab of that thickness, c^2 / 8.
  /// What u has above that has come from the side. `excess_m2` is the largest such surplus; it
  /// times R / diffusivity is the temperature that the place has too much, and the share
  /// excess / largest u is what a caster should look at: 0 for every ball, block, disc and rod, a
  /// few hundredths for tapering solids, more where thick meets thin.
  ///
  /// c is the shortest of three lengths along the axes of the grid: a thin part that lies askew
  /// seems thicker than it is, and the surplus is then too low, never too high.
  struct ThickBesideThin {
    double excess_m2;  ///< 0 where there is none
    Eigen::Vector3d place_m;
    Length thickness;  ///< c there
    Length acts_as;    ///< the slab with u of that place
  };
  ThickBesideThin thick_beside_thin() const;

 private:
  void solve(double tol, const LatticeSolver::Told& told);
  void find_largest();
  void find_mean();

  CutLattice cut_;
  LatticeSolver solver_;
  ZeroedArray<double> u_;  // in spacing^2
  double largest_m2_ = 0.0, mean_m2_ = 0.0, cells_across_ = 0.0;
  Eigen::Vector3d hottest_m_ = Eigen::Vector3d::Zero();
  int iterations_ = 0;
};

}  // namespace thickset
