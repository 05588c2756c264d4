#pragma once

#include <Eigen/Core>

#include "conduction/body.h"
#include "conduction/face.h"
#include "numerics/tridiagonal.h"

namespace thickset::conduction {

/// Temperatures of a body, taken forward one implicit step at a time.
///
/// The step is TR-BDF2 ([BANK85], [HS96]): a trapezoidal stage to t + gamma dt, gamma = 2 - sqrt 2,
/// then second-order backward differences to t + dt; second order, L-stable, with a third-order
/// companion for the error. Its unknown is the enthalpy of each cell, so a jump of the heat
/// capacity costs no energy; Newton's method solves each stage.
class ImplicitStep {
 public:
  /// Keeps a pointer to body, which must outlive it. newton_tol_K: the iteration stops when a
  /// correction is below it; it converges quadratically, so the error left is far smaller.
  ImplicitStep(const Body& body, const Face& inner, const Face& outer, double newton_tol_K);

  /// A temperature profile of n nodes at which to begin, the kiln at kiln_K.
  void start(const Eigen::ArrayXd& T_K, double kiln_K);

  /// The kiln jumps while the glass stays as it is; but a prescribed surface jumps with the kiln.
  void jump(double kiln_K);

  /// The kiln's course bends here: the next first guess does not extrapolate the last step.
  void forget_course() { previous_dt_s_ = 0.0; }

  /// Tries a step; kiln temperatures at t + gamma dt and at its end.
  ///
  /// Returns the estimated error in K, the largest over the nodes (infinity where Newton's method
  /// does not converge). The step counts only after accept(); attempts may be repeated.
  double attempt(double dt_s, double kiln_mid_K, double kiln_end_K);
  void accept();

  static constexpr double gamma = 0.585786437626904951;  // 2 - sqrt 2

  const Eigen::ArrayXd& T_K() const { return T_now_K_; }
  const Eigen::ArrayXd& T_before_K() const { return T_before_K_; }  ///< before the last accept()
  const Eigen::ArrayXd& T_mid_K() const { return T_mid_K_; }        ///< of the last attempt
  const Eigen::ArrayXd& T_end_K() const { return T_end_K_; }        ///< of the last attempt
  double dT_dt_K_per_s(Eigen::Index node) const;                    ///< now

  /// Enthalpy gained since start() and heat passed through the faces since then, J/m2: equal but
  /// for what the iteration left over.
  double stored_J_per_m2() const;
  double passed_J_per_m2() const { return passed_J_per_m2_; }
  double exchanged_J_per_m2() const { return exchanged_J_per_m2_; }  ///< sum of absolute heats

 private:
  struct Stage {
    Eigen::ArrayXd heat_in_W_per_m2;  ///< net heat into each cell
    double faces_W_per_m2 = 0.0;      ///< of it through the faces that exchange
  };
  void properties(const Eigen::ArrayXd& T_K);
  void heat_flows(const Eigen::ArrayXd& T_K, double kiln_K, Stage& stage);
  bool solve_stage(double implicit_dt_s, double kiln_K, Eigen::ArrayXd& T_K, Stage& stage);
  void conduction_in(Eigen::ArrayXd& heat_in_W_per_m2) const;
  bool fixed(Eigen::Index node) const {
    return (node == 0 && inner_.kind == Face::Kind::prescribed) ||
           (node == body_->nodes() - 1 && outer_.kind == Face::Kind::prescribed);
  }

  const Body* body_;
  Face inner_, outer_;
  double newton_tol_K_;

  Eigen::ArrayXd T_now_K_, T_mid_K_, T_end_K_;
  Eigen::ArrayXd enthalpy_now_J_per_m2_, enthalpy_start_J_per_m2_;
  Stage now_, mid_, end_;
  double last_dt_s_ = 0.0;
  double previous_dt_s_ = 0.0;
  double passed_J_per_m2_ = 0.0;
  double exchanged_J_per_m2_ = 0.0;
  Eigen::ArrayXd
      T_before_K_;  ///< profile at the start of the last accepted step, for the first guess

  // Work space of an attempt.
  Eigen::ArrayXd known_J_per_m2_, correction_K_, enthalpy_J_per_m2_;
  Eigen::ArrayXd capacity_J_per_m2_K_, conductivity_W_per_m_K_, kirchhoff_W_per_m_;
  Tridiagonal matrix_;
};

}  // namespace thickset::conduction
