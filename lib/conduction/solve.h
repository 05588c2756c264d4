#pragma once

#include <Eigen/Core>

#include "conduction/body.h"
#include "conduction/face.h"
#include "conduction/rosenbrock_step.h"
#include "kiln/follow.h"

namespace thickset::conduction {

struct SolveSettings {
  /// Aim for the error that the time steps leave in any temperature, K; the error falls at least in
  /// proportion to it.
  double tolerance_K = 0.02;
  /// Longest and shortest step. Nothing but accuracy asks for a longest one.
  double longest_step_s = 1e7;
  double shortest_step_s = 1e-12;
};

/// Temperatures of a body whose kiln follows a curve, step by step; steps end on the curve's
/// corners.
///
///   Solver solver{body, inner, outer, air, T_K};
///   while (solver.advance()) use(solver.time_s(), solver.T_K());
class Solver {
 public:
  /// Body and air must outlive the solver. T_K: n nodes at the curve's first corner.
  Solver(const Body& body,
         const Face& inner,
         const Face& outer,
         const AirCurve& air,
         const Eigen::ArrayXd& T_K,
         const SolveSettings& settings = {});

  /// Goes on where another has come to, its kiln now on a curve that begins here; the same body,
  /// which must outlive this one too. Steps are those of one solver on both curves, to rounding.
  Solver(const Solver& before, const AirCurve& air);

  /// From here on the kiln follows another curve, whose corners up to here are the same.
  void turn_to(const AirCurve& air) { air_ = &air; }

  /// Takes one step; false when the curve's end had been reached already.
  /// Throws: Error when no step however short is accurate enough (input beyond reason).
  bool advance();

  double time_s() const { return time_s_; }
  double before_s() const { return before_s_; }  ///< start of the last step
  double kiln_K() const { return kiln_K_; }
  double kiln_before_K() const { return kiln_before_K_; }
  /// Index of the air curve's corner that ends the stretch of the last step.
  std::size_t corner() const { return step_corner_; }
  const Eigen::ArrayXd& T_K() const { return step_.T_K(); }
  const Eigen::ArrayXd& T_before_K() const { return step_.T_before_K(); }
  /// Slopes at the start and end of the last step, of the cubic that its temperatures follow.
  const Eigen::ArrayXd& slope_before_K_per_s() const { return step_.slope_before_K_per_s(); }
  const Eigen::ArrayXd& slope_K_per_s() const { return step_.slope_K_per_s(); }
  double dT_dt_K_per_s(Eigen::Index node) const { return slope_K_per_s()(node); }

  /// Enthalpy stored less heat passed since the start, over all heat exchanged: the balance that
  /// should be zero.
  double heat_balance_error() const;

  int steps() const { return steps_; }
  int rejected() const { return rejected_; }

 private:
  bool next_stretch();
  double kiln_slope_K_per_s() const;

  const AirCurve* air_;
  RosenbrockStep step_;
  SolveSettings settings_;
  double time_s_ = 0.0, before_s_ = 0.0;
  double kiln_K_ = 0.0, kiln_before_K_ = 0.0;
  double proposed_s_ = 0.0;
  double slope_K_per_s_ = 0.0;  ///< of the kiln on the stretch under way
  bool on_stretch_ = false;
  std::size_t corner_ = 0;  ///< the corner at or before time_s_
  std::size_t step_corner_ = 0;
  int steps_ = 0, rejected_ = 0;
};

}  // namespace thickset::conduction
