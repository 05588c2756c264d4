#include <cmath>
#include <numbers>
#include <vector>

#include <doctest/doctest.h>
#include <boost/math/tools/roots.hpp>

#include "conduction/solve.h"
#include "conduction/unit_body.h"

using namespace thickset;
using namespace thickset::conduction;
using namespace unit_body;

namespace {

Mould material(double k_W_per_m_K, double density, double capacity) {
  return {.name = "test",
          .title = "test",
          .status = Mould::Status::assumed,
          .density_kg_per_m3 = density,
          .conductivity_W_per_m_K = ThermalLaw::constant(k_W_per_m_K),
          .heat_capacity_J_per_kg_K = ThermalLaw::constant(capacity),
          .density_source = "",
          .conductivity_source = "",
          .heat_capacity_source = ""};
}

/// The numbers of dry plaster-silica; of a layer that holds next to no heat; of the test's glass.
const Mould plaster = material(0.35, 1100.0, 1000.0);
const Mould without_heat = material(0.35, 1e-3, 1000.0);
const Mould like_glass = material(k_W_per_m_K, density_kg_per_m3, heat_capacity_J_per_kg_K);

Layer layer(const Mould& of, double thickness_m) {
  return Layer::solid(of, Length::from_m(thickness_m));
}

AreaOutward area_of(Solid solid, double radius_m) {
  if (solid == Solid::slab) return {};
  if (solid == Solid::cylinder) return {.per_m = 1.0 / radius_m};
  return {.per_m = 2.0 / radius_m, .per_m2 = 1.0 / (radius_m * radius_m)};
}

AirCurve ramp(double from_K, double rate_K_per_s, double time_s) {
  return {.corners = {{0.0, from_K, 0}, {time_s, from_K + rate_K_per_s * time_s, 0}}};
}

AirCurve jump(double from_K, double to_K, double time_s) {
  return {.corners = {{0.0, from_K, 0}, {0.0, to_K, 0}, {time_s, to_K, 0}}};
}

struct Outcome {
  Eigen::ArrayXd T_K;
  double heat_balance_error;
};
Outcome run(const Body& body,
            const Face& inner,
            const Face& outer,
            const AirCurve& air,
            double tolerance_K = 0.001) {
  Solver solver{body,
                inner,
                outer,
                air,
                Eigen::ArrayXd::Constant(body.nodes(), air.corners.front().T_K),
                {.tolerance_K = tolerance_K}};
  while (solver.advance()) {
  }
  return {solver.T_K(), solver.heat_balance_error()};
}

constexpr double long_s = 200.0 * time_unit_s;  // a steady state by far

}  // namespace

// Heat conducted through layers in series: sum of L/k, (R/k) ln(r2/r1), (R^2/k) (1/r1 - 1/r2), and
// 1/h at the outer face. [CJ59] 1.2, 7.2, 9.2; closed forms.
TEST_CASE("layers in steady cooling: the glass lags by the sum of the resistances") {
  constexpr double rate_K_per_s = -1e-3;
  constexpr double film = 10.0;
  constexpr double contact = 0.02;
  constexpr double first_m = 0.02, second_m = 0.015;
  constexpr double second_k = 0.08;
  const Mould light = material(second_k, 1e-3, 1000.0);
  for (const Solid solid : solids) {
    CAPTURE(name(solid));
    const double R = extent_m;
    const double r1 = R + first_m;
    const double r2 = r1 + second_m;
    const double k1 = 0.35;
    double expected = 0.0;
    int faces = 1;
    if (solid == Solid::slab) {
      expected = first_m / k1 + contact + second_m / second_k + 1.0 / film;
    } else if (solid == Solid::cylinder) {
      faces = 2;
      expected = R * std::log(r1 / R) / k1 + contact * R / r1 + R * std::log(r2 / r1) / second_k +
                 R / (r2 * film);
    } else {
      faces = 3;
      expected = R * R * (1.0 / R - 1.0 / r1) / k1 + contact * R * R / (r1 * r1) +
                 R * R * (1.0 / r1 - 1.0 / r2) / second_k + R * R / (r2 * r2 * film);
    }
    const double heat_W_per_m2 =
        -rate_K_per_s * density_kg_per_m3 * heat_capacity_J_per_kg_K * R / faces;
    const AreaOutward area = area_of(solid, R);
    const auto error = [&](Eigen::Index nodes) {
      const Wall wall{.layers = {layer(without_heat, first_m),
                                 Layer::contact(contact),
                                 layer(light, second_m)}};
      const Body body{constant_body(solid, nodes), {}, wall, area};
      Face face = Face::exchange(film, 0.0);
      face.exchange_factor = body.outer_area();
      const Outcome outcome =
          run(body, Face::insulated(), face, ramp(3000.0, rate_K_per_s, long_s));
      const double kiln_K = 3000.0 + rate_K_per_s * long_s;
      return (outcome.T_K(body.last_glass()) - kiln_K) / heat_W_per_m2 - expected;
    };
    if (solid == Solid::slab) {
      CHECK(std::abs(error(21)) <= 2e-6 * expected);
    } else {  // exact is the logarithm or the inverse of the radius: of second order
      CHECK(std::abs(error(21)) <= 1e-3 * expected);
      const double ratio = error(21) / error(41);
      CHECK(ratio > 3.5);
      CHECK(ratio < 4.5);
    }
  }
}

