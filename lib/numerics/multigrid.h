#pragma once

#include <vector>

#include "numerics/seven_point.h"

namespace thickset {

/// One multigrid V-cycle for a lattice problem: a symmetric, positive definite approximation of its
/// inverse, to be used as a preconditioner.
///
/// Coarse lattices take every second node, straight-line interpolation and its transpose; two
/// Jacobi steps before and after with the weights of the Chebyshev polynomial that damps the upper
/// part of the spectrum. Single precision: the iteration around it keeps the digits.
/// No allocation after construction.
/// Source: [TOS01] sections 2.4, 4.1 (smoothing, transfer), [SAAD03] 12.3 (polynomial).
class Multigrid {
 public:
  explicit Multigrid(LatticeProblem problem);

  const SevenPoint& matrix() const { return levels_.front().matrix; }

  /// To be filled before cycle(); 0 where there is no unknown.
  float* right_side() { return levels_.front().b.data(); }

  /// About A^-1 right_side(). Kept until the next cycle.
  const float* cycle();

 private:
  /// A node that takes another share of what straight lines between coarse nodes give: near a
  /// surface they go wrong.
  struct Share {
    std::int32_t node;
    float factor;
  };
  struct Level {
    /// coarse: the next level's, or null if there is none.
    Level(LatticeProblem problem, const LatticeProblem* coarse);
    SevenPoint matrix;
    ZeroedArray<float> x, b, spare;
    std::vector<Share> shares;              // sorted by node
    std::vector<std::size_t> share_begins;  // of each plane, among shares
  };

  // Planes are worked through once for all steps of a visit, each step one plane behind the one
  // before it, so that what it reads is still in the cache.
  void cycle(std::size_t level);
  void smooth_from_zero(Level& level) const;
  void restrict_residual(Level& fine, Level& coarse);
  void correct_and_smooth(const Level* coarse, Level& level);
  void add_correction(const Level& coarse, Level& fine, int plane);

  std::vector<Level> levels_;
  ZeroedArray<float> row_;
};

}  // namespace thickset
