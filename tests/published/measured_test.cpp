#include <cmath>
#include <numeric>

#include <doctest/doctest.h>

#include "glass/read_glass.h"
#include "material/inner_radiation.h"
#include "relaxation/relaxation_time.h"
#include "stress/relaxing_run.h"

// Measurements of real glass, and what the program says of each: notes/measured.md. A case that
// disagrees is held to its disagreement, so that the table there stays true.

using namespace thickset;
using conduction::Face;
using relaxing::Case;
using relaxing::Left;
using relaxing::run;

namespace {

constexpr double zero_C = 273.15;
constexpr double day_s = 86400.0;

bool between(double value, double low, double high) {
  return value >= low && value <= high;
}

/// A plate of soda-lime glass in air, with the laws of [CARRE99] and [NIELSEN10].
Case plate_in_air(double thickness_mm, double film_W_per_m2_K) {
  Case c;
  c.extent_m = 0.5e-3 * thickness_mm;
  c.conductivity = ThermalLaw{{{.from_K = 150.0, .to_K = 1400.0, .a = 0.741, .b = 8.58e-4}}};
  c.heat_capacity = ThermalLaw{{{.from_K = 150.0, .to_K = 850.0, .a = 893.0, .b = 0.4, .c = -1.8e7},
                                {.from_K = 850.0, .to_K = 1400.0, .a = 1433.0, .b = 6.5e-3}}};
  c.density_kg_per_m3 = 2530.0;
  c.outer = Face::exchange(film_W_per_m2_K, 0.0);
  return c;
}

Left quenched(const Case& plate, double from_C) {
  return run(plate, {{{0.0, from_C + zero_C, -1}, {0.0, 293.15, 0}, {3000.0, 293.15, 0}}});
}

/// Share of the mid-plane tension of a quench that is there because the structure relaxes.
double structural_share(const Case& plate, double from_C) {
  Case without = plate;
  without.constants.liquid_expansion_per_K = without.constants.expansion_per_K;
  return 1.0 - quenched(without, from_C).centre_MPa / quenched(plate, from_C).centre_MPa;
}

/// Tension left in a 3 mm plate that was cooled in air from 600 C, then kept for days and cooled.
double left_after_MPa(double kept_at_C, double days) {
  const double kept_K = kept_at_C + zero_C;
  AirCurve air{{{0.0, 873.15, -1}, {0.0, 293.15, 0}, {7200.0, 293.15, 0}}};
  if (days > 0.0) {
    const double over_s = 10800.0 + days * day_s;
    air.corners.push_back({10800.0, kept_K, 1});
    air.corners.push_back({over_s, kept_K, 1});
    air.corners.push_back({over_s + 3600.0, 293.15, 1});
    air.corners.push_back({over_s + 10800.0, 293.15, 1});
  }
  return run(plate_in_air(3.0, 60.0), air).centre_MPa;
}

}  // namespace

// [GN70], abstract: sheet glass annealed in the laboratory; stresses that arise while it is cooled
// at a constant rate are typically 40 % of all that stay. The rates and the thickness are not in
// the abstract: those of sheet glass are taken.
TEST_CASE("measured: stress that arises at a constant rate is 43 to 45 % of all, published 40 %") {
  for (const double rate_K_per_h : {600.0, 1800.0, 6000.0}) {
    CAPTURE(rate_K_per_h);
    Case sheet;
    sheet.extent_m = 3e-3;
    const double cooled_s = 370.0 / rate_K_per_h * 3600.0;  // 620 to 250 C
    AirCurve air{{{0.0, 893.15, -1}, {cooled_s, 523.15, 0}}};
    const double while_cooling_MPa = run(sheet, air).centre_MPa;
    air.corners.push_back({cooled_s + 3600.0, 523.15, 1});
    const double share = while_cooling_MPa / run(sheet, air).centre_MPa;
    CAPTURE(share);
    CHECK(between(share, 0.42, 0.455));
  }
}

