#include "bench/sampled.h"

#include <fmt/format.h>

#include "bench/workload.h"
#include "glass/read_glass.h"

namespace thickset::bench {
namespace {

Glass glass_of_W2() {
  const Slab slab;
  const Relaxation relaxation;
  return parse_glass(
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
}

Kiln kiln_of_W2() {
  const Slab slab;
  Kiln kiln = parse_kiln("natural_cooling = 800 C 320 C/h, 100 C 9 C/h\n", "W2.kiln");
  kiln.film_coefficient_W_per_m2_K = slab.film_W_per_m2_K;
  kiln.emissivity = slab.emissivity;
  return kiln;
}

KilnCourse course_of_W2() {
  KilnCourse sampled{
      .followed = {}, .start = Temperature::from_K(Slab{}.start_K), .steps = stretches};
  int step = -1;
  for (const Corner& corner : course()) {
    sampled.followed.air.corners.push_back({corner.time_s, corner.kiln_K, step++});
  }
  return sampled;
}

}  // namespace

SampledW2::SampledW2()
    : casting{.title = "W2",
              .glass = glass_of_W2(),
              .shape = thickset::Slab{Length::from_m(2.0 * Slab{}.half_thickness_m)},
              .reservoir = std::nullopt},
      kiln{kiln_of_W2()},
      course{course_of_W2()},
      inputs{uncertain_inputs(casting, kiln)} {}

std::vector<Sample> SampledW2::run(std::uint64_t samples, unsigned threads) const {
  return sample_course(to_sample(), inputs, {0, samples}, {.threads = threads, .progress = {}});
}

}  // namespace thickset::bench
