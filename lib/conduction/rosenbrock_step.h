#pragma once

#include <array>
#include <cstdint>

#include <Eigen/Core>

#include "conduction/body.h"
#include "conduction/face.h"
#include "conduction/mass.h"
#include "conduction/node_loops.h"
#include "numerics/tridiagonal.h"

namespace thickset::conduction {

/// Temperatures of a body, taken forward one linearly implicit step at a time.
///
/// The step is a six-stage Rosenbrock method of fourth order made for parabolic problems: L-stable,
/// one matrix a step, with a third-order companion for the error ([STE95], [HW96] IV.7). Its
/// unknown is the enthalpy of the glass at each node, so a jump of the heat capacity costs no
/// energy and heat is kept to rounding. A prescribed surface is an algebraic equation.
class RosenbrockStep {
 public:
  /// Keeps a pointer to body, which must outlive it.
  RosenbrockStep(const Body& body, const Face& inner, const Face& outer);

  /// A temperature profile of n nodes at which to begin, the kiln at kiln_K.
  void start(const Eigen::ArrayXd& T_K, double kiln_K);

  /// The kiln jumps while the glass stays as it is; but a prescribed surface jumps with the kiln.
  void jump(double kiln_K);

  /// Tries a step in which the kiln goes on at this slope.
  ///
  /// Returns the estimated error in K, the largest over the nodes (infinity where a temperature is
  /// not a number). The step counts only after accept(); attempts may be repeated.
  double attempt(double dt_s, double kiln_slope_K_per_s);
  /// The attempt just made; kiln_K: the kiln at its end, without the rounding of adding slopes.
  void accept(double dt_s, double kiln_K);

  const Eigen::ArrayXd& T_K() const { return T_now_K_; }
  const Eigen::ArrayXd& T_before_K() const { return T_before_K_; }  ///< before the last accept()
  /// Slopes at the start and end of the last accepted step: of its third-order interpolation, which
  /// is the cubic with these slopes and T_before_K(), T_K() at its ends.
  const Eigen::ArrayXd& slope_before_K_per_s() const { return slope_before_K_per_s_; }
  const Eigen::ArrayXd& slope_K_per_s() const { return slope_K_per_s_; }

  /// Until the first node gets to a jump of the heat capacity, if all go on at their slopes of now.
  double time_to_jump_s() const;

  /// Enthalpy gained since start() and heat passed through the faces since then, J/m2: equal to
  /// rounding.
  double stored_J_per_m2() const;
  double passed_J_per_m2() const { return passed_J_per_m2_; }
  double exchanged_J_per_m2() const { return exchanged_J_per_m2_; }  ///< sum of absolute heats

 private:
  static constexpr int stages = 6;

  /// Values that can be read one before the first and one after the last, as zero.
  struct Guarded {
    Eigen::ArrayXd values;

    const double* data() const { return values.data() + 1; }
    double* data() { return values.data() + 1; }
    double operator()(Eigen::Index node) const { return values(node + 1); }
  };
  /// Of heat at the two faces: into nodes that are not prescribed, W/m2; or its derivative.
  struct AtFaces {
    double inner = 0.0, outer = 0.0;
    double sum() const { return inner + outer; }
  };
  /// What an attempt knows besides the nodes.
  struct Attempt {
    double dt_s, kiln_slope_K_per_s;
    AtFaces drift_W_per_m2_s;      ///< what the kiln's slope adds
    AtFaces stiffness_W_per_m2_K;  ///< where a face exchanges heat, at its temperature of now
  };

  bool find_temperatures(const Eigen::ArrayXd& enthalpy_J_per_kg);
  void set_kiln(double kiln_K);
  void follow_laws();
  void begin_from_now();
  void build_matrix(const Attempt& attempt);
  AtFaces heat_through_faces(const Eigen::ArrayXd& T_K,
                             const Guarded& kirchhoff,
                             double kiln_K) const;
  void add_joints();
  void pass_joints(const Eigen::ArrayXd& T_K, double* into_W_per_m2) const;
  Joint::Flow flow_through(const Joint& joint, const Eigen::ArrayXd& T_K) const;
  const ThermalLaw& heat_capacity(Eigen::Index node) const {
    return body_->region_of(node).heat_capacity_J_per_kg_K;
  }
  double change_through_faces(const double* change_J_per_kg, const Attempt& attempt) const;
  void run_stage(int stage, const Attempt& attempt);
  bool fixed_inside() const { return inner_.kind == Face::Kind::prescribed; }
  bool fixed_outside() const { return outer_.kind == Face::Kind::prescribed; }
  nodes::Rows mass_rows() const {
    return {mass_rows_.col(0).data(), mass_rows_.col(1).data(), mass_rows_.col(2).data()};
  }

  const Body* body_;
  Face inner_, outer_;
  bool layered_;
  Mass mass_;  ///< in kg/m2

  double kiln_K_ = 0.0;
  Eigen::ArrayXd T_now_K_, T_before_K_, slope_before_K_per_s_, slope_K_per_s_;
  Eigen::ArrayXd enthalpy_start_J_per_kg_;
  double passed_J_per_m2_ = 0.0, exchanged_J_per_m2_ = 0.0;

  // All below are filled up to a whole number of fours, with nodes that nothing ever reaches.
  Eigen::Index fours_;
  Eigen::ArrayXXd mass_rows_;
  Eigen::ArrayXd gap_per_m_;  ///< area over spacing below each node and above the last: 0 at ends
  // Of now: the pieces of the laws, 1/c_p, half of c_p' / c_p, k / c_p in kg/(m s), integral of k
  // dT.
  nodes::Pieces capacity_, conductivity_;
  Eigen::ArrayXd T_start_K_, enthalpy_now_J_per_kg_, by_capacity_kg_K_per_J_, bend_per_K_;
  Guarded flow_per_enthalpy_, kirchhoff_now_W_per_m_;
  // Work space of an attempt.
  Eigen::ArrayXXd increments_J_per_kg_;  ///< nodes x stages
  std::array<double, stages> passed_in_stage_{};
  Eigen::ArrayXd enthalpy_J_per_kg_, T_stage_K_, ahead_J_per_kg_;
  Eigen::Array<std::int64_t, Eigen::Dynamic, 1> missed_;
  Guarded past_J_per_kg_, kirchhoff_stage_W_per_m_;
  Tridiagonal matrix_;
};

}  // namespace thickset::conduction
