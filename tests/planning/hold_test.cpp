#include "planning/hold.h"

#include <cmath>
#include <numbers>

#include <doctest/doctest.h>

#include "checking/example_casting.h"
#include "message_of.h"
#include "relaxation/relaxation_time.h"

using namespace thickset;

namespace {

Hold hold_of(const Shape& shape, std::optional<Temperature> fixed = std::nullopt) {
  return size_hold(example::of_shape(shape), example::kiln(), {}, Rate::from_K_per_h(5.0), fixed);
}

}  // namespace

// ASTM E230 type K, standard grade: 0.75 % of 513 C is 3.85 C.
TEST_CASE("the hold stands at the annealing point and counts the sensor's tolerance") {
  const Hold hold = hold_of(Slab{Length::from_mm(50.0)});
  CHECK(std::abs(hold.temperature.in_C() - 513.0) <= 1e-9);
  CHECK(std::abs(hold.sensor_tolerance.in_K() - 3.8475) <= 1e-9);
  CHECK(hold.relaxing > hold.relaxing_if_sensor_true);
  CHECK(std::fmod(in_min(hold.total()) + 1e-9, 1.0) <= 1e-6);  // whole minutes
}

TEST_CASE("a ball's core arrives before that of a slab as thick, and a rod's between") {
  const Hold slab = hold_of(Slab{Length::from_mm(80.0)});
  const Hold rod = hold_of(Rod{Length::from_mm(80.0)});
  const Hold ball = hold_of(Ball{Length::from_mm(80.0)});
  CHECK(ball.total() < rod.total());
  CHECK(rod.total() < slab.total());
}

// After the fall the slowest mode alone is left; exchange with the kiln slows it beyond L^2/(kappa
// (pi/2)^2), so evening from 5 K to the end takes at least that long.
TEST_CASE("evening out is no quicker than conduction alone allows") {
  const Casting casting = example::slab_of_mm(100.0);
  const Hold hold = size_hold(casting, example::kiln(), {}, Rate::from_K_per_h(2.0));
  const Glass& glass = casting.glass;
  const double T_K = hold.temperature.in_K();
  const double diffusivity =
      glass.conductivity_W_per_m_K.value.at(T_K) /
      (glass.density_kg_per_m3.value * glass.heat_capacity_J_per_kg_K.value.at(T_K));
  const double tau_s = 0.1 * 0.1 / (std::numbers::pi * std::numbers::pi * diffusivity);
  const double later_K = 2.0 / 3600.0 * 0.05 * 0.05 / (2.0 * diffusivity);
  // Within 5 K of the kiln the core is at most 5 K above the surface.
  CHECK(in_s(hold.arriving + hold.evening) > tau_s * std::log(5.0 / (evening_share * later_K)));
  CHECK(hold.behind_on_arrival.in_K() > 50.0);
}

TEST_CASE("a hold below the floor is sized only when asked for, with a note") {
  const Hold low = hold_of(Slab{Length::from_mm(50.0)}, Temperature::from_C(470.0));
  CHECK_FALSE(low.notes.empty());
  CHECK(low.relaxing > hold_of(Slab{Length::from_mm(50.0)}).relaxing);
  const std::string message =
      message_of([] { hold_of(Slab{Length::from_mm(50.0)}, Temperature::from_C(380.0)); });
  CHECK(message.find("would take over 30 days to relax") != std::string::npos);
  CHECK(message.find("hold at 479 C or above") != std::string::npos);
}

TEST_CASE("a firing that starts below its hold is refused, one that starts at it is not") {
  const Casting casting = example::slab_of_mm(50.0);
  const auto from_C = [&](double start_C) {
    return message_of([&] {
      size_hold(casting,
                example::kiln(),
                {.from = Temperature::from_C(start_C), .room = Temperature::from_C(20.0)},
                Rate::from_K_per_h(5.0));
    });
  };
  CHECK(
      from_C(400.0) ==
      "start: the firing starts at 400 C, below the hold at 513 C; a tail starts from the process "
      "temperature: give that one");
  CHECK(from_C(513.0) == "no error");
}
