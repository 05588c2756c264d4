#include "bench/planning.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <string>
#include <vector>

#include <nlopt.h>

#include "bench/timing.h"
#include "glass/read_glass.h"
#include "planning/fastest_stages.h"

namespace thickset::bench {
namespace {

/// W4's kiln falls as fast as anybody asks.
Kiln kiln() {
  const Rate fast = Rate::from_K_per_h(20000.0);
  return {.name = "W4",
          .title = "follows",
          .natural_cooling = NaturalCooling{{{Temperature::from_C(800.0), fast},
                                             {Temperature::from_C(21.0), fast}},
                                            Temperature::from_C(15.0)},
          .film_coefficient_W_per_m2_K = 8.0,
          .emissivity = 0.9,
          .assumed = {}};
}

/// W2's slab of the published series, 800 to 545 C in an hour, six hours there.
struct Problem {
  Problem() {
    const std::string folder = std::string{THICKSET_SOURCE} + "/data/glasses/";
    Glass glass = read_glass(folder + "soda-lime-relaxation-set.glass");
    glass.expansion_per_K.value = 9.1e-6;
    glass.liquid_expansion_per_K.value = 25.1e-6;
    castings.push_back(
        {.title = "W4", .glass = glass, .shape = Slab{Length::from_mm(75.0)}, .reservoir = {}});
    limits.grade = Retardation::from_nm_per_cm(10.0);
    limits.tension = Stress::from_MPa(5.0);
    to_hold_end.steps.push_back(
        {.target = Temperature::from_C(545.0), .pace = hours(1.0), .hold = hours(6.0)});
  }

  CoolDown cool_down() const {
    return {castings,
            W4_kiln,
            Controller::LateOnCooling::waits,
            firing,
            to_hold_end,
            bulks,
            limits,
            end};
  }

  std::vector<Casting> castings;
  Kiln W4_kiln = kiln();
  Firing firing{.room = Temperature::from_C(15.0)};
  Limits limits;
  Program to_hold_end;
  std::vector<Bulk> bulks{Bulk::constant_ratio};
  Temperature end = Temperature::from_C(25.0);
};

const Problem& problem() {
  static const Problem one;
  return one;
}

constexpr std::size_t unknowns = 5;  // two ends, three logarithms of rates
using Point = std::array<double, unknowns>;
constexpr double end_unit_K = 12.0;
constexpr double log_rate_unit = 0.4;

/// Where a search begins, C and K/h.
struct Start {
  std::array<double, 2> ends_C;
  std::array<double, 3> rates_K_per_h;
};
// One rate that is within the limits, cut in two ways; steps that grow
// quicker, and steps with a quick first stage. Nobody knows beforehand which of them leads to the
// best.
constexpr Start starts[] = {{{371.0, 198.0}, {1.5, 1.5, 1.5}},
                            {{500.0, 400.0}, {1.5, 1.5, 1.5}},
                            {{460.0, 380.0}, {1.5, 3.0, 15.0}},
                            {{500.0, 400.0}, {10.0, 1.5, 15.0}}};

Point point_of(const Start& start) {
  Point x{};
  for (std::size_t i = 0; i < 2; ++i) {
    x[i] = Temperature::from_C(start.ends_C[i]).in_K() / end_unit_K;
  }
  for (std::size_t i = 0; i < 3; ++i) {
    x[2 + i] = std::log(start.rates_K_per_h[i] / 3600.0) / log_rate_unit;
  }
  return x;
}

Course course_of(const CoolDown& cool_down, const double* x) {
  Course course{cool_down.hold().in_K(), {}, {}};
  constexpr double narrowest_K = 1.0;
  for (std::size_t i = 0; i < 2; ++i) {
    const double floor_K = cool_down.end().in_K() + (2.0 - static_cast<double>(i)) * narrowest_K;
    course.to_K.push_back(std::clamp(x[i] * end_unit_K, floor_K, course.from_K(i) - narrowest_K));
  }
  course.to_K.push_back(cool_down.end().in_K());
  for (std::size_t i = 0; i < 3; ++i) {
    course.rate_K_per_s.push_back(std::exp(x[2 + i] * log_rate_unit));
  }
  return course;
}

/// What an optimiser asks, each point simulated once: COBYLA asks for cost and constraints apart.
struct Asked {
  const CoolDown* cool_down;
  Point last{};
  CoolDown::Outcome outcome{};
  int simulations = 0;

