#include "planning/fastest_stages.h"

#include <cmath>
#include <string>
#include <vector>

#include <doctest/doctest.h>

#include "checking/example_casting.h"
#include "glass/read_glass.h"
#include "planning/brute_force.h"
#include "stress/permanent_estimate.h"
#include "stress/retardation.h"

using namespace thickset;

namespace {

constexpr auto waits = Controller::LateOnCooling::waits;

/// Falls as fast as anybody asks.
Kiln kiln_that_follows(double film_W_per_m2_K, double emissivity) {
  Kiln kiln = example::kiln();
  const Rate fast = Rate::from_K_per_h(20000.0);
  kiln.natural_cooling =
      NaturalCooling{{{Temperature::from_C(800.0), fast}, {Temperature::from_C(21.0), fast}},
                     Temperature::from_C(15.0)};
  kiln.film_coefficient_W_per_m2_K = film_W_per_m2_K;
  kiln.emissivity = emissivity;
  return kiln;
}

struct Design {
  std::vector<Casting> castings;
  Kiln kiln;
  Firing firing;
  Limits limits;
  Program to_hold_end;
  Temperature end;

  CoolDown cool_down(Bulk bulk = Bulk::constant_ratio) const {
    const std::vector<Bulk> bulks{bulk};
    return {castings, kiln, waits, firing, to_hold_end, bulks, limits, end};
  }

  std::vector<FoundStages> up_to(int stages) const {
    const CoolDown cool_down = this->cool_down();
    const StageBounds bounds{kiln, firing, end, false};
    const FastestStages fastest{castings, cool_down, bounds, limits};
    return fastest.up_to(stages);
  }
};

Limits limits_of(double grade_nm_per_cm, double tension_MPa) {
  Limits limits;
  limits.grade = Retardation::from_nm_per_cm(grade_nm_per_cm);
  limits.tension = Stress::from_MPa(tension_MPa);
  return limits;
}

Casting slab_of(const std::string& glass, double thickness_mm) {
  return example::slab_of_mm(thickness_mm, glass);
}

/// One hour down to a hold.
Program held(double hold_C, double hold_h) {
  Program program;
  program.steps.push_back(
      {.target = Temperature::from_C(hold_C), .pace = hours(1.0), .hold = hours(hold_h)});
  return program;
}

/// The 516/480 glass, even and relaxed at 516 C, its surface where the kiln is: by a film
/// coefficient so large that the two are 0.2 K apart at 50 K/h.
Design reference_slab(double thickness_mm) {
  return {.castings = {slab_of("reference-516-480", thickness_mm)},
          .kiln = kiln_that_follows(5000.0, 0.9),
          .firing = {.from = Temperature::from_C(520.0), .room = Temperature::from_C(15.0)},
          .limits = limits_of(10.0, 5.0),
          .to_hold_end = held(516.0, 60.0),
          .end = Temperature::from_C(20.0)};
}

Course course_of(const CoolDown& cool_down,
                 const std::vector<double>& to_C,
                 const std::vector<double>& rate_K_per_h) {
  Course course{cool_down.hold().in_K(), {}, {}};
  for (const double T_C : to_C) course.to_K.push_back(Temperature::from_C(T_C).in_K());
  for (const double rate : rate_K_per_h) course.rate_K_per_s.push_back(rate / 3600.0);
  return course;
}

// Of values by an independent code that come with all their inputs.
constexpr double independent_rel = 0.03;
// Rates and boundaries printed to three digits.
constexpr double printed_rates_rel = 0.01;

}  // namespace

