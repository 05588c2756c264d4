#include <cmath>
#include <string>
#include <vector>

#include <doctest/doctest.h>

#include "base/text_file.h"
#include "cli/read_answer.h"
#include "cli/run_program.h"
#include "temporary_folder.h"

using namespace thickset;

namespace {

/// The published soda-lime set with the expansions and the heat law of the check case.
constexpr const char* glass =
    "expansion = 9.1e-6 /K\n"
    "liquid_expansion = 25.1e-6 /K\n"
    "annealing_point = 562 C\n"
    "strain_point = 532 C\n"
    "density = 2530 kg/m3\n"
    "youngs_modulus = 70 GPa\n"
    "poisson_ratio = 0.22\n"
    "stress_optical = 2.7 1/TPa\n"
    "conductivity = 0.741 + 8.58e-4 T W/(m K) for 150..1400 K\n"
    "heat_capacity = 893 + 0.4 T - 1.8e7 / T^2 J/(kg K) for 150..850 K\n"
    "heat_capacity = 1433 + 6.5e-3 T J/(kg K) for 850..1400 K\n"
    "activation = 76200 K\n"
    "mean_shear_time = 1.000 s at 869 K\n"
    "activation_share = 0.5\n";

/// A kiln that follows any program, exchanging 8 W/(m2 K) and radiation of emissivity 0.9.
constexpr const char* kiln =
    "natural_cooling = 800 C 20000 C/h, 26 C 20000 C/h\n"
    "room = 20 C\n"
    "film_coefficient = 8 W/(m2 K)\n"
    "emissivity = 0.9\n";

constexpr const char* program =
    "target_C,rate_C_per_h,hold_min\n"
    "545,255,360\n"
    "452,4,0\n"
    "361,9,0\n"
    "25,25,2400\n";

}  // namespace

// Computed, not published: two independent codes agree on 21.65 nm/cm with constant Poisson ratio;
// with elastic bulk 22.08, with relaxing bulk 21.49.
TEST_CASE("check on 75 mm from files a user could write: 21.65 nm/cm") {
  const TemporaryFolder folder;
  const std::string tail = folder.file("tail.csv", program);
  const std::vector<std::string> words = {"check",
                                          tail,
                                          "--glass",
                                          folder.file("thick.glass", glass),
                                          "--thickness",
                                          "75mm",
                                          "--kiln",
                                          folder.file("quick.kiln", kiln),
                                          "--grade",
                                          "30nm/cm",
                                          "--tension",
                                          "5MPa"};
  const auto left_nm_per_cm = [&](const std::string& bulk) {
    std::vector<std::string> line = words;
    line.insert(line.end(), {"--bulk", bulk, "--format", "keys"});
    const ProgramRun run = run_program(line);
    CAPTURE(run.errors);
    CHECK(run.exit_status == 0);
    return std::stod(keys_of(run.output).at("residual_retardation_nm_per_cm"));
  };
  CHECK(std::abs(left_nm_per_cm("constant-ratio") - 21.65) <= 0.02);
  CHECK(std::abs(left_nm_per_cm("elastic") - 22.08) <= 0.05);
  CHECK(std::abs(left_nm_per_cm("relaxing") - 21.49) <= 0.05);

  // The history and the final profile as files, and the comparison of treatments on request.
  std::vector<std::string> line = words;
  line.insert(line.end(),
              {"--explain", "--trace", folder / "trace.csv", "--profile", folder / "profile.csv"});
  const ProgramRun run = run_program(line);
  CHECK(run.output.find("What each treatment of the bulk gives:") != std::string::npos);
  CHECK(run.output.find("constant-ratio  21.6 nm/cm") != std::string::npos);
  const auto trace = lines_of(read_text_file(folder / "trace.csv"));
  CHECK(trace.size() > 60);
  CHECK(trace.front() ==
        "hours,kiln_C,surface_C,centre_C,mean_C,difference_K,surface_stress_MPa,centre_stress_MPa,"
        "largest_tension_MPa,surface_fictive_C,centre_fictive_C");
  const auto profile = lines_of(read_text_file(folder / "profile.csv"));
  CHECK(profile.size() == 12);  // a header and 11 nodes
  CHECK(profile.front() == "from_centre_mm,stress_MPa,fictive_C");
}
