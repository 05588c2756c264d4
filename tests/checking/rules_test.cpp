#include <doctest/doctest.h>

#include "checking/example_casting.h"
#include "checking/rules.h"
#include "glass/read_glass.h"

using namespace thickset;

namespace {

/// Annealing point 513 C, strain point 465 C, where a sensor is off by 3.5 C at most.
Glass glass_with(const std::string& more) {
  return parse_glass("expansion = 9e-6 /K\nannealing_point = 513 C\nstrain_point = 465 C\n" + more,
                     "my.glass");
}

double floor_C(const std::string& more) {
  return rules::hold_floor(glass_with(more), example::kiln()).in_C();
}

constexpr double sensor_K = 0.0075 * 465.0;  // [ASTM-E230]

}  // namespace

TEST_CASE("hold floor: 10 K and the sensor's tolerance above the strain point") {
  CHECK(floor_C("") == doctest::Approx(475.0 + sensor_K));
  CHECK(floor_C("annealing_point_uncertainty = 4 K") == doctest::Approx(475.0 + sensor_K));
}

TEST_CASE("hold floor: as far above as the points are uncertain, up to the annealing point") {
  CHECK(floor_C("annealing_point_uncertainty = 25 K") == doctest::Approx(490.0 + sensor_K));
  CHECK(floor_C("annealing_point_uncertainty = 60 K") == doctest::Approx(513.0));
}