// Each layer gives its own heat too: it passes q and R rho c x, so its drop is q L/k + R rho c
// L^2/(2 k); exact on vertex nodes, a quarter of a cell squared off where the first node stands
// half a cell in.
TEST_CASE("layers in steady cooling: a layer's own heat adds half its own ramp") {
  constexpr double rate_K_per_s = -1e-3;
  constexpr double thickness_m = 0.025;
  const double heat = density_kg_per_m3 * heat_capacity_J_per_kg_K * extent_m;
  const double expected_s = heat * (thickness_m / 0.35 + 1.0 / 20.0) +
                            1.1e6 * thickness_m * (0.5 * thickness_m / 0.35 + 1.0 / 20.0);
  const auto error_s = [&](Eigen::Index nodes) {
    const Wall wall{.layers = {layer(plaster, thickness_m)}};
    const Body body{constant_body(Solid::slab, nodes), {}, wall};
    const Outcome outcome =
        run(body, Face::insulated(), Face::exchange(20.0, 0.0), ramp(3000.0, rate_K_per_s, long_s));
    return (outcome.T_K(body.last_glass()) - 3000.0) / -rate_K_per_s + long_s - expected_s;
  };
  CHECK(std::abs(error_s(11)) <= 2e-3 * expected_s);
  const double ratio = error_s(21) / error_s(41);
  CHECK(ratio > 3.0);  // the cells of a layer are a whole number: not quite halved
  CHECK(ratio < 5.0);
}

// Two layers, x = 0 insulated, x = L1 + L2 held at the kiln's temperature after a jump from 1 to 0:
//   T = sum_n A_n X_n(0) exp(-w_n^2 t),  X_n = cos(w x/sqrt(a1)) in the first,
//   X_n = cos(w L1/sqrt(a1)) sin(w (L - x)/sqrt(a2)) / sin(w L2/sqrt(a2)) in the second, where
//   k1/sqrt(a1) tan(w L1/sqrt(a1)) = k2/sqrt(a2) cot(w L2/sqrt(a2)).
// Separation of variables as in [CJ59] 12.8; summed here.
TEST_CASE("two layers after a jump: temperatures agree with the series, in second order") {
  constexpr double L1 = extent_m, L2 = 0.03;
  constexpr double k1 = k_W_per_m_K, k2 = 0.35;
  constexpr double heat1 = density_kg_per_m3 * heat_capacity_J_per_kg_K, heat2 = 1.1e6;
  const double s1 = std::sqrt(k1 / heat1);
  const double s2 = std::sqrt(k2 / heat2);
  const auto mismatch = [&](double w) {  // free of poles
    return k1 / s1 * std::sin(w * L1 / s1) * std::sin(w * L2 / s2) -
           k2 / s2 * std::cos(w * L1 / s1) * std::cos(w * L2 / s2);
  };
  struct Mode {
    double w, of_start;
  };
  std::vector<Mode> modes;
  const double step = 0.02 / (L1 / s1 + L2 / s2);
  for (double w = step; modes.size() < 40; w += step) {
    if (mismatch(w) * mismatch(w + step) > 0.0) continue;
    const auto bracket = boost::math::tools::bisect(
        mismatch, w, w + step, [](double a, double b) { return b - a <= 1e-14 * b; });
    const double root = 0.5 * (bracket.first + bracket.second);
    const double p = root / s1;
    const double q = root / s2;
    const double c = std::cos(p * L1) / std::sin(q * L2);
    const double mean = heat1 * std::sin(p * L1) / p + heat2 * c * (1.0 - std::cos(q * L2)) / q;
    const double square = heat1 * (0.5 * L1 + std::sin(2.0 * p * L1) / (4.0 * p)) +
                          heat2 * c * c * (0.5 * L2 - std::sin(2.0 * q * L2) / (4.0 * q));
    modes.push_back({root, mean / square});
  }
  const auto series = [&](bool at_centre, double time_s) {
    double sum = 0.0;
    for (const Mode& mode : modes) {
      sum += mode.of_start * (at_centre ? 1.0 : std::cos(mode.w * L1 / s1)) *
             std::exp(-mode.w * mode.w * time_s);
    }
    return sum;
  };
  constexpr double jump_K = 100.0;
  const auto error_K = [&](Eigen::Index nodes, double time_s) {
    const Wall wall{.layers = {layer(plaster, L2)}};
    const Body body{constant_body(Solid::slab, nodes), {}, wall};
    const Outcome outcome =
        run(body, Face::insulated(), Face::prescribed(), jump(900.0, 900.0 - jump_K, time_s), 1e-5);
    const double centre_K = outcome.T_K(0) - (900.0 - jump_K) - jump_K * series(true, time_s);
    const double surface_K =
        outcome.T_K(body.last_glass()) - (900.0 - jump_K) - jump_K * series(false, time_s);
    return std::max(std::abs(centre_K), std::abs(surface_K));
  };
  // Cells of 5 and 2.5 mm fill both layers evenly: L2 is 6 of them, but for the half at the face.
  for (const double Fo : {0.2, 0.5, 1.0, 2.0, 4.0}) {
    CAPTURE(Fo);
    const double time_s = Fo * time_unit_s;
    CHECK(error_K(11, time_s) <= 0.003 * jump_K);
    const double ratio = error_K(21, time_s) / error_K(41, time_s);
    CHECK(ratio > 3.3);
    CHECK(ratio < 5.0);
  }
}