// [DAR53], abstract: after annealing of several glasses of 2 to 20 cm the birefringence depends
// mainly on the gradient of the structure. No rates and no numbers are in the abstract.
TEST_CASE("measured: structure is 45 % of what stays in 20 and 200 mm, published \"mainly\"") {
  struct Row {
    double thickness_mm, rate_K_per_h;
  };
  for (const Row& row : {Row{20.0, 20.0}, Row{200.0, 0.2}}) {
    CAPTURE(row.thickness_mm);
    Case with;
    with.extent_m = 0.5e-3 * row.thickness_mm;
    Case without = with;
    without.constants.liquid_expansion_per_K = without.constants.expansion_per_K;
    const AirCurve air = relaxing::constant_rate(row.rate_K_per_h, with.extent_m);
    const double share = 1.0 - run(without, air).centre_MPa / run(with, air).centre_MPa;
    CAPTURE(share);
    CHECK(between(share, 0.445, 0.455));  // less than half
  }
}

// [NARA78], abstract, a model compared with tempering experiments: structural relaxation is
// typically about 24 % of the temper stress. Plates and quenches are not in the abstract.
TEST_CASE("measured: the structural share of temper is 26 to 43 %, published 24 %") {
  struct Row {
    double film_W_per_m2_K, share;
  };
  for (const Row& row : {Row{93.0, 0.428}, Row{222.0, 0.367}, Row{686.0, 0.260}}) {
    CAPTURE(row.film_W_per_m2_K);
    const double share = structural_share(plate_in_air(6.1, row.film_W_per_m2_K), 650.0);
    CAPTURE(share);
    CHECK(std::abs(share - row.share) <= 0.003);
    CHECK(share > 0.24);  // disagrees: more at every quench, half as much again at usual ones
  }
}

// [GP50], abstract: in discs of window glass no change in 11 years at about 30 C; at 180 and 200 C
// sometimes 5 to 10 % goes in 30 days, no more in 30 days more; at 250 C another slight decrease.
TEST_CASE("measured: stress stays for 11 years at 30 C, as published") {
  const double fresh_MPa = left_after_MPa(20.0, 0.0);
  CHECK(std::abs(left_after_MPa(30.0, 11.0 * 365.25) / fresh_MPa - 1.0) <= 1e-6);
}
TEST_CASE("measured: at 200 C the program loses nothing in 30 days, published up to 10 %") {
  const double fresh_MPa = left_after_MPa(20.0, 0.0);
  const auto lost = [&](double kept_at_C) {
    return 1.0 - left_after_MPa(kept_at_C, 30.0) / fresh_MPa;
  };
  CHECK(std::abs(lost(180.0)) <= 1e-4);
  CHECK(std::abs(lost(200.0)) <= 1e-4);
  CHECK(std::abs(lost(250.0)) <= 1e-3);
  CHECK(lost(350.0) > 0.05);  // it does lose, nearer to the transition
}

// [MEB76], abstract: d ln q / d(1/T_f) is minus the activation over the gas constant, and that of
// the structure equals that of the shear viscosity within the error of the experiments, for a
// borosilicate crown among others. The program takes one activation for both.
TEST_CASE("measured: fictive temperature follows the rate with the activation, within 2.5 %") {
  double last_inverse_K = 0.0, last_log = 0.0;
  for (const double rate_K_per_h : {1.0, 10.0, 100.0, 1000.0}) {
    CAPTURE(rate_K_per_h);
    Case thin;
    thin.extent_m = 1e-3;
    const Left left = run(thin, relaxing::constant_rate(rate_K_per_h, thin.extent_m));
    const double inverse_K = 1.0 / (left.fictive_C + zero_C);
    if (last_inverse_K > 0.0) {
      const double slope_K = (std::log(rate_K_per_h) - last_log) / (last_inverse_K - inverse_K);
      CHECK(std::abs(slope_K / thin.law.activation_K - 1.0) <= 0.025);
    }
    last_inverse_K = inverse_K;
    last_log = std::log(rate_K_per_h);
  }
}