// W4. Computed, not published: three general optimisers around an independent code agree on 83.7 h
// for three stages, 1.71, 3.76 and 26.1 K/h with boundaries at 456 and 389 C. Ours is another local
// minimum, whose first stage is quick.
TEST_CASE("75 mm, three stages: no slower than three general optimisers found, within the limits") {
  Design design{.castings = {slab_of("soda-lime-relaxation-set", 75.0)},
                .kiln = kiln_that_follows(8.0, 0.9),
                .firing = {.room = Temperature::from_C(15.0)},
                .limits = limits_of(10.0, 5.0),
                .to_hold_end = held(545.0, 6.0),
                .end = Temperature::from_C(25.0)};
  design.castings.front().glass.expansion_per_K.value = 9.1e-6;
  design.castings.front().glass.liquid_expansion_per_K.value = 25.1e-6;
  constexpr double independent_s = 83.7 * 3600.0;

  SUBCASE("the plan") {
    const std::vector<FoundStages> found = design.up_to(3);
    REQUIRE(found.size() == 3);
    CHECK(found.back().outcome.time_s <= independent_s);
    CHECK(found.back().outcome.time_s >= 0.95 * independent_s);  // else a mistake of ours
    for (const FoundStages& one : found) CHECK(one.outcome.worst() <= 1.0);
  }
  SUBCASE("theirs simulated by us: the same time, just at the limits") {
    const CoolDown cool_down = design.cool_down();
    const Course theirs = course_of(cool_down, {456.0, 389.0, 25.0}, {1.71, 3.76, 26.1});
    const CoolDown::Outcome outcome = cool_down.run(steps_of(theirs));
    CHECK(std::abs(outcome.time_s / independent_s - 1.0) <= printed_rates_rel);
    CHECK(std::abs(outcome.left.front() - 1.0) <= printed_rates_rel);
    CHECK(std::abs(outcome.tension[2] - 1.0) <= printed_rates_rel);
  }
}

// Computed, not published: an independent code, local searches; from uniform 516 C to 20 C, the
// surface prescribed, 10 nm/cm and 5 MPa.
TEST_CASE("50 mm of the 516/480 glass: at least as quick as an independent search, by stages") {
  const Design design = reference_slab(50.0);
  const std::vector<FoundStages> found = design.up_to(6);
  const std::vector<double> independent_h = {102.9, 46.2, 40.5, 36.5, 36.5, 36.1};
  REQUIRE(found.size() >= 4);
  for (std::size_t i = 0; i < found.size(); ++i) {
    CAPTURE(i);
    CAPTURE(found[i].outcome.time_s / 3600.0);
    CHECK(found[i].outcome.time_s <= 1.03 * independent_h[i] * 3600.0);
    CHECK(found[i].outcome.worst() <= 1.0);
    if (i > 0) CHECK(found[i].outcome.time_s < found[i - 1].outcome.time_s);
  }
  // Three stages and more beat it; fewer have one minimum only, which ours meets.
  CHECK(found[2].outcome.time_s < 0.99 * 40.5 * 3600.0);
  CHECK(found[3].outcome.time_s < 0.99 * 36.5 * 3600.0);
}

// Computed, not published, by an independent code.
TEST_CASE("one rate from 516 to 20 C: 10 nm/cm at R d^2 = 120 K/h cm^2, whatever the thickness") {
  for (const double thickness_mm : {12.0, 50.0, 150.0}) {
    CAPTURE(thickness_mm);
    const CoolDown cool_down = reference_slab(thickness_mm).cool_down();
    const double thickness_cm = 0.1 * thickness_mm;
    double rate_K_per_h = 120.0 / (thickness_cm * thickness_cm);
    for (int i = 0; i < 4; ++i) {
      const Course course = course_of(cool_down, {20.0}, {rate_K_per_h});
      rate_K_per_h /= cool_down.run(steps_of(course)).left.front();
    }
    CHECK(std::abs(rate_K_per_h * thickness_cm * thickness_cm / 120.0 - 1.0) <= independent_rel);
  }
}

// Computed, not published, by an independent code: no temperature is one below which rates are
// free.
TEST_CASE("tripling the rate below 440 C adds 43 % at 12 mm, 123 % at 150 mm") {
  struct Row {
    double thickness_mm, added;
  };
  for (const Row& row : {Row{12.0, 0.43}, Row{150.0, 1.23}}) {
    CAPTURE(row.thickness_mm);
    const CoolDown cool_down = reference_slab(row.thickness_mm).cool_down();
    const double thickness_cm = 0.1 * row.thickness_mm;
    const double rate_K_per_h = 120.0 / (thickness_cm * thickness_cm);
    const auto left = [&](double times_below) {
      const Course course =
          course_of(cool_down, {440.0, 20.0}, {rate_K_per_h, times_below * rate_K_per_h});
      return cool_down.run(steps_of(course)).left.front();
    };
    CHECK(std::abs(left(3.0) / left(1.0) / (1.0 + row.added) - 1.0) <= independent_rel);
  }
}

