// How long it takes to be sure: samples of the workload W2 on one thread and on two, in turns in
// one run. Needs nothing but the library; notes/benchmarks.md#samples says how to run it.

#include <algorithm>
#include <charconv>
#include <chrono>
#include <cstdint>
#include <cstdlib>
#include <exception>
#include <string_view>
#include <thread>
#include <vector>

#include <fmt/format.h>

#include "bench/sampled.h"
#include "bench/timing.h"

using namespace thickset;

namespace {

template <class Work>
double wall_ms(const Work& work) {
  const auto before = std::chrono::steady_clock::now();
  work();
  return std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - before)
      .count();
}

void compare() {
  constexpr std::uint64_t count = 1000;
  constexpr int turns = 15;
  const bench::SampledW2 W2;
  const auto sample_by = [&](unsigned threads) { return W2.run(count, threads); };
  std::vector<double> one_cpu_ms, one_ms, two_ms, ratio;
  for (int turn = 0; turn < turns; ++turn) {
    one_cpu_ms.push_back(bench::time_ms([&] { sample_by(1); }, 1));
    one_ms.push_back(wall_ms([&] { sample_by(1); }));
    two_ms.push_back(wall_ms([&] { sample_by(2); }));
    ratio.push_back(one_ms.back() / two_ms.back());
  }
  const Study study = study_of(W2.to_sample(), {}, "W2", count);
  const std::vector<Sample> samples = sample_by(2);
  fmt::print(
      "{} samples of W2, {} inputs, medians of {} turns; {} processors\n"
      "  one thread, processor time  {:7.1f} ms (target 250)\n"
      "  one thread, clock           {:7.1f} ms\n"
      "  two threads, clock          {:7.1f} ms, {:.2f} times as fast (best turn {:.2f})\n"
      "  chances, bands and shares   {:7.1f} ms\n",
      count,
      W2.inputs.size(),
      turns,
      std::thread::hardware_concurrency(),
      bench::median(one_cpu_ms),
      bench::median(one_ms),
      bench::median(two_ms),
      bench::median(ratio),
      *std::max_element(ratio.begin(), ratio.end()),
      bench::median_ms([&] { how_sure(study, samples); }, 5));
}

}  // namespace

int main(int argc, char** argv) try {
  if (argc == 1) {
    compare();
    return EXIT_SUCCESS;
  }
  // Samples alone, for a profiler or a count of instructions.
  const std::string_view text = argv[1];
  std::uint64_t count = 0;
  if (std::from_chars(text.data(), text.data() + text.size(), count).ec != std::errc{}) {
    fmt::print(stderr, "thickset_sampling_bench [N]: the table, or N samples alone\n");
    return EXIT_FAILURE;
  }
  return bench::SampledW2{}.run(count, 1).size() == count ? EXIT_SUCCESS : EXIT_FAILURE;
} catch (const std::exception& error) {
  fmt::print(stderr, "{}\n", error.what());
  return EXIT_FAILURE;
}
