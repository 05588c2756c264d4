// Speed and memory of the temperature field of a solid, against Eigen's conjugate gradients with
// its default (diagonal) preconditioner on the same equations. notes/benchmarks.md says how to read
// the figures.
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <array>
#include <charconv>
#include <cmath>
#include <cstdlib>
#include <exception>
#include <optional>
#include <string_view>
#include <utility>
#include <vector>

#include <fmt/core.h>
#include <Eigen/IterativeLinearSolvers>
#include <Eigen/SparseCore>

#include "bench/timing.h"
#include "geometry/cooling_field.h"
#include "geometry/solid_regions.h"

using namespace thickset;
using namespace thickset::bench;

namespace {

constexpr double tol = 1e-8;  // |b - A x| <= tol |b|

CutLattice ball_on_lattice(int across) {
  return cut_lattice(solid_regions::ball(1.0), {}, std::pow(across, 3));
}

/// Ours, with what it takes to begin: coarse grids and vectors.
struct Ours {
  explicit Ours(int across)
      : cut{ball_on_lattice(across)}, solver{std::move(cut.problem)}, x{cut.filled.size()} {}
  LatticeSolver::Outcome solve() { return solver.solve(cut.filled.data(), tol, x.data()); }

  CutLattice cut;
  LatticeSolver solver;
  ZeroedArray<double> x;
};

/// The same equations as a sparse matrix, in the same order.
struct Reference {
  explicit Reference(int across) {
    CutLattice cut = ball_on_lattice(across);
    const SevenPoint a{std::move(cut.problem)};
    std::vector<int> number(cut.filled.size(), -1);
    int unknowns = 0;
    for (const SevenPoint::Row& row : a.rows()) {
      for (std::ptrdiff_t n = row.first; n < row.first + row.length; ++n) {
        if (a.problem().has(n)) number[static_cast<std::size_t>(n)] = unknowns++;
      }
    }
    matrix.resize(unknowns, unknowns);
    matrix.reserve(Eigen::VectorXi::Constant(unknowns, 7));
    b = Eigen::VectorXd::Ones(unknowns);
    for (std::size_t n = 0; n < number.size(); ++n) {
      if (number[n] < 0) continue;
      const auto node = static_cast<std::ptrdiff_t>(n);
      matrix.insert(number[n], number[n]) = static_cast<double>(a.diagonal()[node]);
      for (const Direction d : directions) {
        const int next = number[static_cast<std::size_t>(node + a.lattice().step(d))];
        if (next >= 0) matrix.insert(next, number[n]) = -static_cast<double>(a.link(node, d));
      }
    }
    matrix.makeCompressed();
  }
  double solve() {
    Eigen::ConjugateGradient<Eigen::SparseMatrix<double>, Eigen::Lower | Eigen::Upper> cg;
    cg.setTolerance(tol);
    cg.compute(matrix);
    x = cg.solve(b);
    iterations = static_cast<int>(cg.iterations());
    return x.maxCoeff();
  }

  Eigen::SparseMatrix<double> matrix;
  Eigen::VectorXd b, x;
  int iterations = 0;
};

/// Most memory that a process of its own needs for the work, without what it has before.
template <typename Work>
double peak_MB(const Work& work) {
  std::array<int, 2> ends{};
  if (pipe(ends.data()) != 0) return std::nan("");
  const pid_t child = fork();
  if (child == 0) {
    rusage before{};
    rusage after{};
    getrusage(RUSAGE_SELF, &before);
    work();
    getrusage(RUSAGE_SELF, &after);
    const double grown_MB = static_cast<double>(after.ru_maxrss - before.ru_maxrss) / 1024.0;
    const bool told = write(ends[1], &grown_MB, sizeof grown_MB) == sizeof grown_MB;
    _exit(told ? 0 : 1);
  }
  double grown_MB = std::nan("");
  if (child < 0 || read(ends[0], &grown_MB, sizeof grown_MB) != sizeof grown_MB)
    return std::nan("");
  waitpid(child, nullptr, 0);
  return grown_MB;
}

void compare(int across, int turns) {
  const double ours_MB = peak_MB([&] { Ours{across}.solve(); });
  const double reference_MB = peak_MB([&] { Reference{across}.solve(); });
  const double before_s = thread_time_s();
  Ours ours{across};
  const double begin_s = thread_time_s() - before_s;
  Reference reference{across};
  const Pair times =
      median_of_turns_ms([&] { ours.solve(); }, [&] { reference.solve(); }, turns, 1);
  double largest = 0.0;
  for (std::size_t n = 0; n < ours.x.size(); ++n) largest = std::max(largest, ours.x[n]);
  fmt::print("  {:5} {:9} {:7.1f} {:7.1f} {:6} {:6.0f} {:9.1f} {:6} {:6.0f} {:7.1f} {:9.1e}\n",
             across,
             reference.b.size(),
             1e3 * begin_s,
             times.ours_ms,
             ours.solve().iterations,
             ours_MB,
             times.reference_ms,
             reference.iterations,
             reference_MB,
             times.reference_ms / times.ours_ms,
             std::abs(largest / reference.x.maxCoeff() - 1.0));
}

void everything() {
#ifndef NDEBUG
  fmt::print("Built without optimisation: the times below mean nothing.\n\n");
#endif
  fmt::print(
      "Field of a ball to a relative residual of {}: ours against Eigen's conjugate gradients "
      "with\n"
      "diagonal preconditioner, processor time of one core, medians of turns in one run\n",
      tol);
  fmt::print("  {:>5} {:>9} {:>7} {:>7} {:>6} {:>6} {:>9} {:>6} {:>6} {:>7} {:>9}\n",
             "grid",
             "unknowns",
             "begin",
             "ms",
             "rounds",
             "MB",
             "Eigen, ms",
             "rounds",
             "MB",
             "ratio",
             "u differs");
  compare(32, 11);
  compare(64, 5);
  compare(128, 3);
}

/// Our code alone: for a profiler.
bool ours_alone(int across, int times) {
  Ours ours{across};
  bool reached = true;
  for (int i = 0; i < times; ++i) reached = ours.solve().reached && reached;
  return reached;
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
  const auto across = count(arguments[0]);
  const auto times = arguments.size() == 2 ? count(arguments[1]) : std::nullopt;
  if (!across || !times) {
    fmt::print(stderr,
               "thickset_field_bench              the comparison\n"
               "thickset_field_bench ACROSS N     our code alone, N times\n");
    return EXIT_FAILURE;
  }
  return ours_alone(*across, *times) ? EXIT_SUCCESS : EXIT_FAILURE;
} catch (const std::exception& e) {
  fmt::print(stderr, "{}\n", e.what());
  return EXIT_FAILURE;
}
