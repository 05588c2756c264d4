#pragma once

#include <array>
#include <cstddef>
#include <vector>

#include "bench/reference_slab.h"
#include "bench/sundials_handles.h"
#include "bench/workload.h"

namespace thickset::bench {

/// W2 by a general-purpose integrator of differential-algebraic equations: IDA with a sparse
/// Jacobian given in closed form and factored by KLU, begun anew at each corner. Source: [HBG05].
///
/// Unknowns of a node: temperature, six terms of the fictive temperature, six stress branches; then
/// the membrane strain, whose equation is that the stresses have no net force.
class ReferenceRelaxation {
 public:
  /// nodes: odd, for Simpson's rule. Everything that can be made once is made here.
  explicit ReferenceRelaxation(std::size_t nodes);
  ~ReferenceRelaxation();
  ReferenceRelaxation(const ReferenceRelaxation&) = delete;
  ReferenceRelaxation& operator=(const ReferenceRelaxation&) = delete;

  /// Permanent retardation at mid-plane, nm/cm, with this relative local error allowed.
  double solve(double relative_tolerance);

  long steps() const { return steps_; }  ///< of the last solve

 private:
  static constexpr std::size_t terms = Relaxation::terms;
  static constexpr std::size_t per_node = 1 + 2 * terms;
  static constexpr std::size_t first_structure = 1;
  static constexpr std::size_t first_branch = 1 + terms;

  /// Rate of reduced time at a node, with its derivatives.
  struct Clock {
    double rate, by_T, by_fictive;
  };
  Clock clock(const double* node) const;
  double weighted(const double* node) const;  ///< sum of the structure's terms with their weights

  static int residual(double time_s, N_Vector y, N_Vector slope, N_Vector out, void* self);
  static int jacobian(double time_s,
                      double by_slope,
                      N_Vector y,
                      N_Vector slope,
                      N_Vector residual,
                      SUNMatrix matrix,
                      void* self,
                      N_Vector,
                      N_Vector,
                      N_Vector);

  Relaxation relaxation_;
  ReferenceSlab slab_;
  std::size_t unknowns_;
  std::array<double, terms> structure_weight_{}, modulus_MPa_{};
  std::vector<double> thickness_weight_;
  std::vector<double> T_K_, heat_;  ///< of the nodes, work space
  KilnLine kiln_{};
  Context context_;
  Vector y_, slope_, absolute_;
  Matrix matrix_;
  LinearSolver linear_;
  void* integrator_;
  long steps_ = 0;
};

}  // namespace thickset::bench
