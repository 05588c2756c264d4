#include "conduction/solve.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <limits>
#include <utility>

#include "base/error.h"

namespace thickset::conduction {
namespace {

// Local error allowed in a step over the tolerance. The error of the third-order companion and that
// of all steps of the fourth-order method both go with the fourth power of the step, so the error
// falls in proportion to the tolerance; the share is notes/conduction.md#step-control.
constexpr double local_share = 1.0;
constexpr double margin = 0.9;                 // of the step that would just meet the tolerance
constexpr double shortest_before_jump = 0.01;  // of the step it would shorten
constexpr double just_beyond = 1.1;
constexpr double clock_share = 16.0 * std::numeric_limits<double>::epsilon();
constexpr double most_growth = 5.0;
constexpr double most_shrinking = 0.15;
// The first step of a stretch moves the kiln by this many tolerances off its old course.
constexpr double first_departure = 100.0;

}  // namespace

Solver::Solver(const Body& body,
               const Face& inner,
               const Face& outer,
               const AirCurve& air,
               const Eigen::ArrayXd& T_K,
               const SolveSettings& settings)
    : air_{&air}, step_{body, inner, outer}, settings_{settings} {
  assert(!air.corners.empty());
  time_s_ = before_s_ = air.corners.front().time_s;
  kiln_K_ = kiln_before_K_ = air.corners.front().T_K;
  step_.start(T_K, kiln_K_);
}

Solver::Solver(const Solver& before, const AirCurve& air) : Solver{before} {
  assert(!air.corners.empty());
  air_ = &air;
  time_s_ = before_s_ = air.corners.front().time_s;
  corner_ = step_corner_ = 0;
  on_stretch_ = false;
  if (air.corners.front().T_K != kiln_K_) {
    kiln_K_ = air.corners.front().T_K;
    step_.jump(kiln_K_);
    proposed_s_ = 0.0;
  }
}

double Solver::kiln_slope_K_per_s() const {
  if (corner_ + 1 >= air_->corners.size()) return 0.0;
  const auto& a = air_->corners[corner_];
  const auto& b = air_->corners[corner_ + 1];
  return (b.T_K - a.T_K) / (b.time_s - a.time_s);
}

bool Solver::next_stretch() {
  const auto& corners = air_->corners;
  while (corner_ + 1 < corners.size() && corners[corner_ + 1].time_s <= time_s_) {
    ++corner_;
    if (corners[corner_].T_K != kiln_K_) {
      kiln_K_ = corners[corner_].T_K;
      step_.jump(kiln_K_);
      proposed_s_ = 0.0;
    }
  }
  return corner_ + 1 < corners.size();
}

bool Solver::advance() {
  const bool at_corner = !on_stretch_ || corner_ + 1 >= air_->corners.size() ||
                         air_->corners[corner_ + 1].time_s <= time_s_;
  if (at_corner) {
    if (!next_stretch()) return false;
    const double old_slope = std::exchange(slope_K_per_s_, kiln_slope_K_per_s());
    on_stretch_ = true;
    const double departure = std::abs(slope_K_per_s_ - old_slope);
    const double first_s = departure > 0.0 ? first_departure * settings_.tolerance_K / departure
                                           : settings_.longest_step_s;
    proposed_s_ = proposed_s_ > 0.0 ? std::min(proposed_s_, first_s) : std::min(first_s, 10.0);
  }

  const double stretch_end_s = air_->corners[corner_ + 1].time_s;
  // No shorter than the clock can show.
  const double shortest_s = std::max(settings_.shortest_step_s, clock_share * std::abs(time_s_));
  double dt_s = std::clamp(proposed_s_, shortest_s, std::max(shortest_s, settings_.longest_step_s));
  // A jump of the heat capacity within a step costs it its order: rather end a step just beyond it,
  // where the next one finds the capacity that holds from there on.
  const double to_jump_s = just_beyond * step_.time_to_jump_s();
  const bool before_jump = to_jump_s < dt_s && to_jump_s > shortest_before_jump * dt_s;
  if (before_jump) dt_s = to_jump_s;
  for (;;) {
    const double left_s = stretch_end_s - time_s_;
    const bool lands = dt_s >= left_s * (1.0 - 1e-9);
    if (lands) {
      dt_s = left_s;
    } else if (2.0 * dt_s > left_s) {
      dt_s = 0.5 * left_s;  // two equal steps instead of a long one and a sliver
    }
    const double kiln_end_K =
        lands ? air_->corners[corner_ + 1].T_K : kiln_K_ + slope_K_per_s_ * dt_s;
    const double error_K = step_.attempt(dt_s, slope_K_per_s_);
    const double ratio = error_K / (local_share * settings_.tolerance_K);
    const double factor =
        std::isfinite(ratio) ? margin / std::sqrt(std::sqrt(std::max(ratio, 1e-8))) : 0.1;
    if (ratio <= 1.0) {
      step_.accept(dt_s, kiln_end_K);
      before_s_ = time_s_;
      kiln_before_K_ = kiln_K_;
      time_s_ = lands ? stretch_end_s : time_s_ + dt_s;
      kiln_K_ = kiln_end_K;
      step_corner_ = corner_ + 1;
      ++steps_;
      // A step cut short to land says nothing against the longer one proposed before.
      proposed_s_ =
          std::max(lands || before_jump ? proposed_s_ : 0.0, dt_s * std::min(factor, most_growth));
      return true;
    }
    ++rejected_;
    if (dt_s <= shortest_s || !std::isfinite(dt_s)) {
      throw Error{{},
                  "the temperatures inside the glass cannot be computed from this input",
                  "check the casting's size, its material values and the program"};
    }
    dt_s = std::max(dt_s * std::max(factor, most_shrinking), shortest_s);
  }
}

double Solver::heat_balance_error() const {
  const double exchanged = step_.exchanged_J_per_m2();
  if (exchanged == 0.0) return 0.0;
  return std::abs(step_.stored_J_per_m2() - step_.passed_J_per_m2()) / exchanged;
}

}  // namespace thickset::conduction
