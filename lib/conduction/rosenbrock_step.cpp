#include "conduction/rosenbrock_step.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <limits>

#include "numerics/lanes.h"

namespace thickset::conduction {
namespace {

using Eigen::ArrayXd;
using Eigen::Index;

// Coefficients of [STE95] in the form that needs no product with the Jacobian ([HW96] (IV.7.25)):
//   (M/(gamma dt) - J) u_i = f(t + alpha_i dt, y + sum_j a_ij u_j) + M sum_j c_ij u_j / dt
//                            + d_i dt df/dt.
constexpr int stages = 6;
constexpr int summed = nodes::summed;
constexpr double gamma = 0.25;
constexpr double alpha[stages] = {0.0, 0.75, 0.21, 0.63, 1.0, 1.0};
constexpr double d[stages] = {0.25, -0.5, -0.023504, -0.0362, 0.0, 0.0};
// Stage 6 starts from stage 5 plus u_5, the result is that plus u_6, and u_6 is the error.
constexpr double a[stages][summed] = {
    {},
    {3.0},
    {1.831036793486759, 0.4955183967433795},
    {2.304376582692669, -0.05249275245743001, -1.176798761832782},
    {-7.170454962423024, -4.741636671481785, -16.31002631330971, -1.062004044111401},
    {-7.170454962423024, -4.741636671481785, -16.31002631330971, -1.062004044111401, 1.0}};
constexpr double c[stages][summed] = {
    {},
    {-12.0},
    {-8.791795173947035, -2.207865586973518},
    {10.81793056857153, 6.780270611428266, 19.53485944642410},
    {34.19095006749676, 15.49671153725963, 54.74760875964130, 14.16005392148534},
    {34.62605830930532,
     15.30084976114473,
     56.99955578662667,
     18.40807009793095,
     -5.714285714285717}};
// Slopes of the third-order interpolation at the step's start and end, over the step:
//   y1 - y0 + sum_j start_j u_j and y1 - y0 - sum_j (start_j + growth_j) u_j.
constexpr double bend_start[summed] = {25.09876703708589,
                                       11.62013104361867,
                                       28.49148307714626,
                                       -5.664021568594133,
                                       0.0};
constexpr double bend_growth[summed] = {1.638054557396973,
                                        -0.7373619806678748,
                                        8.477918219238990,
                                        15.99253148779520,
                                        -1.882352941176471};

// The last correction of a temperature by Newton's method: what it leaves is about its square times
// half of c_p'/c_p, 2e-6 K.
constexpr double last_correction_K = 0.1;
constexpr int most_corrections = 20;

}  // namespace

RosenbrockStep::RosenbrockStep(const Body& body, const Face& inner, const Face& outer)
    : body_{&body},
      inner_{inner},
      outer_{outer},
      layered_{!body.joints().empty()},
      mass_{body, inner.kind, outer.kind},
      fours_{fours(body.nodes())},
      capacity_{body.nodes()},
      conductivity_{body.nodes()},
      matrix_{body.nodes()} {
  const Index n = body.nodes();
  for (ArrayXd* values : {&mass_.lower, &mass_.diagonal, &mass_.upper, &mass_.column_sum}) {
    for (const Body::Region& region : body.regions()) {
      values->segment(region.first, region.count) *= region.density_kg_per_m3;
    }
  }
  for (ArrayXd* values : {&T_now_K_,
                          &T_before_K_,
                          &slope_before_K_per_s_,
                          &slope_K_per_s_,
                          &enthalpy_start_J_per_kg_}) {
    values->setZero(n);
  }
  const Index filled = fours_ * lanes;
  mass_rows_.setZero(filled, 3);
  mass_rows_.topRows(n) << mass_.lower, mass_.diagonal, mass_.upper;
  gap_per_m_.setZero(filled + 1);
  gap_per_m_.segment(1, n - 1) = body.area_by_spacing_per_m();
  for (ArrayXd* values : {&enthalpy_now_J_per_kg_,
                          &by_capacity_kg_K_per_J_,
                          &bend_per_K_,
                          &enthalpy_J_per_kg_,
                          &T_stage_K_,
                          &ahead_J_per_kg_}) {
    values->setZero(filled);
  }
  missed_.setZero(filled);
  T_start_K_.setConstant(filled, nodes::filling_K);
  for (Guarded* guarded :
       {&flow_per_enthalpy_, &kirchhoff_now_W_per_m_, &past_J_per_kg_, &kirchhoff_stage_W_per_m_}) {
    guarded->values.setZero(filled + 2);
  }
  increments_J_per_kg_.setZero(filled, stages);
}

/// Sets T_stage_K_ and its integral of k dT. By Newton's method from the parabola of the step's
/// start, which leaves one correction to do but where the heat capacity jumps. Returns whether the
/// laws' pieces of now cover all.
bool RosenbrockStep::find_temperatures(const ArrayXd& enthalpy_J_per_kg) {
  const Index n = body_->nodes();
  const bool found =
      nodes::find_temperatures(fours_,
                               capacity_.columns(),
                               conductivity_.columns(),
                               {.enthalpy_J_per_kg = enthalpy_now_J_per_kg_.data(),
                                .T_K = T_start_K_.data(),
                                .by_capacity_kg_K_per_J = by_capacity_kg_K_per_J_.data(),
                                .bend_per_K = bend_per_K_.data()},
                               enthalpy_J_per_kg.data(),
                               last_correction_K,
                               T_stage_K_.data(),
                               kirchhoff_stage_W_per_m_.data(),
                               missed_.data());
  if (found) return true;
  for (Index i = 0; i < n; ++i) {
    if (missed_(i) == 0) continue;
    const Body::Region& region = body_->region_of(i);
    const ThermalLaw& heat_capacity = region.heat_capacity_J_per_kg_K;
    double& T_K = T_stage_K_(i);
    for (int correction = 0; correction < most_corrections; ++correction) {
      const ThermalLaw::Value value = heat_capacity.value(T_K);
      const double more_K = (enthalpy_J_per_kg(i) - value.integral) / value.at;
      T_K += more_K;
      if (!(std::abs(more_K) > last_correction_K)) break;
    }
    kirchhoff_stage_W_per_m_.data()[i] = region.conductivity_W_per_m_K.integral(T_K);
  }
  return false;
}

void RosenbrockStep::follow_laws() {
  for (const Body::Region& region : body_->regions()) {
    capacity_.follow(region.heat_capacity_J_per_kg_K, region.first, region.count, T_now_K_);
    conductivity_.follow(region.conductivity_W_per_m_K, region.first, region.count, T_now_K_);
  }
}

void RosenbrockStep::begin_from_now() {
  T_start_K_.head(body_->nodes()) = T_now_K_;
  nodes::find_properties(fours_,
                         capacity_.columns(),
                         conductivity_.columns(),
                         T_start_K_.data(),
                         by_capacity_kg_K_per_J_.data(),
                         bend_per_K_.data(),
                         flow_per_enthalpy_.data(),
                         kirchhoff_now_W_per_m_.data());
}

void RosenbrockStep::start(const ArrayXd& T_K, double kiln_K) {
  assert(T_K.size() == body_->nodes());
  T_now_K_ = T_K;
  for (Index i = 0; i < T_K.size(); ++i) {
    enthalpy_now_J_per_kg_(i) = heat_capacity(i).integral(T_K(i));
  }
  enthalpy_start_J_per_kg_ = enthalpy_now_J_per_kg_.head(T_K.size());
  passed_J_per_m2_ = 0.0;
  exchanged_J_per_m2_ = 0.0;
  jump(kiln_K);
}

void RosenbrockStep::jump(double kiln_K) {
  set_kiln(kiln_K);
  follow_laws();
  begin_from_now();
}

void RosenbrockStep::set_kiln(double kiln_K) {
  kiln_K_ = kiln_K;
  const auto set = [&](Index node) {
    const double enthalpy = heat_capacity(node).integral(kiln_K);
    const double passed = mass_.column_sum(node) * (enthalpy - enthalpy_now_J_per_kg_(node));
    passed_J_per_m2_ += passed;
    exchanged_J_per_m2_ += std::abs(passed);
    T_now_K_(node) = kiln_K;
    enthalpy_now_J_per_kg_(node) = enthalpy;
  };
  if (fixed_inside()) set(0);
  if (fixed_outside()) set(body_->nodes() - 1);
}

void RosenbrockStep::build_matrix(const Attempt& attempt) {
  const Index last = body_->nodes() - 1;
  nodes::build_matrix(body_->nodes(),
                      gap_per_m_.data(),
                      flow_per_enthalpy_.data(),
                      mass_rows(),
                      1.0 / (gamma * attempt.dt_s),
                      matrix_.lower.data(),
                      matrix_.diagonal.data(),
                      matrix_.upper.data());
  matrix_.diagonal(last) += attempt.stiffness_W_per_m2_K.outer * by_capacity_kg_K_per_J_(last);
  matrix_.diagonal(0) += attempt.stiffness_W_per_m2_K.inner * by_capacity_kg_K_per_J_(0);
  if (layered_) add_joints();
  if (fixed_outside()) {
    matrix_.diagonal(last) = 1.0;
    matrix_.lower(last) = 0.0;
  }
  if (fixed_inside()) {
    matrix_.diagonal(0) = 1.0;
    matrix_.upper(0) = 0.0;
  }
  matrix_.factor();
}

Joint::Flow RosenbrockStep::flow_through(const Joint& joint, const ArrayXd& T_K) const {
  const auto regions = body_->regions();
  return joint.flow(regions[joint.left_region].conductivity_W_per_m_K,
                    regions[joint.right_region].conductivity_W_per_m_K,
                    T_K(joint.left),
                    T_K(joint.left + 1));
}

/// What joints add to the matrix, from their flows' derivatives.
void RosenbrockStep::add_joints() {
  for (const Joint& joint : body_->joints()) {
    const Index left = joint.left;
    const Index right = left + 1;
    const Joint::Flow flow = flow_through(joint, T_now_K_);
    const double by_left = flow.by_left_W_per_m2_K * by_capacity_kg_K_per_J_(left);
    const double by_right = flow.by_right_W_per_m2_K * by_capacity_kg_K_per_J_(right);
    matrix_.diagonal(left) -= by_left;
    matrix_.upper(left) -= by_right;
    matrix_.lower(right) += by_left;
    matrix_.diagonal(right) += by_right;
  }
}

/// What passes at joints, into the cells on both sides.
void RosenbrockStep::pass_joints(const ArrayXd& T_K, double* into_W_per_m2) const {
  for (const Joint& joint : body_->joints()) {
    const double into_left_W_per_m2 = flow_through(joint, T_K).into_left_W_per_m2;
    into_W_per_m2[joint.left] += into_left_W_per_m2;
    into_W_per_m2[joint.left + 1] -= into_left_W_per_m2;
  }
}

RosenbrockStep::AtFaces RosenbrockStep::heat_through_faces(const ArrayXd& T_K,
                                                           const Guarded& kirchhoff,
                                                           double kiln_K) const {
  const Index last = body_->nodes() - 1;
  AtFaces heat;
  if (outer_.kind == Face::Kind::exchange) {
    heat.outer = outer_.heat_in_W_per_m2(kiln_K, T_K(last));
  } else if (fixed_outside()) {
    heat.outer = gap_per_m_(last) * (kirchhoff(last) - kirchhoff(last - 1));
  }
  if (inner_.kind == Face::Kind::exchange) {
    heat.inner = body_->inner_area() * inner_.heat_in_W_per_m2(kiln_K, T_K(0));
  } else if (fixed_inside()) {
    heat.inner = gap_per_m_(1) * (kirchhoff(0) - kirchhoff(1));
  }
  return heat;
}

/// What the step's linearisation makes of a change of the enthalpies.
double RosenbrockStep::change_through_faces(const double* change_J_per_kg,
                                            const Attempt& attempt) const {
  const Index last = body_->nodes() - 1;
  const auto flow = [&](Index node) { return flow_per_enthalpy_(node) * change_J_per_kg[node]; };
  double change =
      -attempt.stiffness_W_per_m2_K.outer * by_capacity_kg_K_per_J_(last) * change_J_per_kg[last] -
      attempt.stiffness_W_per_m2_K.inner * by_capacity_kg_K_per_J_(0) * change_J_per_kg[0];
  if (fixed_outside()) change += gap_per_m_(last) * (flow(last) - flow(last - 1));
  if (fixed_inside()) change += gap_per_m_(1) * (flow(0) - flow(1));
  return change;
}

void RosenbrockStep::run_stage(int stage, const Attempt& attempt) {
  const Index last = body_->nodes() - 1;
  const double per_s = 1.0 / attempt.dt_s;
  const double kiln_K = kiln_K_ + alpha[stage] * attempt.dt_s * attempt.kiln_slope_K_per_s;
  const bool first = stage == 0;
  double past_weight[summed];
  for (int j = 0; j < summed; ++j) past_weight[j] = c[stage][j] * per_s;
  nodes::sum_increments(fours_,
                        increments_J_per_kg_.data(),
                        a[stage],
                        past_weight,
                        enthalpy_now_J_per_kg_.data(),
                        enthalpy_J_per_kg_.data(),
                        past_J_per_kg_.data());
  if (!first) find_temperatures(enthalpy_J_per_kg_);
  const ArrayXd& T_K = first ? T_now_K_ : T_stage_K_;
  const Guarded& kirchhoff = first ? kirchhoff_now_W_per_m_ : kirchhoff_stage_W_per_m_;
  const AtFaces heat = heat_through_faces(T_K, kirchhoff, kiln_K);
  const double drifted_s = d[stage] * attempt.dt_s;

  auto increment = increments_J_per_kg_.col(stage);
  nodes::balance(fours_,
                 gap_per_m_.data(),
                 kirchhoff.data(),
                 mass_rows(),
                 past_J_per_kg_.data(),
                 increment.data());
  if (layered_) pass_joints(T_K, increment.data());
  increment(last) += heat.outer + drifted_s * attempt.drift_W_per_m2_s.outer;
  increment(0) += heat.inner + drifted_s * attempt.drift_W_per_m2_s.inner;
  const auto set_fixed = [&](Index node) {
    const ThermalLaw& capacity = heat_capacity(node);
    increment(node) = capacity.integral(kiln_K) - enthalpy_J_per_kg_(node) +
                      drifted_s * (capacity.at(kiln_K_) * attempt.kiln_slope_K_per_s);
  };
  if (fixed_inside()) set_fixed(0);
  if (fixed_outside()) set_fixed(last);
  matrix_.solve(increment.data());

  // The heat through the faces is integrated by the same formula, as one more unknown.
  double passed = heat.sum() + change_through_faces(increment.data(), attempt) +
                  drifted_s * attempt.drift_W_per_m2_s.sum();
  for (std::size_t j = 0; j < summed; ++j) passed += past_weight[j] * passed_in_stage_[j];
  passed_in_stage_[static_cast<std::size_t>(stage)] = gamma * attempt.dt_s * passed;
}

double RosenbrockStep::attempt(double dt_s, double kiln_slope_K_per_s) {
  const auto stiffness = [](const Face& face, double T_K) {
    return face.kind == Face::Kind::exchange ? face.stiffness_W_per_m2_K(T_K) : 0.0;
  };
  const Index last = body_->nodes() - 1;
  const double inner_area = body_->inner_area();
  const Attempt attempt{
      .dt_s = dt_s,
      .kiln_slope_K_per_s = kiln_slope_K_per_s,
      .drift_W_per_m2_s = {.inner = kiln_slope_K_per_s * inner_area * stiffness(inner_, kiln_K_),
                           .outer = kiln_slope_K_per_s * stiffness(outer_, kiln_K_)},
      .stiffness_W_per_m2_K = {.inner = inner_area * stiffness(inner_, T_now_K_(0)),
                               .outer = stiffness(outer_, T_now_K_(last))}};
  build_matrix(attempt);
  increments_J_per_kg_.setZero();  // stages to come enter sums with a weight of zero
  passed_in_stage_.fill(0.0);
  for (int stage = 0; stage < stages; ++stage) run_stage(stage, attempt);
  const auto error_J_per_kg = increments_J_per_kg_.col(stages - 1);
  enthalpy_J_per_kg_ += error_J_per_kg;
  const double error_K = (error_J_per_kg * by_capacity_kg_K_per_J_).abs().maxCoeff();
  // A sum, unlike a maximum, does not lose what is not a number.
  const bool numbers = std::isfinite(enthalpy_J_per_kg_.sum()) && std::isfinite(error_K);
  return numbers ? error_K : std::numeric_limits<double>::infinity();
}

void RosenbrockStep::accept(double dt_s, double kiln_K) {
  double passed = passed_in_stage_[stages - 1];
  for (std::size_t j = 0; j < summed; ++j) passed += a[stages - 1][j] * passed_in_stage_[j];
  passed_J_per_m2_ += passed;
  exchanged_J_per_m2_ += std::abs(passed);
  const bool covered = find_temperatures(enthalpy_J_per_kg_);
  nodes::sum_increments(fours_,
                        increments_J_per_kg_.data(),
                        bend_start,
                        bend_growth,
                        enthalpy_J_per_kg_.data(),
                        ahead_J_per_kg_.data(),
                        past_J_per_kg_.data());
  const Index n = body_->nodes();
  const double per_s = 1.0 / dt_s;
  const auto before = enthalpy_now_J_per_kg_.head(n);
  const auto after = enthalpy_J_per_kg_.head(n);
  const auto ahead = ahead_J_per_kg_.head(n);
  slope_before_K_per_s_ = per_s * (ahead - before) * by_capacity_kg_K_per_J_.head(n);
  slope_K_per_s_ = per_s * (2.0 * after - before - ahead - past_J_per_kg_.values.segment(1, n));
  enthalpy_now_J_per_kg_.swap(enthalpy_J_per_kg_);
  T_before_K_.swap(T_now_K_);
  T_now_K_ = T_stage_K_.head(n);
  set_kiln(kiln_K);
  if (!covered || fixed_inside() || fixed_outside()) follow_laws();
  begin_from_now();
  slope_K_per_s_ *= by_capacity_kg_K_per_J_.head(n);
}

double RosenbrockStep::time_to_jump_s() const {
  double soonest_s = std::numeric_limits<double>::infinity();
  for (const Body::Region& region : body_->regions()) {
    for (const double jump_K : region.heat_capacity_J_per_kg_K.jumps_K()) {
      for (Index i = region.first; i < region.first + region.count; ++i) {
        const double time_s = (jump_K - T_now_K_(i)) / slope_K_per_s_(i);
        if (time_s > 0.0 && time_s < soonest_s) soonest_s = time_s;
      }
    }
  }
  return soonest_s;
}

double RosenbrockStep::stored_J_per_m2() const {
  return mass_.total(enthalpy_now_J_per_kg_.head(body_->nodes()) - enthalpy_start_J_per_kg_);
}

}  // namespace thickset::conduction