// Computed, not published, by an independent code: 1.548 times the classical formula with the
// expansion of the glass, 1.70 times with elastic bulk.
TEST_CASE("one rate from 516 to 20 C leaves 1.55 times what the classical formula says") {
  struct Row {
    Bulk bulk;
    double ratio;
  };
  constexpr double thickness_m = 0.05;
  constexpr double rate_K_per_s = 4.8 / 3600.0;
  for (const Row& row : {Row{Bulk::constant_ratio, 1.548}, Row{Bulk::elastic, 1.70}}) {
    CAPTURE(row.ratio);
    const Design design = reference_slab(1e3 * thickness_m);
    const Glass& glass = design.castings.front().glass;
    const CoolDown cool_down = design.cool_down(row.bulk);
    const Course course = course_of(cool_down, {20.0}, {3600.0 * rate_K_per_s});
    const double left_Pa =
        cool_down.run(steps_of(course)).left.front() *
        stress::stress_of_retardation_Pa(glass.stress_optical_per_Pa.value, design.limits.grade);
    // The diffusivity where stress sets.
    const double classical_Pa = stress::classical_midplane_Pa(
        glass.biaxial_stress_Pa_per_K(),
        rate_K_per_s,
        0.5 * thickness_m,
        glass.diffusivity_m2_per_s(Temperature::from_C(460.0).in_K()));
    CHECK(std::abs(left_Pa / classical_Pa / row.ratio - 1.0) <= independent_rel);
  }
}

// Computed, not published, by an independent code: half of the permanent stress forms below
// T_strain - 57 K + 20 K log10(R in K/h), a twentieth 90 to 100 K lower still.
TEST_CASE("half of the stress of one rate forms 57 K below the strain point and at 20 K a decade") {
  constexpr double strain_C = 480.0;
  constexpr double about_K = 5.0;  // a rule in round numbers
  struct Row {
    double thickness_mm, rate_K_per_h;
  };
  for (const Row& row : {Row{150.0, 0.53}, Row{50.0, 4.8}, Row{12.0, 83.0}}) {
    CAPTURE(row.rate_K_per_h);
    const CoolDown cool_down = reference_slab(row.thickness_mm).cool_down();
    constexpr double quicker = 1.1;
    const auto left = [&](double below_C, double times) {
      const Course course =
          course_of(cool_down, {below_C, 20.0}, {row.rate_K_per_h, times * row.rate_K_per_h});
      return cool_down.run(steps_of(course)).left.front();
    };
    // What a little more rate below a temperature adds is the share that forms there.
    const auto share_below = [&](double T_C) {
      return (left(T_C, quicker) / left(T_C, 1.0) - 1.0) / (quicker - 1.0);
    };
    const auto temperature_of_C = [&](double share) {
      double low_C = 250.0;
      double high_C = 515.0;
      while (high_C - low_C > 0.5) {
        const double middle_C = 0.5 * (low_C + high_C);
        (share_below(middle_C) > share ? high_C : low_C) = middle_C;
      }
      return low_C;
    };
    const double half_C = temperature_of_C(0.5);
    MESSAGE(
        row.rate_K_per_h, " K/h: half below ", half_C, " C, 5 % below ", temperature_of_C(0.05));
    CHECK(std::abs(half_C - (strain_C - 57.0 + 20.0 * std::log10(row.rate_K_per_h))) <= about_K);
    // Here 95, 100 and 106 K, more the quicker; theirs is for all rates together.
    const double lower_K = half_C - temperature_of_C(0.05);
    CHECK(lower_K >= 90.0);
    CHECK(lower_K <= 110.0);
  }
}

// Computed, not published, by an independent code.
TEST_CASE("the independent three-stage tail leaves 10 nm/cm by constant ratio, 12.2 by relaxing") {
  struct Row {
    Bulk bulk;
    double left_nm_per_cm;
  };
  for (const Row& row : {Row{Bulk::constant_ratio, 10.0}, Row{Bulk::relaxing, 12.2}}) {
    CAPTURE(row.left_nm_per_cm);
    const CoolDown cool_down = reference_slab(50.0).cool_down(row.bulk);
    const Course tail = course_of(cool_down, {484.0, 333.0, 20.0}, {47.5, 4.39, 57.1});
    const CoolDown::Outcome outcome = cool_down.run(steps_of(tail));
    CHECK(std::abs(10.0 * outcome.left.front() / row.left_nm_per_cm - 1.0) <= independent_rel);
  }
}

