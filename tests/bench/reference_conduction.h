#pragma once

#include <cstddef>

#include "bench/reference_slab.h"
#include "bench/sundials_handles.h"
#include "bench/workload.h"

namespace thickset::bench {

/// W1 by a general-purpose stiff integrator: the method of lines on the same nodes, CVODE's
/// backward differences of variable order, Newton's method with a banded Jacobian given in closed
/// form, begun anew at each corner of the course. Source: [HBG05].
class ReferenceConduction {
 public:
  /// Everything that can be made once is made here, outside what is timed.
  explicit ReferenceConduction(std::size_t nodes);
  ~ReferenceConduction();
  ReferenceConduction(const ReferenceConduction&) = delete;
  ReferenceConduction& operator=(const ReferenceConduction&) = delete;

  /// Relative local error allowed: of a temperature of 1000 K, this share.
  SixPeaks solve(double relative_tolerance);

  long steps() const { return steps_; }  ///< of the last solve

 private:
  static int rate(double time_s, N_Vector T_K, N_Vector rate_K_per_s, void* self);
  static int jacobian(double time_s,
                      N_Vector T_K,
                      N_Vector rate_K_per_s,
                      SUNMatrix matrix,
                      void* self,
                      N_Vector,
                      N_Vector,
                      N_Vector);

  ReferenceSlab slab_;
  KilnLine kiln_{};
  Context context_;
  Vector T_K_, rate_K_per_s_;
  Matrix matrix_;
  LinearSolver linear_;
  void* integrator_;
  long steps_ = 0;
};

}  // namespace thickset::bench