  const CoolDown::Outcome& at(const double* x) {
    const bool anew = simulations == 0 || !std::equal(last.begin(), last.end(), x);
    if (anew) {
      std::copy(x, x + unknowns, last.begin());
      outcome = cool_down->run(steps_of(course_of(*cool_down, x)));
      ++simulations;
    }
    return outcome;
  }
  double left_over(const double* x) { return std::log(at(x).left.front() / planning_aim); }
  double tension_over(const double* x) {
    const std::vector<double>& tension = at(x).tension;
    return std::log(*std::max_element(tension.begin(), tension.end()) / planning_aim);
  }
};

constexpr double unit_of_time_s = 100.0 * 3600.0;

double time_of(unsigned, const double* x, double*, void* asked) {
  return static_cast<Asked*>(asked)->at(x).time_s / unit_of_time_s;
}
double left_over(unsigned, const double* x, double*, void* asked) {
  return static_cast<Asked*>(asked)->left_over(x);
}
double tension_over(unsigned, const double* x, double*, void* asked) {
  return static_cast<Asked*>(asked)->tension_over(x);
}
double time_and_penalty(unsigned, const double* x, double*, void* data) {
  constexpr double penalty = 3.0;
  Asked& asked = *static_cast<Asked*>(data);
  return asked.at(x).time_s / unit_of_time_s +
         penalty * (std::max(0.0, asked.left_over(x)) + std::max(0.0, asked.tension_over(x)));
}

}  // namespace

PlanRun plan_by_ours() {
  const Problem& given = problem();
  const CoolDown cool_down = given.cool_down();
  const StageBounds bounds{given.W4_kiln, given.firing, given.end, false};
  const FoundStages found =
      FastestStages{given.castings, cool_down, bounds, given.limits}.exactly(3);
  return {found.outcome.time_s / 3600.0, found.outcome.worst(), 0};
}

namespace {

PlanRun plan_from(const Start& start, General method, const CoolDown& cool_down) {
  Asked asked{&cool_down};
  Point x = point_of(start);
  const bool cobyla = method == General::cobyla;
  const nlopt_opt optimiser = nlopt_create(cobyla ? NLOPT_LN_COBYLA : NLOPT_LN_SBPLX, unknowns);
  constexpr double kept_tol = 1e-3;  // of a limit
  constexpr double time_rel = 1e-4;  // ends when steps gain less
  constexpr int most_simulations = 5000;
  nlopt_set_min_objective(optimiser, cobyla ? time_of : time_and_penalty, &asked);
  if (cobyla) {
    nlopt_add_inequality_constraint(optimiser, left_over, &asked, kept_tol);
    nlopt_add_inequality_constraint(optimiser, tension_over, &asked, kept_tol);
  }
  nlopt_set_initial_step1(optimiser, 1.0);
  nlopt_set_ftol_rel(optimiser, time_rel);
  nlopt_set_xtol_rel(optimiser, time_rel);
  nlopt_set_maxeval(optimiser, most_simulations);
  double least = 0.0;
  nlopt_optimize(optimiser, x.data(), &least);
  nlopt_destroy(optimiser);
  const int simulations = asked.simulations;
  const CoolDown::Outcome& outcome = asked.at(x.data());
  return {outcome.time_s / 3600.0, outcome.worst(), simulations};
}

}  // namespace

PlanRun plan_by(General method) {
  const CoolDown cool_down = problem().cool_down();
  PlanRun best{.time_h = std::numeric_limits<double>::infinity()};
  int simulations = 0;
  for (const Start& start : starts) {
    const PlanRun run = plan_from(start, method, cool_down);
    simulations += run.simulations;
    if (run.of_limit <= 1.0 && run.time_h < best.time_h) best = run;
  }
  best.simulations = simulations;
  return best;
}

double simulation_ms() {
  const CoolDown cool_down = problem().cool_down();
  const std::vector<Step> steps = steps_of(course_of(cool_down, point_of(starts[0]).data()));
  return median_ms([&] { cool_down.run(steps); }, 101);
}

}  // namespace thickset::bench
