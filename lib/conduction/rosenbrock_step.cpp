#include "conduction/rosenbrock_step.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <limits>

namespace thickset::conduction {
namespace {

using Eigen::ArrayXd;
using Eigen::Index;

// Coefficients of [STE95] in the form that needs no product with the Jacobian ([HW96] (IV.7.25)):
//   (M/(gamma dt) - J) u_i = f(t + alpha_i dt, y + sum_j a_ij u_j) + M sum_j c_ij u_j / dt
//                            + d_i dt df/dt.
constexpr int stages = 6;
constexpr double gamma = 0.25;
constexpr double alpha[stages] = {0.0, 0.75, 0.21, 0.63, 1.0, 1.0};
constexpr double d[stages] = {0.25, -0.5, -0.023504, -0.0362, 0.0, 0.0};
// Stage 6 starts from stage 5 plus u_5, the result is that plus u_6, and u_6 is the error.
constexpr double a[stages - 1][stages - 2] = {
    {},
    {3.0},
    {1.831036793486759, 0.4955183967433795},
    {2.304376582692669, -0.05249275245743001, -1.176798761832782},
    {-7.170454962423024, -4.741636671481785, -16.31002631330971, -1.062004044111401}};
constexpr double c[stages][stages - 1] = {
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
//   y1 - y0 + sum_j start_j u_j and y1 - y0 - sum_j end_j u_j.
constexpr double bend_start[stages - 1] = {25.09876703708589,
                                           11.62013104361867,
                                           28.49148307714626,
                                           -5.664021568594133,
                                           0.0};
constexpr double bend_growth[stages - 1] = {1.638054557396973,
                                            -0.7373619806678748,
                                            8.477918219238990,
                                            15.99253148779520,
                                            -1.882352941176471};

// The temperature of an enthalpy is found to this by Newton's method, which squares its error.
constexpr double last_correction_K = 1e-2;
constexpr int most_corrections = 20;

/// The parabola of the step's start and one correction by Newton's method, within one piece of
/// either law; the arrays do not overlap, so that compilers can make vector code of it.
void correct_once(Index n,
                  const ThermalLaw::WholePiece& capacity_law,
                  const ThermalLaw::WholePiece& conductivity_law,
                  const double* __restrict wanted_J_per_kg,
                  const double* __restrict enthalpy_J_per_kg,
                  const double* __restrict start_K,
                  const double* __restrict by_capacity_kg_K_per_J,
                  const double* __restrict bend_per_K,
                  double* __restrict T_K,
                  double* __restrict change_K,
                  double* __restrict kirchhoff_W_per_m) {
  const ThermalLaw::Piece cp = capacity_law.piece;
  const ThermalLaw::Piece kp = conductivity_law.piece;
  for (Index i = 0; i < n; ++i) {
    const double linear_K = (wanted_J_per_kg[i] - enthalpy_J_per_kg[i]) * by_capacity_kg_K_per_J[i];
    const double guess_K = start_K[i] + linear_K * (1.0 - bend_per_K[i] * linear_K);
    const double inverse = 1.0 / guess_K;
    const double capacity = cp.a + cp.b * guess_K + cp.c * inverse * inverse;
    const double enthalpy =
        capacity_law.offset + (cp.a + 0.5 * cp.b * guess_K) * guess_K - cp.c * inverse;
    change_K[i] = (wanted_J_per_kg[i] - enthalpy) / capacity;
    T_K[i] = guess_K + change_K[i];
    kirchhoff_W_per_m[i] =
        conductivity_law.offset + (kp.a + 0.5 * kp.b * T_K[i]) * T_K[i] - kp.c / T_K[i];
  }
}

}  // namespace

RosenbrockStep::RosenbrockStep(const Body& body, const Face& inner, const Face& outer)
    : body_{&body},
      inner_{inner},
      outer_{outer},
      mass_{body, inner.kind, outer.kind},
      matrix_{body.nodes()} {
  const Index n = body.nodes();
  for (ArrayXd* values : {&mass_.lower, &mass_.diagonal, &mass_.upper, &mass_.column_sum}) {
    *values *= body.density_kg_per_m3();
  }
  for (ArrayXd* values : {&T_now_K_,
                          &T_before_K_,
                          &enthalpy_now_J_per_kg_,
                          &enthalpy_start_J_per_kg_,
                          &by_capacity_kg_K_per_J_,
                          &bend_per_K_,
                          &flow_per_enthalpy_,
                          &kirchhoff_W_per_m_,
                          &flow_now_W_per_m2_,
                          &enthalpy_J_per_kg_,
                          &T_stage_K_,
                          &flow_W_per_m2_,
                          &past_J_per_kg_,
                          &slope_before_K_per_s_,
                          &slope_K_per_s_}) {
    values->setZero(n);
  }
  for (ArrayXd& increment : increment_J_per_kg_) increment.setZero(n);
}

/// By Newton's method from the parabola of the step's start, which leaves one correction to do but
/// where the heat capacity jumps; sets the Kirchhoff variable too.
void RosenbrockStep::temperatures(const ArrayXd& enthalpy_J_per_kg, ArrayXd& T_K) {
  const ThermalLaw& heat_capacity = body_->heat_capacity_J_per_kg_K();
  const ThermalLaw& conductivity = body_->conductivity_W_per_m_K();
  const ThermalLaw::WholePiece& capacity_law = heat_capacity.piece_at(T_now_K_(0));
  const ThermalLaw::WholePiece& conductivity_law = conductivity.piece_at(T_now_K_(0));
  const Index n = T_K.size();
  ArrayXd& change_K = past_J_per_kg_;  // free until the stage sums its past
  // Nearly always one piece of either law covers all nodes: a loop without branches.
  correct_once(n,
               capacity_law,
               conductivity_law,
               enthalpy_J_per_kg.data(),
               enthalpy_now_J_per_kg_.data(),
               T_now_K_.data(),
               by_capacity_kg_K_per_J_.data(),
               bend_per_K_.data(),
               T_K.data(),
               change_K.data(),
               kirchhoff_W_per_m_.data());
  const auto done = [&](double T, double change) {
    return std::abs(change) <= last_correction_K && capacity_law.covers(T) &&
           conductivity_law.covers(T);
  };
  for (Index i = 0; i < n; ++i) {
    if (done(T_K(i), change_K(i))) continue;
    for (int correction = 0; correction < most_corrections; ++correction) {
      const ThermalLaw::Value value = heat_capacity.value(T_K(i));
      const double more_K = (enthalpy_J_per_kg(i) - value.integral) / value.at;
      T_K(i) += more_K;
      if (!(std::abs(more_K) > last_correction_K)) break;
    }
    kirchhoff_W_per_m_(i) = conductivity.integral(T_K(i));
  }
}

/// Net heat into each cell at the Kirchhoff variable of `T_K`; for a prescribed node, how far its
/// enthalpy is from the kiln's is set by the caller.
void RosenbrockStep::heat_flows(const ArrayXd& T_K, double kiln_K, ArrayXd& flow_W_per_m2) {
  const Index last = body_->nodes() - 1;
  double inward = 0.0;
  for (Index i = 0; i < last; ++i) {
    const double outer =
        body_->area_by_spacing_per_m()(i) * (kirchhoff_W_per_m_(i + 1) - kirchhoff_W_per_m_(i));
    flow_W_per_m2(i) = outer - inward;
    inward = outer;
  }
  flow_W_per_m2(last) = -inward;
  if (outer_.kind == Face::Kind::exchange) {
    flow_W_per_m2(last) += outer_.heat_in_W_per_m2(kiln_K, T_K(last));
  }
  if (inner_.kind == Face::Kind::exchange) {
    flow_W_per_m2(0) += body_->inner_area() * inner_.heat_in_W_per_m2(kiln_K, T_K(0));
  }
}

void RosenbrockStep::begin_from_now() {
  const ThermalLaw& heat_capacity = body_->heat_capacity_J_per_kg_K();
  const ThermalLaw& conductivity = body_->conductivity_W_per_m_K();
  for (Index i = 0; i < T_now_K_.size(); ++i) {
    const double T = T_now_K_(i);
    const ThermalLaw::Value k_value = conductivity.value(T);
    const double by_capacity = 1.0 / heat_capacity.at(T);
    by_capacity_kg_K_per_J_(i) = by_capacity;
    bend_per_K_(i) = 0.5 * by_capacity * heat_capacity.slope(T);
    flow_per_enthalpy_(i) = k_value.at * by_capacity;
    kirchhoff_W_per_m_(i) = k_value.integral;
  }
  heat_flows(T_now_K_, kiln_K_, flow_now_W_per_m2_);
  faces_now_W_per_m2_ = heat_through_faces(T_now_K_, kiln_K_);
}

void RosenbrockStep::start(const ArrayXd& T_K, double kiln_K) {
  assert(T_K.size() == body_->nodes());
  T_now_K_ = T_K;
  for (Index i = 0; i < T_K.size(); ++i) {
    enthalpy_now_J_per_kg_(i) = body_->heat_capacity_J_per_kg_K().integral(T_K(i));
  }
  enthalpy_start_J_per_kg_ = enthalpy_now_J_per_kg_;
  passed_J_per_m2_ = 0.0;
  exchanged_J_per_m2_ = 0.0;
  jump(kiln_K);
}

void RosenbrockStep::jump(double kiln_K) {
  kiln_K_ = kiln_K;
  const auto set = [&](Index node) {
    const double enthalpy = body_->heat_capacity_J_per_kg_K().integral(kiln_K);
    const double passed = mass_.column_sum(node) * (enthalpy - enthalpy_now_J_per_kg_(node));
    passed_J_per_m2_ += passed;
    exchanged_J_per_m2_ += std::abs(passed);
    T_now_K_(node) = kiln_K;
    enthalpy_now_J_per_kg_(node) = enthalpy;
  };
  if (fixed_inside()) set(0);
  if (fixed_outside()) set(body_->nodes() - 1);
  begin_from_now();
}

void RosenbrockStep::build_matrix(double gamma_dt_s) {
  const Index last = body_->nodes() - 1;
  const double per_s = 1.0 / gamma_dt_s;
  matrix_.lower = mass_.lower * per_s;
  matrix_.diagonal = mass_.diagonal * per_s;
  matrix_.upper = mass_.upper * per_s;
  for (Index i = 0; i < last; ++i) {
    const double here = body_->area_by_spacing_per_m()(i) * flow_per_enthalpy_(i);
    const double next = body_->area_by_spacing_per_m()(i) * flow_per_enthalpy_(i + 1);
    matrix_.diagonal(i) += here;
    matrix_.upper(i) -= next;
    matrix_.diagonal(i + 1) += next;
    matrix_.lower(i + 1) -= here;
  }
  if (outer_.kind == Face::Kind::exchange) {
    matrix_.diagonal(last) +=
        outer_.stiffness_W_per_m2_K(T_now_K_(last)) * by_capacity_kg_K_per_J_(last);
  }
  if (inner_.kind == Face::Kind::exchange) {
    matrix_.diagonal(0) +=
        body_->inner_area() * inner_.stiffness_W_per_m2_K(T_now_K_(0)) * by_capacity_kg_K_per_J_(0);
  }
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

/// Into the nodes that are not prescribed, at the last temperatures worked out.
double RosenbrockStep::heat_through_faces(const ArrayXd& T_K, double kiln_K) const {
  const Index last = body_->nodes() - 1;
  const auto from_fixed = [&](Index node, Index neighbour, Index gap) {
    return body_->area_by_spacing_per_m()(gap) *
           (kirchhoff_W_per_m_(node) - kirchhoff_W_per_m_(neighbour));
  };
  double heat = 0.0;
  if (outer_.kind == Face::Kind::exchange) heat += outer_.heat_in_W_per_m2(kiln_K, T_K(last));
  if (inner_.kind == Face::Kind::exchange) {
    heat += body_->inner_area() * inner_.heat_in_W_per_m2(kiln_K, T_K(0));
  }
  if (fixed_outside()) heat += from_fixed(last, last - 1, last - 1);
  if (fixed_inside()) heat += from_fixed(0, 1, 0);
  return heat;
}

/// What the step's linearisation makes of a change of the enthalpies.
double RosenbrockStep::change_through_faces(const ArrayXd& change_J_per_kg) const {
  const Index last = body_->nodes() - 1;
  const auto change_K = [&](Index node) {
    return change_J_per_kg(node) * by_capacity_kg_K_per_J_(node);
  };
  const auto from_fixed = [&](Index node, Index neighbour, Index gap) {
    return body_->area_by_spacing_per_m()(gap) *
           (flow_per_enthalpy_(node) * change_J_per_kg(node) -
            flow_per_enthalpy_(neighbour) * change_J_per_kg(neighbour));
  };
  double change = 0.0;
  if (outer_.kind == Face::Kind::exchange) {
    change -= outer_.stiffness_W_per_m2_K(T_now_K_(last)) * change_K(last);
  }
  if (inner_.kind == Face::Kind::exchange) {
    change -= body_->inner_area() * inner_.stiffness_W_per_m2_K(T_now_K_(0)) * change_K(0);
  }
  if (fixed_outside()) change += from_fixed(last, last - 1, last - 1);
  if (fixed_inside()) change += from_fixed(0, 1, 0);
  return change;
}

/// factor times the sum of the first `count` increments with these weights.
template <std::size_t count, std::size_t size>
void RosenbrockStep::sum_of_increments(const double (&weight)[size], double factor, ArrayXd& sum) {
  std::array<double, count> scaled;
  std::array<const double*, count> increment;
  for (std::size_t j = 0; j < count; ++j) {
    scaled[j] = factor * weight[j];
    increment[j] = increment_J_per_kg_[j].data();
  }
  double* const to = sum.data();
  const Index n = sum.size();
  for (Index i = 0; i < n; ++i) {
    double value = 0.0;
    for (std::size_t j = 0; j < count; ++j) value += scaled[j] * increment[j][i];
    to[i] = value;
  }
}

template <int stage>
void RosenbrockStep::run_stage(const Drift& drift) {
  const Index n = body_->nodes();
  const Index last = n - 1;
  const double per_s = 1.0 / drift.dt_s;
  const double kiln_K = kiln_K_ + alpha[stage] * drift.dt_s * drift.kiln_K_per_s;
  ArrayXd& increment = increment_J_per_kg_[stage];
  const ArrayXd& enthalpy = stage == 0 ? enthalpy_now_J_per_kg_ : enthalpy_J_per_kg_;
  if constexpr (stage == 0) {
    increment = flow_now_W_per_m2_;
  } else {
    if constexpr (stage < stages - 1) {
      sum_of_increments<stage>(a[stage], 1.0, enthalpy_J_per_kg_);
      enthalpy_J_per_kg_ += enthalpy_now_J_per_kg_;
    } else {
      enthalpy_J_per_kg_ += increment_J_per_kg_[stage - 1];
    }
    temperatures(enthalpy_J_per_kg_, T_stage_K_);
    heat_flows(T_stage_K_, kiln_K, increment);
    sum_of_increments<stage>(c[stage], per_s, past_J_per_kg_);
    increment(0) += mass_.diagonal(0) * past_J_per_kg_(0) + mass_.upper(0) * past_J_per_kg_(1);
    for (Index i = 1; i < last; ++i) {
      increment(i) += mass_.lower(i) * past_J_per_kg_(i - 1) +
                      mass_.diagonal(i) * past_J_per_kg_(i) +
                      mass_.upper(i) * past_J_per_kg_(i + 1);
    }
    increment(last) +=
        mass_.lower(last) * past_J_per_kg_(last - 1) + mass_.diagonal(last) * past_J_per_kg_(last);
  }
  increment(last) += d[stage] * drift.dt_s * drift.outer_W_per_m2_s;
  increment(0) += d[stage] * drift.dt_s * drift.inner_W_per_m2_s;
  const auto set_fixed = [&](Index node) {
    increment(node) = body_->heat_capacity_J_per_kg_K().integral(kiln_K) - enthalpy(node) +
                      d[stage] * drift.dt_s * drift.fixed_J_per_kg_s;
  };
  if (fixed_inside()) set_fixed(0);
  if (fixed_outside()) set_fixed(last);
  matrix_.solve(increment);

  // The heat through the faces is integrated by the same formula, as one more unknown.
  double passed = (stage == 0 ? faces_now_W_per_m2_ : heat_through_faces(T_stage_K_, kiln_K)) +
                  change_through_faces(increment) +
                  d[stage] * drift.dt_s * (drift.outer_W_per_m2_s + drift.inner_W_per_m2_s);
  for (std::size_t j = 0; j < stage; ++j) passed += c[stage][j] * per_s * passed_in_stage_[j];
  passed_in_stage_[stage] = gamma * drift.dt_s * passed;
}

double RosenbrockStep::attempt(double dt_s, double kiln_slope_K_per_s) {
  build_matrix(gamma * dt_s);

  const double kiln_capacity = body_->heat_capacity_J_per_kg_K().at(kiln_K_);
  const double outer_drift = outer_.kind == Face::Kind::exchange
                                 ? kiln_slope_K_per_s * outer_.stiffness_W_per_m2_K(kiln_K_)
                                 : 0.0;
  const double inner_drift =
      inner_.kind == Face::Kind::exchange
          ? kiln_slope_K_per_s * body_->inner_area() * inner_.stiffness_W_per_m2_K(kiln_K_)
          : 0.0;

  const Drift drift{.dt_s = dt_s,
                    .kiln_K_per_s = kiln_slope_K_per_s,
                    .outer_W_per_m2_s = outer_drift,
                    .inner_W_per_m2_s = inner_drift,
                    .fixed_J_per_kg_s = kiln_capacity * kiln_slope_K_per_s};
  run_stage<0>(drift);
  run_stage<1>(drift);
  run_stage<2>(drift);
  run_stage<3>(drift);
  run_stage<4>(drift);
  run_stage<5>(drift);
  const ArrayXd& error_J_per_kg = increment_J_per_kg_.back();
  enthalpy_J_per_kg_ += error_J_per_kg;
  const double error_K = (error_J_per_kg * by_capacity_kg_K_per_J_).abs().maxCoeff();
  // A sum, unlike a maximum, does not lose what is not a number.
  const bool numbers = std::isfinite(enthalpy_J_per_kg_.sum()) && std::isfinite(error_K);
  return numbers ? error_K : std::numeric_limits<double>::infinity();
}

void RosenbrockStep::accept(double dt_s, double kiln_K) {
  double passed = passed_in_stage_[stages - 2] + passed_in_stage_[stages - 1];
  for (std::size_t j = 0; j + 2 < stages; ++j) passed += a[stages - 2][j] * passed_in_stage_[j];
  passed_J_per_m2_ += passed;
  exchanged_J_per_m2_ += std::abs(passed);
  kiln_K_ = kiln_K;
  temperatures(enthalpy_J_per_kg_, T_stage_K_);
  sum_of_increments<stages - 1>(bend_start, 1.0, past_J_per_kg_);
  sum_of_increments<stages - 1>(bend_growth, 1.0, flow_now_W_per_m2_);
  enthalpy_J_per_kg_.swap(enthalpy_now_J_per_kg_);
  T_before_K_.swap(T_now_K_);
  T_now_K_.swap(T_stage_K_);
  const double per_s = 1.0 / dt_s;
  slope_before_K_per_s_ = per_s * (enthalpy_now_J_per_kg_ - enthalpy_J_per_kg_ + past_J_per_kg_) *
                          by_capacity_kg_K_per_J_;
  slope_K_per_s_ =
      per_s * (enthalpy_now_J_per_kg_ - enthalpy_J_per_kg_ - past_J_per_kg_ - flow_now_W_per_m2_);
  jump(kiln_K);
  slope_K_per_s_ *= by_capacity_kg_K_per_J_;
}

double RosenbrockStep::time_to_jump_s() const {
  double soonest_s = std::numeric_limits<double>::infinity();
  for (const double jump_K : body_->heat_capacity_J_per_kg_K().jumps_K()) {
    for (Index i = 0; i < T_now_K_.size(); ++i) {
      const double time_s = (jump_K - T_now_K_(i)) / slope_K_per_s_(i);
      if (time_s > 0.0 && time_s < soonest_s) soonest_s = time_s;
    }
  }
  return soonest_s;
}

double RosenbrockStep::stored_J_per_m2() const {
  return (mass_.column_sum * (enthalpy_now_J_per_kg_ - enthalpy_start_J_per_kg_)).sum();
}

}  // namespace thickset::conduction
