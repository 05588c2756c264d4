#include "planning/hold.h"

#include <cmath>
#include <numbers>

#include <doctest/doctest.h>

#include "checking/example_casting.h"
#include "checking/past.h"
#include "checking/rules.h"
#include "message_of.h"
#include "planning/stages.h"
#include "relaxation/relaxation_time.h"

using namespace thickset;

namespace {

Hold hold_of(const Shape& shape, std::optional<Temperature> fixed = std::nullopt) {
  return size_hold(example::of_shape(shape), example::kiln(), {}, Rate::from_K_per_h(5.0), fixed);
}

Casting reference_slab_of_mm(double thickness_mm) {
  return example::slab_of_mm(thickness_mm, "reference-516-480");
}

/// The permanent stress after a hold with the kiln really at a temperature, cooled at one rate to
/// far below the strain point and evened out there.
double permanent_after_Pa(const Casting& casting, Temperature real, Duration length, Rate rate) {
  constexpr auto set = TemperatureDifference::from_K(150.0);
  const Kiln kiln = example::kiln();
  const Temperature from = Firing{}.from;
  Program program;
  program.steps.push_back({.target = real, .pace = AsFastAsPossible{}, .hold = length});
  program.steps.push_back({.target = casting.glass.strain_point.value - set,
                           .pace = rate,
                           .hold = rules::time_to_even_out(casting.shape)});
  const FollowedProgram followed = follow(program, kiln, Controller::LateOnCooling::waits, from);
  return simulate(casting, kiln, followed.air, from, Respect::permanent_tension)
      .rows.back()
      .centre_Pa;
}

/// Falls at 300 K/h from 900 to 300 C.
Kiln fast_kiln() {
  const Rate fall = Rate::from_K_per_h(300.0);
  return {.name = "fast",
          .title = "kiln that falls at 300 K/h",
          .natural_cooling = NaturalCooling{{{Temperature::from_C(900.0), fall},
                                             {Temperature::from_C(300.0), fall}},
                                            Temperature::from_C(20.0)},
          .film_coefficient_W_per_m2_K = 10.0,
          .emissivity = 0.9,
          .assumed = {}};
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

TEST_CASE("ten times the hold would change the permanent stress by less than 5 %") {
  // The share of the later stress that the past may have left; the simulation is our own.
  constexpr double allowed = relaxed_share;
  for (const double thickness_mm : {12.0, 25.0, 50.0, 100.0}) {
    for (const double below_annealing_K : {0.0, 20.0}) {
      CAPTURE(thickness_mm);
      CAPTURE(below_annealing_K);
      const Casting casting = example::slab_of_mm(thickness_mm);
      const Rate rate = estimate_rates(casting, {}).setting;
      const Temperature at =
          casting.glass.annealing_point.value - TemperatureDifference::from_K(below_annealing_K);
      const Hold hold = size_hold(casting, example::kiln(), {}, rate, at);
      for (const double sensor : {-1.0, 0.0, 1.0}) {
        CAPTURE(sensor);
        const Temperature real =
            at + TemperatureDifference::from_K(sensor * hold.sensor_tolerance.in_K());
        const double after_Pa = permanent_after_Pa(casting, real, hold.total(), rate);
        const double after_ten_Pa = permanent_after_Pa(casting, real, 10.0 * hold.total(), rate);
        CHECK(std::abs(after_Pa / after_ten_Pa - 1.0) < allowed);
      }
      // The time to even out alone would not do in thin glass on a cool hold.
      if (thickness_mm > 25.0 || below_annealing_K == 0.0) continue;
      const Temperature real = at - hold.sensor_tolerance;
      const double even_Pa = permanent_after_Pa(casting, real, hold.arriving + hold.evening, rate);
      CHECK(even_Pa / permanent_after_Pa(casting, real, 10.0 * hold.total(), rate) - 1.0 > allowed);
    }
  }
}

TEST_CASE("a cooler hold relaxes longer, in the model and by the estimate") {
  Duration last{0.0};
  Duration last_estimate{0.0};
  for (const double at_C : {523.0, 513.0, 503.0, 493.0, 483.0}) {
    CAPTURE(at_C);
    const Hold hold = hold_of(Slab{Length::from_mm(25.0)}, Temperature::from_C(at_C));
    CHECK(hold.relaxing > last);
    CHECK(hold.relaxing_estimate > last_estimate);
    last = hold.relaxing;
    last_estimate = hold.relaxing_estimate;
  }
}

TEST_CASE(
    "a thicker piece is held longer, though the structure of thick glass relaxes on the way") {
  Duration last{0.0};
  for (const double thickness_mm : {12.0, 25.0, 50.0, 75.0, 100.0, 150.0, 300.0}) {
    CAPTURE(thickness_mm);
    const Casting casting = example::slab_of_mm(thickness_mm);
    const Hold hold = size_hold(casting, example::kiln(), {}, estimate_rates(casting, {}).setting);
    CHECK(hold.total() > last);
    last = hold.total();
    if (thickness_mm >= 150.0) CHECK(hold.relaxing < 0.05 * hold.total());
  }
}

TEST_CASE("a hold that relaxes longer than its first simulation lasts is not cut short") {
  const Casting casting = example::slab_of_mm(12.0);
  const Hold hold = size_hold(casting,
                              example::kiln(),
                              {},
                              estimate_rates(casting, {}).setting,
                              Temperature::from_C(452.0));
  CHECK(hold.relaxing > rules::time_to_even_out(casting.shape));
  CHECK(hold.relaxing < longest_relaxing);
  CHECK(hold.relaxing > hold.relaxing_estimate);  // the spectrum's slow terms come last
}

// Computed, not published: a separate model of the same glass, film and fall, 830 C at 300 K/h,
// then cooling at R d^2 = 120 K/h cm2, which is 10 nm/cm there.
constexpr double orientation = 0.03;  // of those values; they came without all of their inputs

TEST_CASE("after a fast fall glass evens out in the time that a separate model gives") {
  struct Row {
    double thickness_mm, even_h;
  };
  constexpr double half_digit_h = 0.05;
  for (const Row& row : {Row{25.0, 0.7}, {50.0, 2.3}, {75.0, 4.6}, {100.0, 7.7}, {150.0, 15.8}}) {
    CAPTURE(row.thickness_mm);
    const double rate_K_per_h = 120.0 / std::pow(0.1 * row.thickness_mm, 2);
    const std::optional<HoldCourse> course = hold_course(reference_slab_of_mm(row.thickness_mm),
                                                         fast_kiln(),
                                                         Temperature::from_C(830.0),
                                                         Temperature::from_C(516.0),
                                                         Rate::from_K_per_h(rate_K_per_h));
    REQUIRE(course.has_value());
    CHECK(std::abs(in_h(course->even) - row.even_h) <= orientation * row.even_h + half_digit_h);
  }
}

TEST_CASE(
    "when the kiln arrives after a fast fall, the core is as hot as a separate model has it") {
  struct Row {
    double thickness_mm, core_above_surface_K;
  };
  const Temperature from = Temperature::from_C(830.0);
  Program fall;
  fall.steps.push_back(
      {.target = Temperature::from_C(516.0), .pace = AsFastAsPossible{}, .hold = hours(1.0)});
  const FollowedProgram followed =
      follow(fall, fast_kiln(), Controller::LateOnCooling::waits, from);
  const double arrives_s = (830.0 - 516.0) / 300.0 * 3600.0;
  for (const Row& row : {Row{75.0, 104.0}, {150.0, 201.0}}) {
    CAPTURE(row.thickness_mm);
    const History history = simulate(reference_slab_of_mm(row.thickness_mm),
                                     fast_kiln(),
                                     followed.air,
                                     from,
                                     Respect::steady_difference);
    const History::Row& arrival = history.at(arrives_s);
    CHECK(std::abs(arrival.centre_K - arrival.surface_K - row.core_above_surface_K) <=
          orientation * row.core_above_surface_K);
  }
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
  CHECK(from_C(400.0) ==
        "--from: the firing starts at 400 °C, below the hold at 513 °C; a tail starts from the "
        "process "
        "temperature: give that one");
  CHECK(from_C(513.0) == "no error");
}
