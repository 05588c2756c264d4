#include <algorithm>
#include <charconv>
#include <cmath>
#include <cstdlib>
#include <exception>
#include <optional>
#include <string_view>
#include <vector>

#include <fmt/core.h>

#include "bench/ours.h"
#include "bench/planning.h"
#include "bench/reference_conduction.h"
#include "bench/reference_relaxation.h"
#include "bench/sampled.h"
#include "bench/tails.h"
#include "bench/timing.h"
#include "bench/workload.h"

using namespace thickset::bench;

namespace {

double largest_difference_K(const SixPeaks& a, const SixPeaks& b) {
  double largest_K = 0.0;
  for (std::size_t i = 0; i < a.size(); ++i) {
    largest_K = std::max(largest_K, std::abs(a[i] - b[i]));
  }
  return largest_K;
}

/// The reference at one tolerance, held to its own converged solution on the same nodes.
struct Rung {
  double tolerance;
  double error;
  long steps;
  double time_ms;
};

/// From loose to tight in steps of two.
template <typename Solve>
std::vector<Rung> ladder(double loosest, int rungs, int repeats, const Solve& solve) {
  std::vector<Rung> all;
  double tolerance = loosest;
  for (int i = 0; i < rungs; ++i, tolerance *= 0.5) {
    Rung rung = solve(tolerance);
    rung.time_ms = median_ms([&] { solve(tolerance); }, repeats);
    all.push_back(rung);
  }
  return all;
}

/// The loosest within the goal, which may be so by luck: errors change sign.
const Rung& loosest_within(const std::vector<Rung>& rungs, double goal) {
  const auto found = std::find_if(
      rungs.begin(), rungs.end(), [&](const Rung& rung) { return rung.error <= goal; });
  return found == rungs.end() ? rungs.back() : *found;
}

/// The loosest from which on the error stays within the goal.
const Rung& loosest_to_rely_on(const std::vector<Rung>& rungs, double goal) {
  auto rung = rungs.end() - 1;
  while (rung != rungs.begin() && (rung - 1)->error <= goal) --rung;
  return *rung;
}

void print_ladder(std::string_view title, const std::vector<Rung>& rungs) {
  fmt::print("{}\n  {:>10} {:>10} {:>7} {:>9}\n", title, "tolerance", "error", "steps", "ms");
  for (const Rung& rung : rungs) {
    fmt::print(
        "  {:10.2e} {:10.5f} {:7} {:9.3f}\n", rung.tolerance, rung.error, rung.steps, rung.time_ms);
  }
  fmt::print("\n");
}

struct Targets {
  double ours_ms, ratio;
};

void print_comparison(std::string_view title,
                      const std::vector<Rung>& rungs,
                      double goal,
                      double our_error,
                      const Targets& targets,
                      auto&& times_at) {
  fmt::print("{}\n  {:<28} {:>10} {:>9} {:>9} {:>10} {:>7}\n",
             title,
             "reference at its loosest",
             "tolerance",
             "error",
             "ms",
             "ours, ms",
             "ratio");
  const auto row = [&](std::string_view name, const Rung& rung) {
    const Pair times = times_at(rung.tolerance);
    fmt::print("  {:<28} {:10.2e} {:9.5f} {:9.3f} {:10.4f} {:7.1f}\n",
               name,
               rung.tolerance,
               rung.error,
               times.reference_ms,
               times.ours_ms,
               times.reference_ms / times.ours_ms);
  };
  row("within the goal", loosest_within(rungs, goal));
  row("from which on it stays within", loosest_to_rely_on(rungs, goal));
  fmt::print("  goal of the error {}; ours {:.5f}; targets: ours <= {} ms, ratio >= {}\n\n",
             goal,
             our_error,
             targets.ours_ms,
             targets.ratio);
}

void conduction_bench(const ours::Settings& settings) {
  ReferenceConduction reference{static_cast<std::size_t>(settings.nodes)};
  const SixPeaks converged_K = reference.solve(1e-10);
  const auto solve = [&](double tolerance) {
    const SixPeaks peaks_K = reference.solve(tolerance);
    return Rung{tolerance, largest_difference_K(peaks_K, converged_K), reference.steps(), 0.0};
  };
  const std::vector<Rung> rungs = ladder(1e-3, 14, 15, solve);
  print_comparison(
      "W1, six temperature differences in K, against CVODE",
      rungs,
      goal_W1_K,
      largest_difference_K(ours::peaks_K(settings), converged_K),
      {.ours_ms = 0.1, .ratio = 14.0},
      [&](double tolerance) {
        return median_of_turns_ms(
            [&] { ours::peaks_K(settings); }, [&] { reference.solve(tolerance); }, 201, 10);
      });
  print_ladder("W1, CVODE at its tolerances (error in K)", rungs);
}

/// Gives the tolerance of IDA to rely on.
double relaxation_bench(const ours::Settings& settings) {
  ReferenceRelaxation reference{static_cast<std::size_t>(settings.nodes | 1)};
  const double converged_nm_per_cm = reference.solve(1e-8);
  const auto solve = [&](double tolerance) {
    const double retardation_nm_per_cm = reference.solve(tolerance);
    return Rung{
        tolerance, std::abs(retardation_nm_per_cm - converged_nm_per_cm), reference.steps(), 0.0};
  };
  const std::vector<Rung> rungs = ladder(1e-3, 11, 5, solve);
  print_comparison("W2, permanent retardation in nm/cm, against IDA",
                   rungs,
                   goal_W2_nm_per_cm,
                   std::abs(ours::retardation_nm_per_cm(settings) - converged_nm_per_cm),
                   {.ours_ms = 0.25, .ratio = 100.0},
                   [&](double tolerance) {
                     return median_of_turns_ms([&] { ours::retardation_nm_per_cm(settings); },
                                               [&] { reference.solve(tolerance); },
                                               51,
                                               10);
                   });
  print_ladder("W2, IDA at its tolerances (error in nm/cm)", rungs);
  return loosest_to_rely_on(rungs, goal_W2_nm_per_cm).tolerance;
}

/// IDA solves the same slab each time, all its preparations kept: a favour to it.
void samples_bench(const ours::Settings& settings, double tolerance) {
  constexpr int samples = 1000;
  constexpr int solved = 50;  // of them by IDA, the rest is multiplied
  constexpr int turns = 9;
  const SampledW2 W2;
  ReferenceRelaxation reference{static_cast<std::size_t>(settings.nodes | 1)};
  const Pair times = median_of_turns_ms([&] { W2.run(samples, 1); },
                                        [&] {
                                          for (int i = 0; i < solved; ++i)
                                            reference.solve(tolerance);
                                        },
                                        turns,
                                        1);
  const double reference_ms = times.reference_ms * samples / solved;
  fmt::print(
      "{} samples of W2 on one thread, against IDA at its tolerance to rely on, {:.1e}\n"
      "  reference {:.0f} ms ({} solves timed), ours {:.0f} ms, ratio {:.0f}; target: ours <= 250 "
      "ms\n\n",
      samples,
      tolerance,
      reference_ms,
      solved,
      times.ours_ms,
      reference_ms / times.ours_ms);
}

void planning_bench() {
  constexpr double goal_ms = 30.0;
  constexpr int turns = 15;
  const double one_ms = simulation_ms();
  fmt::print(
      "W4, three stages of a cool-down, against general optimisers around our simulation,\n"
      "  each from four starts\n");
  fmt::print("  {:<8} {:>8} {:>9} {:>12} {:>9} {:>10} {:>7}\n",
             "by",
             "hours",
             "of limit",
             "simulations",
             "ms",
             "ours, ms",
             "ratio");
  double ours_ms = 0.0;
  for (const General method : {General::cobyla, General::sbplx}) {
    const PlanRun run = plan_by(method);
    const Pair times =
        median_of_turns_ms([] { plan_by_ours(); }, [&] { plan_by(method); }, turns, 1);
    ours_ms = times.ours_ms;
    fmt::print("  {:<8} {:8.2f} {:9.4f} {:12} {:9.1f} {:10.2f} {:7.1f}\n",
               method == General::cobyla ? "COBYLA" : "Sbplx",
               run.time_h,
               run.of_limit,
               run.simulations,
               times.reference_ms,
               times.ours_ms,
               times.reference_ms / times.ours_ms);
  }
  const PlanRun ours = plan_by_ours();
  fmt::print("  {:<8} {:8.2f} {:9.4f} {:12} {:9.1f}\n",
             "ours",
             ours.time_h,
             ours.of_limit,
             fmt::format("~{:.0f}", ours_ms / one_ms),
             ours_ms);
  fmt::print("  one simulation {:.3f} ms; target: ours <= {} ms\n\n", one_ms, goal_ms);
}

void tails_bench() {
  fmt::print(
      "Whole tails, each held to all three treatments; milliseconds\n"
      "  {:>5} {:>11} {:>11} {:>22} {:>22}\n",
      "mm",
      "six stages",
      "one to six",
      "list of prices, time",
      "whole degrees an hour");
  for (const double thickness_mm : {25.0, 50.0, 75.0, 100.0, 150.0}) {
    const TailTimes times = tail_times(thickness_mm);
    fmt::print("  {:5.0f} {:11.0f} {:11.0f} {:22.0f} {:22.0f}\n",
               times.thickness_mm,
               times.six_stages_ms,
               times.up_to_six_ms,
               times.by_time_ms,
               times.by_rate_ms);
  }
  fmt::print("  targets: six stages <= 150, list of prices <= 500\n\n");
}

/// Errors of ours against the solutions converged in space and time.
void print_ours(const ours::Settings& settings) {
  constexpr int repeats = 101;
  fmt::print("  {:5} {:9.3f} {:11.5f} {:9.4f} {:11.5f} {:9.4f}\n",
             settings.nodes,
             settings.tolerance_K,
             largest_difference_K(ours::peaks_K(settings), converged_peaks_K),
             median_ms([&] { ours::peaks_K(settings); }, repeats),
             std::abs(ours::retardation_nm_per_cm(settings) - converged_retardation_nm_per_cm),
             median_ms([&] { ours::retardation_nm_per_cm(settings); }, repeats));
}

void our_settings(const ours::Settings& defaults) {
  fmt::print("Ours against nodes and tolerance (error in space and time together)\n");
  fmt::print("  {:>5} {:>9} {:>11} {:>9} {:>11} {:>9}\n",
             "nodes",
             "tol., K",
             "W1, K",
             "ms",
             "W2, nm/cm",
             "ms");
  for (const int nodes : {11, 16, 21, 31, 41}) print_ours({nodes, defaults.tolerance_K});
  for (const double tolerance_K : {0.08, 0.04, 0.02, 0.01, 0.005}) {
    print_ours({defaults.nodes, tolerance_K});
  }
}

void everything() {
#ifndef NDEBUG
  fmt::print("Built without optimisation: the times below mean nothing.\n\n");
#endif
  const ours::Settings settings = ours::default_settings();
  fmt::print("Processor time of one core, medians; {} nodes, tolerance {} K\n\n",
             settings.nodes,
             settings.tolerance_K);
  conduction_bench(settings);
  samples_bench(settings, relaxation_bench(settings));
  planning_bench();
  tails_bench();
  our_settings(settings);
}

/// Our code alone, so that a count of instructions holds nothing else.
double ours_alone(std::string_view workload, int times) {
  double sum = 0.0;
  for (int i = 0; i < times; ++i) {
    sum += workload == "W1"   ? ours::peaks_K()[0]
           : workload == "W2" ? ours::retardation_nm_per_cm()
                              : plan_by_ours().time_h;
  }
  return sum;
}

std::optional<int> count(std::string_view text) {
  int value = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  const bool whole = error == std::errc{} && end == text.data() + text.size();
  return whole && value > 0 ? std::optional{value} : std::nullopt;
}

}  // namespace

int main(int argc, char** argv) try {
  const std::vector<std::string_view> arguments(argv + 1, argv + argc);
  if (arguments.empty()) {
    everything();
    return EXIT_SUCCESS;
  }
  if (arguments.size() == 1 && arguments[0] == "tails") {
    tails_bench();
    return EXIT_SUCCESS;
  }
  const bool known = arguments.size() == 2 &&
                     (arguments[0] == "W1" || arguments[0] == "W2" || arguments[0] == "W4");
  const std::optional<int> times = known ? count(arguments[1]) : std::nullopt;
  if (!times) {
    fmt::print(stderr,
               "thickset_bench              all comparisons\n"
               "thickset_bench tails        whole tails alone\n"
               "thickset_bench W1|W2|W4 N   our code alone, N times\n");
    return EXIT_FAILURE;
  }
  return std::isfinite(ours_alone(arguments[0], *times)) ? EXIT_SUCCESS : EXIT_FAILURE;
} catch (const std::exception& e) {
  fmt::print(stderr, "{}\n", e.what());
  return EXIT_FAILURE;
}