TEST_CASE("one to three stages: within 1 % of a search by grids, never over a limit") {
  struct Row {
    const char* glass;
    Shape shape;
    Bulk bulk;
    double grade_nm_per_cm, tension_MPa, hold_C, hold_h;
  };
  const std::string soda = "casting-soda-lime-9.0";
  std::vector<Row> rows = {
      {soda.c_str(), Slab{Length::from_mm(25.0)}, Bulk::constant_ratio, 20.0, 3.0, 513.0, 3.0},
      {soda.c_str(), Slab{Length::from_mm(75.0)}, Bulk::constant_ratio, 10.0, 4.0, 513.0, 8.0},
      {soda.c_str(), Slab{Length::from_mm(150.0)}, Bulk::relaxing, 20.0, 3.0, 513.0, 24.0},
      {soda.c_str(), Rod{Length::from_mm(60.0)}, Bulk::constant_ratio, 20.0, 3.0, 500.0, 5.0},
      {"borosilicate-crown-517642",
       Block{Length::from_mm(75.0), Length::from_mm(75.0), Length::from_mm(150.0)},
       Bulk::elastic,
       10.0,
       3.0,
       557.0,
       8.0}};
#ifndef NDEBUG
  rows.erase(rows.begin() + 1,
             rows.end());  // a search by grids takes 1500 simulations: minutes without optimisation
#endif
  constexpr double optimality_rel = 0.01;
  for (const Row& row : rows) {
    CAPTURE(describe(row.shape, Lengths::millimetre));
    const Design design{.castings = {example::of_shape(row.shape, row.glass)},
                        .kiln = kiln_that_follows(8.0, 0.9),
                        .firing = {.room = Temperature::from_C(15.0)},
                        .limits = limits_of(row.grade_nm_per_cm, row.tension_MPa),
                        .to_hold_end = held(row.hold_C, row.hold_h),
                        .end = Temperature::from_C(35.0)};
    const CoolDown cool_down = design.cool_down(row.bulk);
    const StageBounds bounds{design.kiln, design.firing, design.end, false};
    const FastestStages fastest{design.castings, cool_down, bounds, design.limits};
    brute_force::Search by_grids{cool_down};
    for (const int stages : {1, 2, 3}) {
      CAPTURE(stages);
      const FoundStages found = fastest.exactly(stages);
      CHECK(found.outcome.worst() <= 1.0);
      CHECK(found.outcome.time_s <= (1.0 + optimality_rel) * by_grids.quickest(stages).time_s);
    }
  }
}

TEST_CASE("fixed ends and rates stay as they are, and the rest is planned around them") {
  Design design{.castings = {example::slab_of_mm(50.0)},
                .kiln = example::kiln("small-fibre"),
                .firing = {},
                .limits = limits_of(20.0, 3.0),
                .to_hold_end = {},
                .end = Temperature::from_C(35.0)};
  design.to_hold_end.steps.push_back(
      {.target = Temperature::from_C(513.0), .pace = AsFastAsPossible{}, .hold = hours(4.0)});
  const std::vector<Bulk> bulks{all_bulks.begin(), all_bulks.end()};
  const CoolDown cool_down{design.castings,
                           design.kiln,
                           waits,
                           {},
                           design.to_hold_end,
                           bulks,
                           design.limits,
                           design.end};
  const StageBounds bounds{design.kiln, {}, design.end, false};
  const FastestStages fastest{design.castings, cool_down, bounds, design.limits};
  const FoundStages found =
      fastest.with({.ends = {Temperature::from_C(400.0), std::nullopt},
                    .rates = {std::nullopt, std::nullopt, Rate::from_K_per_h(30.0)}});
  CHECK(found.course.to_K[0] == Temperature::from_C(400.0).in_K());
  CHECK(found.course.rate_K_per_s[2] == Rate::from_K_per_h(30.0).in_K_per_s());
  CHECK(found.course.to_K[1] < found.course.to_K[0]);
  CHECK(found.outcome.worst() <= 1.0);
}
