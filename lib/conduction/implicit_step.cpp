#include "conduction/implicit_step.h"

#include <cassert>
#include <cmath>
#include <limits>
#include <utility>

namespace thickset::conduction {
namespace {

using Eigen::Index;

// TR-BDF2 written as a diagonally implicit Runge-Kutta method ([HS96] table 1, gamma = 2 - sqrt 2):
//   stage 2:  H2 = H1 + dt d (Q1 + Q2),   stage 3:  H3 = H1 + dt (w Q1 + w Q2 + d Q3).
constexpr double d = 0.5 * ImplicitStep::gamma;
constexpr double w = 0.353553390593273762;  // sqrt(2) / 4
// Difference to the third-order companion: dt (e1 Q1 + e2 Q2 + e3 Q3).
constexpr double e1 = (1.0 - 4.0 * w) / 3.0;
constexpr double e2 = 1.0 / 3.0;
constexpr double e3 = -2.0 * d / 3.0;

constexpr int most_iterations = 12;

}  // namespace

ImplicitStep::ImplicitStep(const Body& body,
                           const Face& inner,
                           const Face& outer,
                           double newton_tol_K)
    : body_{&body},
      inner_{inner},
      outer_{outer},
      newton_tol_K_{newton_tol_K},
      T_now_K_{body.nodes()},
      T_mid_K_{body.nodes()},
      T_end_K_{body.nodes()},
      enthalpy_now_J_per_m2_{body.nodes()},
      enthalpy_start_J_per_m2_{body.nodes()},
      T_before_K_{body.nodes()},
      known_J_per_m2_{body.nodes()},
      correction_K_{body.nodes()},
      enthalpy_J_per_m2_{body.nodes()},
      capacity_J_per_m2_K_{body.nodes()},
      conductivity_W_per_m_K_{body.nodes()},
      kirchhoff_W_per_m_{body.nodes()},
      matrix_{body.nodes()} {
  for (Stage* stage : {&now_, &mid_, &end_}) stage->heat_in_W_per_m2.resize(body.nodes());
}

void ImplicitStep::properties(const Eigen::ArrayXd& T_K) {
  const ThermalLaw& heat_capacity = body_->heat_capacity_J_per_kg_K();
  const ThermalLaw& conductivity = body_->conductivity_W_per_m_K();
  const double density = body_->density_kg_per_m3();
  for (Index i = 0; i < T_K.size(); ++i) {
    const double mass_kg_per_m2 = density * body_->volume_m()(i);
    const ThermalLaw::Value c = heat_capacity.value(T_K(i));
    const ThermalLaw::Value k = conductivity.value(T_K(i));
    enthalpy_J_per_m2_(i) = mass_kg_per_m2 * c.integral;
    capacity_J_per_m2_K_(i) = mass_kg_per_m2 * c.at;
    kirchhoff_W_per_m_(i) = k.integral;
    conductivity_W_per_m_K_(i) = k.at;
  }
}

void ImplicitStep::conduction_in(Eigen::ArrayXd& heat_in_W_per_m2) const {
  heat_in_W_per_m2(0) = 0.0;
  for (Index i = 0; i + 1 < body_->nodes(); ++i) {
    const double inward =
        body_->area_by_spacing_per_m()(i) * (kirchhoff_W_per_m_(i + 1) - kirchhoff_W_per_m_(i));
    heat_in_W_per_m2(i) += inward;
    heat_in_W_per_m2(i + 1) = -inward;
  }
}

void ImplicitStep::heat_flows(const Eigen::ArrayXd& T_K, double kiln_K, Stage& stage) {
  conduction_in(stage.heat_in_W_per_m2);
  stage.faces_W_per_m2 = 0.0;
  const Index last = body_->nodes() - 1;
  if (outer_.kind == Face::Kind::exchange) {
    const double heat = outer_.heat_in_W_per_m2(kiln_K, T_K(last));
    stage.heat_in_W_per_m2(last) += heat;
    stage.faces_W_per_m2 += heat;
  }
  if (inner_.kind == Face::Kind::exchange) {
    const double heat = body_->inner_area() * inner_.heat_in_W_per_m2(kiln_K, T_K(0));
    stage.heat_in_W_per_m2(0) += heat;
    stage.faces_W_per_m2 += heat;
  }
}

void ImplicitStep::start(const Eigen::ArrayXd& T_K, double kiln_K) {
  assert(T_K.size() == body_->nodes());
  T_now_K_ = T_K;
  properties(T_now_K_);
  enthalpy_start_J_per_m2_ = enthalpy_J_per_m2_;
  enthalpy_now_J_per_m2_ = enthalpy_J_per_m2_;
  passed_J_per_m2_ = 0.0;
  exchanged_J_per_m2_ = 0.0;
  jump(kiln_K);
}

void ImplicitStep::jump(double kiln_K) {
  const Index last = body_->nodes() - 1;
  for (const Index node : {Index{0}, last}) {
    if (fixed(node)) T_now_K_(node) = kiln_K;
  }
  properties(T_now_K_);
  for (const Index node : {Index{0}, last}) {
    if (!fixed(node)) continue;
    // The cell at a prescribed face takes its heat at once.
    const double passed = enthalpy_J_per_m2_(node) - enthalpy_now_J_per_m2_(node);
    passed_J_per_m2_ += passed;
    exchanged_J_per_m2_ += std::abs(passed);
  }
  enthalpy_now_J_per_m2_ = enthalpy_J_per_m2_;
  heat_flows(T_now_K_, kiln_K, now_);
  previous_dt_s_ = 0.0;
}

double ImplicitStep::dT_dt_K_per_s(Index node) const {
  const ThermalLaw::Value c = body_->heat_capacity_J_per_kg_K().value(T_now_K_(node));
  return now_.heat_in_W_per_m2(node) /
         (body_->density_kg_per_m3() * body_->volume_m()(node) * c.at);
}

bool ImplicitStep::solve_stage(double implicit_dt_s,
                               double kiln_K,
                               Eigen::ArrayXd& T_K,
                               Stage& stage) {
  const Index n = body_->nodes();
  const Index last = n - 1;
  if (fixed(0)) T_K(0) = kiln_K;
  if (fixed(last)) T_K(last) = kiln_K;
  for (int iteration = 0; iteration < most_iterations; ++iteration) {
    properties(T_K);
    heat_flows(T_K, kiln_K, stage);

    matrix_.diagonal = capacity_J_per_m2_K_;
    for (Index i = 0; i + 1 < n; ++i) {
      const double coupling_s_per_m = implicit_dt_s * body_->area_by_spacing_per_m()(i);
      matrix_.diagonal(i) += coupling_s_per_m * conductivity_W_per_m_K_(i);
      matrix_.diagonal(i + 1) += coupling_s_per_m * conductivity_W_per_m_K_(i + 1);
      matrix_.upper(i) = -coupling_s_per_m * conductivity_W_per_m_K_(i + 1);
      matrix_.lower(i + 1) = -coupling_s_per_m * conductivity_W_per_m_K_(i);
    }
    correction_K_ = known_J_per_m2_ + implicit_dt_s * stage.heat_in_W_per_m2 - enthalpy_J_per_m2_;
    double outer_stiffness = 0.0;
    double inner_stiffness = 0.0;
    if (outer_.kind == Face::Kind::exchange) {
      outer_stiffness = outer_.stiffness_W_per_m2_K(T_K(last));
      matrix_.diagonal(last) += implicit_dt_s * outer_stiffness;
    }
    if (inner_.kind == Face::Kind::exchange) {
      inner_stiffness = body_->inner_area() * inner_.stiffness_W_per_m2_K(T_K(0));
      matrix_.diagonal(0) += implicit_dt_s * inner_stiffness;
    }
    if (fixed(last)) {
      matrix_.diagonal(last) = 1.0;
      matrix_.lower(last) = 0.0;
      correction_K_(last) = 0.0;
    }
    if (fixed(0)) {
      matrix_.diagonal(0) = 1.0;
      matrix_.upper(0) = 0.0;
      correction_K_(0) = 0.0;
    }
    matrix_.factor();
    matrix_.solve(correction_K_);
    T_K += correction_K_;
    const double largest_K = correction_K_.abs().maxCoeff();
    if (!std::isfinite(largest_K)) return false;
    if (largest_K > newton_tol_K_) continue;

    // The flows at the corrected temperatures, to second order in the last correction, follow from
    // the linear equation just solved: implicit_dt Q = H + C correction - known.
    enthalpy_J_per_m2_ += capacity_J_per_m2_K_ * correction_K_;
    Eigen::ArrayXd& heat = stage.heat_in_W_per_m2;
    const double at_first = heat(0);
    const double at_last = heat(last);
    heat = (enthalpy_J_per_m2_ - known_J_per_m2_) / implicit_dt_s;
    stage.faces_W_per_m2 -=
        outer_stiffness * correction_K_(last) + inner_stiffness * correction_K_(0);
    // A prescribed node keeps the conduction into it, corrected for its neighbour.
    if (fixed(last)) {
      heat(last) = at_last + body_->area_by_spacing_per_m()(last - 1) *
                                 conductivity_W_per_m_K_(last - 1) * correction_K_(last - 1);
    }
    if (fixed(0)) {
      heat(0) = at_first +
                body_->area_by_spacing_per_m()(0) * conductivity_W_per_m_K_(1) * correction_K_(1);
    }
    return true;
  }
  return false;
}

double ImplicitStep::attempt(double dt_s, double kiln_mid_K, double kiln_end_K) {
  constexpr double failed = std::numeric_limits<double>::infinity();
  const double implicit_dt_s = d * dt_s;
  last_dt_s_ = dt_s;

  T_mid_K_ = T_now_K_;
  if (previous_dt_s_ > 0.0) {
    T_mid_K_ += (T_now_K_ - T_before_K_) * (gamma * dt_s / previous_dt_s_);
  }
  known_J_per_m2_ = enthalpy_now_J_per_m2_ + implicit_dt_s * now_.heat_in_W_per_m2;
  if (!solve_stage(implicit_dt_s, kiln_mid_K, T_mid_K_, mid_)) return failed;

  T_end_K_ = T_now_K_ + (T_mid_K_ - T_now_K_) * (1.0 / gamma);
  known_J_per_m2_ =
      enthalpy_now_J_per_m2_ + (w * dt_s) * (now_.heat_in_W_per_m2 + mid_.heat_in_W_per_m2);
  if (!solve_stage(implicit_dt_s, kiln_end_K, T_end_K_, end_)) return failed;

  correction_K_ =
      dt_s * (e1 * now_.heat_in_W_per_m2 + e2 * mid_.heat_in_W_per_m2 + e3 * end_.heat_in_W_per_m2);
  const Index last = body_->nodes() - 1;
  if (fixed(0)) correction_K_(0) = 0.0;
  if (fixed(last)) correction_K_(last) = 0.0;
  matrix_.solve(correction_K_);
  return correction_K_.abs().maxCoeff();
}

void ImplicitStep::accept() {
  const Index last = body_->nodes() - 1;
  const double dt_s = last_dt_s_;
  double passed =
      dt_s * (w * (now_.faces_W_per_m2 + mid_.faces_W_per_m2) + d * end_.faces_W_per_m2);
  for (const Index node : {Index{0}, last}) {
    if (!fixed(node)) continue;
    // Through a prescribed face passes what its cell stored less what conduction brought.
    passed += enthalpy_J_per_m2_(node) - enthalpy_now_J_per_m2_(node) -
              dt_s * (w * (now_.heat_in_W_per_m2(node) + mid_.heat_in_W_per_m2(node)) +
                      d * end_.heat_in_W_per_m2(node));
  }
  passed_J_per_m2_ += passed;
  exchanged_J_per_m2_ += std::abs(passed);
  enthalpy_now_J_per_m2_ = enthalpy_J_per_m2_;
  T_before_K_.swap(T_now_K_);
  T_now_K_.swap(T_end_K_);
  T_end_K_ = T_now_K_;
  std::swap(now_, end_);
  previous_dt_s_ = dt_s;
}

double ImplicitStep::stored_J_per_m2() const {
  double stored = 0.0;
  for (Index i = 0; i < body_->nodes(); ++i) {
    stored += body_->density_kg_per_m3() * body_->volume_m()(i) *
                  body_->heat_capacity_J_per_kg_K().value(T_now_K_(i)).integral -
              enthalpy_start_J_per_m2_(i);
  }
  return stored;
}

}  // namespace thickset::conduction
