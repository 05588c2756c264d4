#pragma once

#include <cmath>
#include <cstddef>
#include <cstdint>
#include <numbers>
#include <utility>

#include "geometry/cut_lattice.h"
#include "numerics/lattice_solver.h"

/// A solid at one temperature whose surface begins to fall at a steady rate, step by step in time:
/// u_t = Laplace(u) + 1 from u = 0, diffusivity 1. It ends at the field of steady cooling.
namespace transient_field {

/// Two implicit stages, L-stable, of second order (SDIRK, gamma = 1 - 1/sqrt 2; [HW96] IV.6), on
/// the lattice and equations of the steady field.
class TransientField {
 public:
  TransientField(const thickset::Region& region,
                 const thickset::CoolingAt& cooling_at,
                 double cells,
                 double dt_m2)
      : TransientField{thickset::cut_lattice(region, cooling_at, cells), dt_m2} {}

  void step() {
    // (A + M/(gamma dt)) U1 = M (1 + u/(gamma dt)), then the same with u + (1 - gamma) dt k1
    solve_stage(u_);
    for (std::size_t n = 0; n < u_.size(); ++n) {
      u_[n] += (1.0 - gamma) / gamma * (stage_[n] - u_[n]);
    }
    solve_stage(u_);
    std::swap(u_, stage_);
  }

  /// At the largest node.
  double largest_m2() const {
    double largest = 0.0;
    for (std::size_t n = 0; n < u_.size(); ++n) largest = std::max(largest, u_[n]);
    return largest * cut_.spacing_m * cut_.spacing_m;
  }

 private:
  static constexpr double gamma = 1.0 - 0.5 * std::numbers::sqrt2;
  static constexpr double solver_tol = 1e-8;

  TransientField(thickset::CutLattice cut, double dt_m2)
      : cut_{std::move(cut)},
        by_time_{cut_.spacing_m * cut_.spacing_m / (gamma * dt_m2)},
        solver_{with_heat(std::move(cut_.problem))},
        u_{cut_.filled.size()},
        stage_{cut_.filled.size()},
        b_{cut_.filled.size()} {}

  /// What a cell takes up in a step leaves its node like a sink.
  thickset::LatticeProblem with_heat(thickset::LatticeProblem problem) const {
    for (std::size_t n = 0; n < cut_.filled.size(); ++n) {
      if (!(cut_.filled[n] > 0.0F)) continue;
      const double strength = by_time_ * static_cast<double>(cut_.filled[n]);
      problem.sinks.push_back({static_cast<std::int32_t>(n), static_cast<float>(strength)});
    }
    problem.put_in_order();
    return problem;
  }

  void solve_stage(const thickset::ZeroedArray<double>& from) {
    for (std::size_t n = 0; n < from.size(); ++n) {
      b_[n] = cut_.filled[n] * static_cast<float>(1.0 + by_time_ * from[n]);
    }
    solver_.solve(b_.data(), solver_tol, stage_.data());
  }

  thickset::CutLattice cut_;
  double by_time_;  // spacing^2 / (gamma dt)
  thickset::LatticeSolver solver_;
  thickset::ZeroedArray<double> u_, stage_;  // in spacing^2
  thickset::ZeroedArray<float> b_;
};

/// Centre of a slab of thickness d under the same, over its steady value d^2/8; [CJ59] section 3.4
/// integrated over the rate.
inline double slab_share(double t_m2, double d_m) {
  constexpr double pi = std::numbers::pi;
  double left = 0.0;
  for (int k = 0; k < 60; ++k) {
    const double root = (2 * k + 1) * pi / d_m;
    left += (k % 2 == 0 ? 1.0 : -1.0) / std::pow(2 * k + 1, 3) * std::exp(-root * root * t_m2);
  }
  return 1.0 - 32.0 / (pi * pi * pi) * left;
}

}  // namespace transient_field
