#include "conduction/rosenbrock_step.h"

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
constexpr double bend_start[stages - 1] = {
    25.09876703708589, 11.62013104361867, 28.49148307714626, -5.664021568594133, 0.0};
constexpr double bend_growth[stages - 1] = {1.638054557396973,
                                            -0.7373619806678748,
                                            8.477918219238990,
                                            15.99253148779520,
                                            -1.882352941176471};

// The temperature of an enthalpy is found to this by Newton's method, which squares its error.
constexpr double last_correction_K = 1e-3;
constexpr int most_corrections = 20;

}  // namespace

RosenbrockStep::RosenbrockStep(const Body& body, const Face& inner, const Face& outer)
    : body_{&body},
      inner_{inner},
      outer_{outer},
      mass_{body, inner.kind != Face::Kind::insulated},
      matrix_{body.nodes()} {
  const Index n = body.nodes();
  for (ArrayXd* values : {&mass_.lower, &mass_.diagonal, &mass_.upper}) {
    *values *= body.density_kg_per_m3();
  }
  const auto fix = [&](Index row) {
    mass_.lower(row) = mass_.diagonal(row) = mass_.upper(row) = 0.0;
  };
  if (fixed_inside()) fix(0);
  if (fixed_outside()) fix(n - 1);
  held_kg_per_m2_ = mass_.diagonal;
  held_kg_per_m2_.head(n - 1) += mass_.lower.tail(n - 1);
  held_kg_per_m2_.tail(n - 1) += mass_.upper.head(n - 1);
  for (ArrayXd* values : {&T_now_K_,
                          &T_before_K_,
                          &enthalpy_now_J_per_kg_,
                          &enthalpy_start_J_per_kg_,
                          &capacity_now_J_per_kg_K_,
                          &conductivity_now_W_per_m_K_,
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

/// By Newton's method from the step's own linearisation; sets the Kirchhoff variable too.
void RosenbrockStep::temperatures(const ArrayXd& enthalpy_J_per_kg, ArrayXd& T_K) {
  const ThermalLaw& heat_capacity = body_->heat_capacity_J_per_kg_K();
  const ThermalLaw& conductivity = body_->conductivity_W_per_m_K();
  for (Index i = 0; i < T_K.size(); ++i) {
    const double wanted = enthalpy_J_per_kg(i);
    double T = T_now_K_(i) + (wanted - enthalpy_now_J_per_kg_(i)) / capacity_now_J_per_kg_K_(i);
    for (int correction = 0; correction < most_corrections; ++correction) {
      const ThermalLaw::Value value = heat_capacity.value(T);
      const double change_K = (wanted - value.integral) / value.at;
      T += change_K;
      if (!(std::abs(change_K) > last_correction_K)) break;
    }
    T_K(i) = T;
    kirchhoff_W_per_m_(i) = conductivity.integral(T);
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
    const ThermalLaw::Value c_value = heat_capacity.value(T_now_K_(i));
    const ThermalLaw::Value k_value = conductivity.value(T_now_K_(i));
    capacity_now_J_per_kg_K_(i) = c_value.at;
    conductivity_now_W_per_m_K_(i) = k_value.at;
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
    const double passed = held_kg_per_m2_(node) * (enthalpy - enthalpy_now_J_per_kg_(node));
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
    const double area = body_->area_by_spacing_per_m()(i);
    const double here = area * conductivity_now_W_per_m_K_(i) / capacity_now_J_per_kg_K_(i);
    const double next = area * conductivity_now_W_per_m_K_(i + 1) / capacity_now_J_per_kg_K_(i + 1);
    matrix_.diagonal(i) += here;
    matrix_.upper(i) -= next;
    matrix_.diagonal(i + 1) += next;
    matrix_.lower(i + 1) -= here;
  }
  if (outer_.kind == Face::Kind::exchange) {
    matrix_.diagonal(last) +=
        outer_.stiffness_W_per_m2_K(T_now_K_(last)) / capacity_now_J_per_kg_K_(last);
  }
  if (inner_.kind == Face::Kind::exchange) {
    matrix_.diagonal(0) += body_->inner_area() * inner_.stiffness_W_per_m2_K(T_now_K_(0)) /
                           capacity_now_J_per_kg_K_(0);
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
    return change_J_per_kg(node) / capacity_now_J_per_kg_K_(node);
  };
  const auto from_fixed = [&](Index node, Index neighbour, Index gap) {
    return body_->area_by_spacing_per_m()(gap) *
           (conductivity_now_W_per_m_K_(node) * change_K(node) -
            conductivity_now_W_per_m_K_(neighbour) * change_K(neighbour));
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

double RosenbrockStep::attempt(double dt_s, double kiln_slope_K_per_s) {
  const Index last = body_->nodes() - 1;
  const double per_s = 1.0 / dt_s;
  build_matrix(gamma * dt_s);

  const double kiln_capacity = body_->heat_capacity_J_per_kg_K().at(kiln_K_);
  const double outer_drift = outer_.kind == Face::Kind::exchange
                                 ? kiln_slope_K_per_s * outer_.stiffness_W_per_m2_K(kiln_K_)
                                 : 0.0;
  const double inner_drift =
      inner_.kind == Face::Kind::exchange
          ? kiln_slope_K_per_s * body_->inner_area() * inner_.stiffness_W_per_m2_K(kiln_K_)
          : 0.0;

  for (int i = 0; i < stages; ++i) {
    const auto stage = static_cast<std::size_t>(i);
    ArrayXd& increment = increment_J_per_kg_[stage];
    const double kiln_K = kiln_K_ + alpha[i] * dt_s * kiln_slope_K_per_s;
    if (i == 0) {
      increment = flow_now_W_per_m2_;
    } else {
      if (i < stages - 1) {
        enthalpy_J_per_kg_ = enthalpy_now_J_per_kg_;
        for (std::size_t j = 0; j < stage; ++j) {
          enthalpy_J_per_kg_ += a[i][j] * increment_J_per_kg_[j];
        }
      } else {
        enthalpy_J_per_kg_ += increment_J_per_kg_[stage - 1];
      }
      temperatures(enthalpy_J_per_kg_, T_stage_K_);
      heat_flows(T_stage_K_, kiln_K, increment);
      past_J_per_kg_ = c[i][0] * per_s * increment_J_per_kg_[0];
      for (std::size_t j = 1; j < stage; ++j) {
        past_J_per_kg_ += c[i][j] * per_s * increment_J_per_kg_[j];
      }
      increment += mass_.diagonal * past_J_per_kg_;
      increment.head(last) += mass_.upper.head(last) * past_J_per_kg_.tail(last);
      increment.tail(last) += mass_.lower.tail(last) * past_J_per_kg_.head(last);
    }
    increment(last) += d[i] * dt_s * outer_drift;
    increment(0) += d[i] * dt_s * inner_drift;
    const auto set_fixed = [&](Index node) {
      increment(node) = body_->heat_capacity_J_per_kg_K().integral(kiln_K) -
                        (i == 0 ? enthalpy_now_J_per_kg_ : enthalpy_J_per_kg_)(node) +
                        d[i] * dt_s * kiln_capacity * kiln_slope_K_per_s;
    };
    if (fixed_inside()) set_fixed(0);
    if (fixed_outside()) set_fixed(last);
    matrix_.solve(increment);

    // The heat through the faces is integrated by the same formula, as one more unknown.
    double passed = (i == 0 ? faces_now_W_per_m2_ : heat_through_faces(T_stage_K_, kiln_K)) +
                    change_through_faces(increment) + d[i] * dt_s * (outer_drift + inner_drift);
    for (std::size_t j = 0; j < stage; ++j) passed += c[i][j] * per_s * passed_in_stage_[j];
    passed_in_stage_[stage] = gamma * dt_s * passed;
  }
  const ArrayXd& error_J_per_kg = increment_J_per_kg_.back();
  enthalpy_J_per_kg_ += error_J_per_kg;
  const double error_K = (error_J_per_kg / capacity_now_J_per_kg_K_).abs().maxCoeff();
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
  past_J_per_kg_ = bend_start[0] * increment_J_per_kg_[0];
  flow_now_W_per_m2_ = bend_growth[0] * increment_J_per_kg_[0];
  for (std::size_t j = 1; j + 1 < stages; ++j) {
    past_J_per_kg_ += bend_start[j] * increment_J_per_kg_[j];
    flow_now_W_per_m2_ += bend_growth[j] * increment_J_per_kg_[j];
  }
  enthalpy_J_per_kg_.swap(enthalpy_now_J_per_kg_);
  T_before_K_.swap(T_now_K_);
  T_now_K_.swap(T_stage_K_);
  const double per_s = 1.0 / dt_s;
  slope_before_K_per_s_ = per_s * (enthalpy_now_J_per_kg_ - enthalpy_J_per_kg_ + past_J_per_kg_) /
                          capacity_now_J_per_kg_K_;
  slope_K_per_s_ = per_s * (enthalpy_now_J_per_kg_ - enthalpy_J_per_kg_ - past_J_per_kg_ -
                            flow_now_W_per_m2_);
  jump(kiln_K);
  slope_K_per_s_ /= capacity_now_J_per_kg_K_;
}

double RosenbrockStep::stored_J_per_m2() const {
  return (held_kg_per_m2_ * (enthalpy_now_J_per_kg_ - enthalpy_start_J_per_kg_)).sum();
}

}  // namespace thickset::conduction