// 1/F - 1/F_0 = A t [ADW20]. [STRAIN1], abstract: at first strain goes faster than that. [FLO48],
// abstract: the law holds for a while, then the rest goes much faster than it says.
TEST_CASE(
    "measured: at one temperature stress goes faster than Adams and Williamson's law at first "
    "and again at the end") {
  const RelaxationSpectrum spectrum;
  const double all = std::accumulate(spectrum.shear_GPa.begin(), spectrum.shear_GPa.end(), 0.0);
  const auto left = [&](double reduced_s) {
    double sum = 0.0;
    for (std::size_t i = 0; i < spectrum.shear_GPa.size(); ++i) {
      sum += spectrum.shear_GPa[i] / all * std::exp(-reduced_s / spectrum.shear_s[i]);
    }
    return sum;
  };
  const auto law_constant = [&](double reduced_s) {
    return (1.0 / left(reduced_s) - 1.0) / reduced_s;
  };
  const double middle = law_constant(2.0);  // a seventh is left
  CHECK(between(left(2.0), 0.13, 0.15));
  CHECK(law_constant(0.1) > 2.0 * middle);
  for (const double reduced_s : {1.0, 3.0}) {  // a quarter to a tenth left: the law holds
    CHECK(std::abs(law_constant(reduced_s) / middle - 1.0) <= 0.06);
  }
  CHECK(law_constant(10.0) > 3.0 * middle);  // a hundredth left
}

// [QUENCH1], abstract: in severely quenched thick plates stress is not a parabola; it is extremely
// high near the blasted surfaces. A parabola has a ratio of 2.
TEST_CASE("measured: quenched thick plates press harder at the surface than a parabola does") {
  for (const double film_W_per_m2_K : {200.0, 500.0}) {
    CAPTURE(film_W_per_m2_K);
    const Left left = quenched(plate_in_air(10.0, film_W_per_m2_K), 680.0);
    CHECK(-left.surface_MPa / left.centre_MPa > 2.2);
  }
}

// [FLOR94]: ten days at 475 C, then 1 K/h, left eighteen times the stress that was expected at the
// rim of a low-expansion disk of 26 in; that was put down to 45 K too little. The next large one
// was held for 11 days at 520 C. The glass's points are not given; borosilicate 3.3 stands in.
TEST_CASE("measured: ten days at 475 C were too little for a disk, the program's estimate is 5.5") {
  const Glass glass = read_glass(THICKSET_SOURCE "/data/glasses/borosilicate-3.3.glass");
  const auto days = [&](double T_C) {
    return relaxation::time_to_relax(glass, Temperature::from_C(T_C)).count() / day_s;
  };
  CHECK(between(days(475.0), 5.0, 6.0));  // disagrees: ten days should have done
  CHECK(days(520.0) < 0.25);              // well within 11 days
  // What the program plans or lets pass without a word is never as cool as that.
  CHECK(glass.strain_point.value.in_C() > 475.0 + 30.0);
}

// [NAT32], [NBS66]: a disk of 69.5 in with a hole of 8 in, 3000 lb, kept at controlled temperature
// for eight months. Density assumed; the thickness follows. What was left is not published.
TEST_CASE("measured: eight months for a disk of 3000 lb would leave 4 to 5 nm/cm, unpublished") {
  const double diameter_m = 69.5 * 0.0254, hole_m = 8.0 * 0.0254;
  const double area_m2 = 3.14159265 / 4.0 * (diameter_m * diameter_m - hole_m * hole_m);
  const double thickness_m = 3000.0 * 0.45359237 / 2500.0 / area_m2;
  CHECK(between(thickness_m, 0.22, 0.23));
  Case disk;
  disk.extent_m = 0.5 * thickness_m;
  disk.tolerance_K = 0.002;
  const double rate_K_per_h = 480.0 / (240.0 * 24.0);  // 500 to 20 C in 240 days
  const double nm_per_cm =
      27.0 * run(disk, relaxing::constant_rate(rate_K_per_h, disk.extent_m)).centre_MPa;
  CAPTURE(nm_per_cm);
  CHECK(between(nm_per_cm, 4.0, 5.0));
}

// [KEL52], abstract: in sheet glass at 1200 C the effective conductivity is about fifty times the
// ordinary one. Ordinary 1.5 W/(m K) and index 1.5 assumed; the absorption follows, 30 1/m.
TEST_CASE("measured: fifty times the conductivity at 1200 C is an absorption of 30 1/m") {
  const InnerRadiation sheet{.absorption_per_m = 29.6, .refractive_index = 1.5};
  const double ordinary_W_per_m_K = 1.5;
  const double times =
      1.0 + radiative_conductivity_W_per_m_K(sheet, 1200.0 + zero_C) / ordinary_W_per_m_K;
  CHECK(between(times, 49.5, 50.5));
}