TEST_CASE("layers of the glass's own material: the same as a thicker piece of it") {
  for (const Solid solid : solids) {
    CAPTURE(name(solid));
    constexpr double core_m = 0.03;
    const double shell_m = extent_m - core_m;
    const auto law = [](double v) { return ThermalLaw::constant(v); };
    const Body core{
        solid, core_m, 25, law(k_W_per_m_K), law(heat_capacity_J_per_kg_K), density_kg_per_m3};
    const Wall wall{.layers = {layer(like_glass, shell_m)}};
    const Body layered{core, {}, wall, area_of(solid, core_m)};
    const Body whole = constant_body(solid, 41);
    Face face = Face::exchange(10.0, 0.9);
    const AirCurve air = jump(900.0, 700.0, 0.3 * time_unit_s);
    const Outcome one = run(whole, Face::insulated(), face, air);
    face.exchange_factor = layered.outer_area();
    const Outcome other = run(layered, Face::insulated(), face, air);
    constexpr double grid_error_K = 0.05;  // second order, of a 200 K jump
    CHECK(std::abs(other.T_K(0) - one.T_K(0)) <= grid_error_K);
    CHECK(std::abs(other.T_K(layered.nodes() - 1) - one.T_K(40)) <= grid_error_K);
    CHECK(std::abs(other.T_K(layered.last_glass()) - one.T_K(24)) <= grid_error_K);
  }
}

TEST_CASE("a wall that shrinks to nothing leaves the bare glass") {
  for (const Solid solid : solids) {
    CAPTURE(name(solid));
    const Body bare = constant_body(solid, 21);
    const Face face = Face::exchange(10.0, 0.9);
    const AirCurve air = jump(900.0, 700.0, time_unit_s);
    const Outcome without = run(bare, Face::insulated(), face, air);
    double last_K = 1e9;
    for (const double thickness_m : {1e-3, 1e-4, 1e-5, 1e-6}) {
      CAPTURE(thickness_m);
      const Wall wall{.layers = {layer(plaster, thickness_m)}};
      const Body body{bare, {}, wall, area_of(solid, extent_m)};
      Face own = face;
      own.exchange_factor = body.outer_area();
      const Outcome with = run(body, Face::insulated(), own, air);
      const double off_K = (with.T_K.head(21) - without.T_K).abs().maxCoeff();
      CHECK(off_K < 0.2 * last_K);
      last_K = off_K;
    }
    // No more than its resistance, against that of film and radiation at 900 K, of the jump.
    constexpr double film_and_radiation_W_per_m2_K = 160.0;
    CHECK(last_K <= 200.0 * 1e-6 / 0.35 * film_and_radiation_W_per_m2_K);
  }
}

