// What one whole simulation (W2) costs against nodes, steps of time and thickness, and many samples
// of it against their number. notes/benchmarks.md says how to read it.
//   thickset_cost_bench [PICTURE.svg]
#include <chrono>
#include <cmath>
#include <cstdint>
#include <cstdio>
#include <exception>
#include <stdexcept>
#include <string>
#include <vector>

#include <fmt/format.h>

#include "base/text_file.h"
#include "bench/ours.h"
#include "bench/sampled.h"
#include "bench/timing.h"
#include "reporting/charts/drawing.h"
#include "reporting/charts/panel.h"

using namespace thickset;
using namespace thickset::bench;

namespace {

constexpr int repeats = 41;
constexpr int batch = 8;  // what it takes to read the clock is then little

/// A cost against something, over that of the default settings in the same run.
struct Cost {
  std::string of, unit;
  std::vector<double> x, ratio;
};

double cost_ms(const ours::Settings& settings) {
  const auto eight = [&] {
    for (int i = 0; i < batch; ++i) ours::retardation_nm_per_cm(settings);
  };
  return median_ms(eight, repeats) / batch;
}

Cost against_nodes(double usual_ms) {
  Cost curve{"nodes of half the slab", "", {}, {}};
  for (const int nodes : {7, 11, 15, 21, 31, 41, 61, 81}) {
    ours::Settings settings = ours::default_settings();
    settings.nodes = nodes;
    curve.x.push_back(nodes);
    curve.ratio.push_back(cost_ms(settings) / usual_ms);
  }
  return curve;
}

Cost against_steps(double usual_ms) {
  Cost curve{"steps of time", "", {}, {}};
  for (const double times : {8.0, 4.0, 2.0, 1.0, 0.5, 0.25, 0.0625, 0.015625, 0.00390625}) {
    ours::Settings settings = ours::default_settings();
    settings.tolerance_K *= times;
    curve.x.push_back(ours::steps(settings));
    curve.ratio.push_back(cost_ms(settings) / usual_ms);
  }
  return curve;
}

Cost against_thickness(double usual_ms) {
  Cost curve{"thickness", "mm", {}, {}};
  for (const double thickness_mm : {12.0, 25.0, 50.0, 75.0, 100.0, 150.0, 200.0, 300.0}) {
    ours::Settings settings = ours::default_settings();
    settings.half_thickness_m = 0.5e-3 * thickness_mm;
    curve.x.push_back(thickness_mm);
    curve.ratio.push_back(cost_ms(settings) / usual_ms);
  }
  return curve;
}

/// Castings drawn at random, on one thread.
Cost against_samples(double usual_ms) {
  Cost curve{"samples", "", {}, {}};
  const SampledW2 W2;
  for (const int samples : {1, 100, 300, 1000, 2000, 3000}) {
    const double all_ms = median_ms([&] { W2.run(static_cast<std::uint64_t>(samples), 1); }, 5);
    curve.x.push_back(samples);
    curve.ratio.push_back(all_ms / usual_ms);
  }
  return curve;
}

/// From the start of the program to the end of its first line, on the wall clock.
double first_output_ms(const std::string& words) {
  const std::string command = "'" THICKSET_BINARY "' " + words + " 2>/dev/null";
  std::vector<double> times_ms;
  for (int i = 0; i < repeats; ++i) {
    const auto before = std::chrono::steady_clock::now();
    FILE* const output = popen(command.c_str(), "r");
    if (output == nullptr) throw std::runtime_error{"the program does not start"};
    int c = 0;
    while ((c = std::fgetc(output)) != EOF && c != '\n') {
    }
    const std::chrono::duration<double, std::milli> took =
        std::chrono::steady_clock::now() - before;
    while (std::fgetc(output) != EOF) {
    }
    pclose(output);
    times_ms.push_back(took.count());
  }
  return median(std::move(times_ms));
}

void print(const Cost& curve) {
  fmt::print("{:>34}  ratio\n", curve.of + (curve.unit.empty() ? "" : ", " + curve.unit));
  for (std::size_t i = 0; i < curve.x.size(); ++i) {
    fmt::print("{:>34g}  {:.2f}\n", curve.x[i], curve.ratio[i]);
  }
}

/// Each curve in a field of its own, all from nothing on.
std::string picture(const std::vector<Cost>& curves) {
  constexpr double field_width_px = 400.0, field_height_px = 110.0, apart_px = 84.0, left_px = 52.0;
  constexpr double top_px = 34.0, right_margin_px = 24.0;
  constexpr int most_ticks = 7;
  Drawing drawing;
  double y_px = top_px;
  for (const Cost& curve : curves) {
    const Range x = with(range_of(curve.x), 0.0);
    Range y = with(range_of(curve.ratio), 0.0);
    y.high *= 1.05;
    const Panel panel{{left_px, y_px, left_px + field_width_px, y_px + field_height_px}, x, y};
    panel.axes(drawing,
               ticks_of(nice_ticks(x, most_ticks)),
               ticks_of(nice_ticks(y, most_ticks)),
               "times the cost of the usual one");
    panel.below(drawing, curve.of + (curve.unit.empty() ? "" : ", " + curve.unit));
    panel.curve(drawing, {"", Mark::first, curve.x, curve.ratio});
    for (std::size_t i = 0; i < curve.x.size(); ++i) {
      drawing.dot(panel.at(curve.x[i], curve.ratio[i]));
    }
    y_px += field_height_px + apart_px;
  }
  return svg_file({.title = "Cost of a simulation",
                   .summary = "Cost against nodes, steps, thickness and samples, each over that of "
                              "one simulation at the usual settings.",
                   .width_px = left_px + field_width_px + right_margin_px,
                   .height_px = y_px - apart_px + 52.0,
                   .svg = drawing.svg(),
                   .caption = "",
                   .heads = {},
                   .rows = {}});
}

}  // namespace

int main(int argc, char** argv) try {
  const double usual_ms = cost_ms(ours::default_settings());
  fmt::print("one simulation at the usual settings: {} nodes, {} steps, {:.3f} ms; ratio 1\n",
             ours::default_settings().nodes,
             ours::steps(),
             usual_ms);
  const std::vector<Cost> curves{against_nodes(usual_ms),
                                 against_steps(usual_ms),
                                 against_thickness(usual_ms),
                                 against_samples(usual_ms)};
  for (const Cost& curve : curves) print(curve);
  for (const char* words : {"--version", "help check", "list casting-soda-lime-9.0"}) {
    fmt::print("start-up to first output, {}: {:.1f} ms\n", words, first_output_ms(words));
  }
  if (argc > 1) write_text_file(argv[1], picture(curves));
  return 0;
} catch (const std::exception& error) {
  fmt::print(stderr, "{}\n", error.what());
  return 1;
}
