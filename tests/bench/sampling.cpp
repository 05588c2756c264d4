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

#include "bench/timing.h"
#include "bench/workload.h"
#include "glass/read_glass.h"
#include "kiln/kiln.h"
#include "sampling/how_sure.h"
#include "sampling/sample_course.h"

using namespace thickset;

namespace {

/// The slab, kiln and course of W2 as a casting that can be sampled.
struct Workload {
  Casting casting;
  Kiln kiln;
  KilnCourse course;

  CourseToSample to_sample() const {
    return {.casting = casting, .kiln = kiln, .course = course, .bulk = Bulk::constant_ratio};
  }
};

Workload workload_W2() {
  const bench::Slab slab;
  const bench::Relaxation relaxation;
  const Glass glass = parse_glass(
      fmt::format("title = as W2\nfamily = soda-lime\n"
                  "expansion = {} /K\nliquid_expansion = {} /K\n"
                  "annealing_point = 562.03 C\nstrain_point = 531.56 C\n"
                  "density = {} kg/m3\nyoungs_modulus = {} GPa\npoisson_ratio = {}\n"
                  "activation = {} K\nmean_shear_time = 1.000 s at {} K\nactivation_share = {}\n",
                  relaxation.expansion_per_K,
                  relaxation.liquid_expansion_per_K,
                  slab.density_kg_per_m3,
                  relaxation.youngs_modulus_Pa * 1e-9,
                  relaxation.poisson_ratio,
                  relaxation.activation_K,
                  relaxation.reference_K,
                  relaxation.x),
      "W2.glass");
  Kiln kiln = parse_kiln("natural_cooling = 800 C 320 C/h, 100 C 9 C/h\n", "W2.kiln");
  kiln.film_coefficient_W_per_m2_K = slab.film_W_per_m2_K;
  kiln.emissivity = slab.emissivity;
  KilnCourse course{
      .followed = {}, .start = Temperature::from_K(slab.start_K), .steps = bench::stretches};
  int step = -1;
  for (const bench::Corner& corner : bench::course()) {
    course.followed.air.corners.push_back({corner.time_s, corner.kiln_K, step++});
  }
  return {.casting = {.title = "W2",
                      .glass = glass,
                      .shape = Slab{Length::from_m(2.0 * slab.half_thickness_m)},
                      .reservoir = std::nullopt},
          .kiln = std::move(kiln),
          .course = std::move(course)};
}

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
  const Workload workload = workload_W2();
  const CourseToSample what = workload.to_sample();
  const std::vector<UncertainInput> inputs = uncertain_inputs(workload.casting, workload.kiln);
  const auto sample_by = [&](unsigned threads) {
    return sample_course(what, inputs, {0, count}, {.threads = threads, .progress = {}});
  };
  std::vector<double> one_cpu_ms, one_ms, two_ms, ratio;
  for (int turn = 0; turn < turns; ++turn) {
    one_cpu_ms.push_back(bench::time_ms([&] { sample_by(1); }, 1));
    one_ms.push_back(wall_ms([&] { sample_by(1); }));
    two_ms.push_back(wall_ms([&] { sample_by(2); }));
    ratio.push_back(one_ms.back() / two_ms.back());
  }
  const Study study = study_of(what, {}, "W2", count);
  const std::vector<Sample> samples = sample_by(2);
  fmt::print(
      "{} samples of W2, {} inputs, medians of {} turns; {} processors\n"
      "  one thread, processor time  {:7.1f} ms (target 250)\n"
      "  one thread, clock           {:7.1f} ms\n"
      "  two threads, clock          {:7.1f} ms, {:.2f} times as fast (best turn {:.2f})\n"
      "  chances, bands and shares   {:7.1f} ms\n",
      count,
      inputs.size(),
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
  const Workload workload = workload_W2();
  const std::vector<Sample> samples =
      sample_course(workload.to_sample(),
                    uncertain_inputs(workload.casting, workload.kiln),
                    {0, count},
                    {.threads = 1, .progress = {}});
  return samples.size() == count ? EXIT_SUCCESS : EXIT_FAILURE;
} catch (const std::exception& error) {
  fmt::print(stderr, "{}\n", error.what());
  return EXIT_FAILURE;
}