TEST_CASE("heat is kept to rounding through every kind of layer and joint") {
  constexpr double rounding = 1e-11;  // of all heat exchanged
  Mould varying = plaster;
  const ThermalLaw::Point points[] = {{300.0, 0.05}, {700.0, 0.1}, {1100.0, 0.25}};
  varying.conductivity_W_per_m_K = ThermalLaw::table(points);
  const Body glass{Solid::slab,
                   0.075,
                   21,
                   ThermalLaw{{{.from_K = 273, .to_K = 1500, .a = 0.741, .b = 8.58e-4}}},
                   ThermalLaw{{{.from_K = 273, .to_K = 850, .a = 893, .b = 0.4, .c = -1.8e7},
                               {.from_K = 850, .to_K = 1500, .a = 1433, .b = 6.5e-3}}},
                   2530.0};
  const Wall top{.layers = {Layer::air(Length::from_mm(2.0)),
                            layer(plaster, 0.02),
                            Layer::contact(0.01),
                            layer(varying, 0.025)}};
  const Wall bottom{.layers = {layer(plaster, 0.02),
                               layer(varying, 0.01),
                               Layer::air(Length::from_mm(20.0)),
                               layer(material(1.5, 2000.0, 920.0), 0.02)}};
  const AirCurve air{.corners = {{0.0, 1100.0, 0},
                                 {3600.0, 800.0, 0},
                                 {72000.0, 800.0, 0},
                                 {172000.0, 400.0, 0},
                                 {172000.0, 300.0, 0},
                                 {300000.0, 300.0, 0}}};
  const Body body{glass, bottom, top};
  const Face face = Face::exchange(8.0, 0.9);
  CHECK(run(body, face, face, air, 0.02).heat_balance_error <= rounding);
  CHECK(run(body, Face::insulated(), face, air, 0.02).heat_balance_error <= rounding);
  CHECK(run(body, Face::prescribed(), Face::prescribed(), air, 0.02).heat_balance_error <=
        rounding);
}

TEST_CASE("walls swapped: the temperatures are the mirror image") {
  const Wall one{
      .layers = {layer(plaster, 0.02), Layer::air(Length::from_mm(5.0)), layer(like_glass, 0.01)}};
  const Wall other{.layers = {Layer::air(Length::from_mm(2.0)), layer(plaster, 0.03)}};
  const Body glass = constant_body(Solid::slab, 15);
  const Face face = Face::exchange(8.0, 0.9);
  const AirCurve air = jump(900.0, 700.0, 2.0 * time_unit_s);
  const Eigen::ArrayXd there = run(Body{glass, one, other}, face, face, air).T_K;
  const Eigen::ArrayXd back = run(Body{glass, other, one}, face, face, air).T_K;
  CHECK((there - back.reverse()).abs().maxCoeff() <= 1e-8);
}

TEST_CASE("joints: derivatives are those of the flow, and equal temperatures pass nothing") {
  Mould varying = plaster;
  const ThermalLaw::Point points[] = {{300.0, 0.05}, {700.0, 0.1}, {1100.0, 0.25}};
  const ThermalLaw law = ThermalLaw::table(points);
  const ThermalLaw other{{{.from_K = 273, .to_K = 1500, .a = 0.741, .b = 8.58e-4}}};
  const Joint contact{.left = 0,
                      .area = 1.3,
                      .left_half_m = 0.002,
                      .right_half_m = 0.001,
                      .resistance_m2_K_per_W = 0.005};
  const Joint air{.left = 0, .area = 0.7, .left_half_m = 0.0, .right_half_m = 0.0, .air_m = 0.01};
  constexpr double h_K = 1e-3;
  for (const Joint& joint : {contact, air}) {
    CAPTURE(joint.air_m);
    const auto flow = [&](double left_K, double right_K) {
      return joint.flow(law, other, left_K, right_K);
    };
    CHECK(flow(750.0, 750.0).into_left_W_per_m2 == 0.0);
    const Joint::Flow at = flow(750.0, 720.0);
    CHECK(at.into_left_W_per_m2 < 0.0);
    const double by_left = (flow(750.0 + h_K, 720.0).into_left_W_per_m2 -
                            flow(750.0 - h_K, 720.0).into_left_W_per_m2) /
                           (2.0 * h_K);
    const double by_right = (flow(750.0, 720.0 + h_K).into_left_W_per_m2 -
                             flow(750.0, 720.0 - h_K).into_left_W_per_m2) /
                            (2.0 * h_K);
    CHECK(std::abs(at.by_left_W_per_m2_K / by_left - 1.0) <= 1e-6);
    CHECK(std::abs(at.by_right_W_per_m2_K / by_right - 1.0) <= 1e-6);
  }
}

// k_air(735 K) about 0.054 W/(m K), [INC07] table A.4; radiation 0.818 sigma (T1^4 - T2^4), 13.9.
TEST_CASE("a gap of air passes by conduction and radiation what two grey plates would") {
  const Joint air{.left = 0, .area = 1.0, .left_half_m = 0.0, .right_half_m = 0.0, .air_m = 0.01};
  const ThermalLaw none = ThermalLaw::constant(1.0);
  const double flow = air.flow(none, none, 750.0, 720.0).into_left_W_per_m2;
  const double conducted = -0.0541 / 0.01 * 30.0;
  const double radiated =
      -5.670374419e-8 / (1.0 / 0.9 + 1.0 / 0.9 - 1.0) * (std::pow(750.0, 4) - std::pow(720.0, 4));
  CHECK(std::abs(flow / (conducted + radiated) - 1.0) <= 2e-3);
}
