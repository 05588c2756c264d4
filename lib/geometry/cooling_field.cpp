#include "geometry/cooling_field.h"

#include "base/error.h"
#include "numerics/as_index.h"
#include "numerics/lattice_peak.h"
#include "numerics/uneven_ends.h"

#include <algorithm>
#include <cassert>
#include <chrono>
#include <cmath>
#include <numbers>
#include <utility>

#include <fmt/core.h>

namespace thickset {
namespace {

// Well within the error of the grid.
constexpr double eigenvalue_tol = 1e-6;

/// Passes on how far an iteration has come, not before it has run for a second.
LatticeSolver::Told after_one_second(const Progress& progress, const char* what) {
  if (!progress) return {};
  const auto begun = std::chrono::steady_clock::now();
  return [&progress, what, begun](int iteration, double left) {
    if (std::chrono::steady_clock::now() - begun < std::chrono::seconds{1}) return;
    progress(fmt::format("{}, round {}, {:.0e} left", what, iteration, left));
  };
}

ZeroedArray<float> copy_of(const ZeroedArray<float>& values) {
  ZeroedArray<float> copy{values.size()};
  std::copy_n(values.data(), values.size(), copy.data());
  return copy;
}

/// The right side of -Laplace(u) = 1 with what walls give off themselves.
ZeroedArray<float> with_levels(const LatticeProblem& problem, const ZeroedArray<float>& filled) {
  ZeroedArray<float> source = copy_of(filled);
  for (const LinkEnd& end : problem.ends) {
    source[as_index(end.node)] += end.weight * end.level / end.distance;
  }
  for (const Sink& sink : problem.sinks) source[as_index(sink.node)] += sink.strength * sink.level;
  return source;
}

/// The filled shares and what walls hold beside them.
ZeroedArray<float> with_heat(const LatticeProblem& problem, const ZeroedArray<float>& filled) {
  ZeroedArray<float> mass = copy_of(filled);
  for (const LinkEnd& end : problem.ends) mass[as_index(end.node)] += end.weight * end.heat;
  for (const Sink& sink : problem.sinks) mass[as_index(sink.node)] += sink.heat;
  return mass;
}

void check_reached(const LatticeSolver::Outcome& outcome) {
  if (outcome.reached) return;
  throw Error{{},
              fmt::format("the temperature field was not found: {:.1e} left after {} rounds",
                          outcome.relative_residual,
                          outcome.iterations),
              "a part may be joined to the rest by less than a cell; ask for more cells"};
}

}  // namespace

CoolingField::CoolingField(const Region& region,
                           const CoolingAt& cooling_at,
                           const Settings& settings,
                           const Progress& progress)
    : cut_{cut_lattice(region, cooling_at, settings.cells)},
      solver_{std::move(cut_.problem)},
      u_{lattice().size()} {
  solve(settings.relative_residual_tol,
        after_one_second(progress, "temperature field of the solid"));
  find_largest();
  find_mean();
}

void CoolingField::solve(double tol, const LatticeSolver::Told& told) {
  const ZeroedArray<float> source = with_levels(solver_.matrix().problem(), cut_.filled);
  const LatticeSolver::Outcome first = solver_.solve(source.data(), tol, u_.data(), told);
  check_reached(first);
  ZeroedArray<float> change{u_.size()};
  change_at_ends(solver_.matrix().problem(), u_.data(), change.data());
  const double residual = tol * solver_.length_of(source.data());
  const LatticeSolver::Outcome second =
      solver_.solve_further(change.data(), residual, u_.data(), told);
  check_reached(second);
  iterations_ = first.iterations + second.iterations;
}

void CoolingField::find_largest() {
  std::ptrdiff_t best = solver_.matrix().rows().front().first;
  for (const SevenPoint::Row& row : solver_.matrix().rows()) {
    for (std::ptrdiff_t n = row.first; n < row.first + row.length; ++n) {
      if (u_[as_index(n)] > u_[as_index(best)]) best = n;
    }
  }
  const Peak peak = peak_near(solver_.matrix().problem(), u_.data(), cut_.filled.data(), best);
  largest_m2_ = peak.value * cut_.spacing_m * cut_.spacing_m;
  hottest_m_ = place_m(best) + cut_.spacing_m * peak.from_node;
  const double slab = static_cast<double>(cut_.slab_maximum[as_index(best)]);
  cells_across_ = std::sqrt(8.0 * (std::isfinite(slab) && slab > 0.0 ? slab : peak.value));
}

void CoolingField::find_mean() {
  double sum = 0.0;
  for (const SevenPoint::Row& row : solver_.matrix().rows()) {
    const auto n = as_index(row.first);
    sum += lattice_rows::dot(row.length, u_.data() + n, cut_.filled.data() + n);
  }
  mean_m2_ = sum * std::pow(cut_.spacing_m, 5) / cut_.volume_m3;
}

double CoolingField::shape_factor(double ball_radius_m) const {
  assert(ball_radius_m > 0.0);
  return 2.0 * largest_m2_ / (ball_radius_m * ball_radius_m);
}

Eigen::Vector3d CoolingField::place_m(std::ptrdiff_t node) const {
  return cut_.place_m(node);
}

double CoolingField::u_m2(std::ptrdiff_t node) const {
  return u_[as_index(node)] * cut_.spacing_m * cut_.spacing_m;
}

Length CoolingField::steady_difference_slab() const {
  return Length::from_m(std::sqrt(8.0 * largest_m2_));
}

CoolingField::Mode CoolingField::slowest_mode(const Progress& progress) {
  ZeroedArray<double> mode{lattice().size()};
  for (const SevenPoint::Row& row : solver_.matrix().rows()) {
    std::copy_n(u_.data() + row.first, row.length, mode.data() + row.first);
  }
  const ZeroedArray<float> mass = with_heat(solver_.matrix().problem(), cut_.filled);
  const LatticeSolver::Mode found =
      solver_.slowest_mode(mass.data(),
                           eigenvalue_tol,
                           mode.data(),
                           after_one_second(progress, "slowest mode of the solid"));
  if (!found.settled) {
    throw Error{{}, "the slowest mode of the solid did not settle", "ask for more cells"};
  }
  const double eigenvalue_per_m2 = found.eigenvalue / (cut_.spacing_m * cut_.spacing_m);
  return {eigenvalue_per_m2, Length::from_m(std::numbers::pi / std::sqrt(eigenvalue_per_m2))};
}

CoolingField::ThickBesideThin CoolingField::thick_beside_thin() const {
  const double square_m2 = cut_.spacing_m * cut_.spacing_m;
  double most = 0.0;
  std::ptrdiff_t where = -1;
  for (const SevenPoint::Row& row : solver_.matrix().rows()) {
    for (std::ptrdiff_t n = row.first; n < row.first + row.length; ++n) {
      const double surplus = u_[as_index(n)] - static_cast<double>(cut_.slab_maximum[as_index(n)]);
      if (!(cut_.slab_maximum[as_index(n)] > 0.0F) || !(surplus > most)) continue;
      most = surplus;
      where = n;
    }
  }
  if (where < 0) return {0.0, hottest_m_, steady_difference_slab(), steady_difference_slab()};
  const double alone_m2 = static_cast<double>(cut_.slab_maximum[as_index(where)]) * square_m2;
  return {most * square_m2,
          place_m(where),
          Length::from_m(std::sqrt(8.0 * alone_m2)),
          Length::from_m(std::sqrt(8.0 * u_m2(where)))};
}

}  // namespace thickset
