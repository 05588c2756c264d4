#include <algorithm>
#include <cmath>
#include <numbers>
#include <string>
#include <string_view>

#include <doctest/doctest.h>

#include "stress/interference_colour.h"

using namespace thickset;

namespace {

constexpr double nm = 1e-9;

/// One side steeper than the other. Source: [WSS13].
double lobe(double wavelength_nm, double middle_nm, double below_per_nm, double above_per_nm) {
  const double t =
      (wavelength_nm - middle_nm) * (wavelength_nm < middle_nm ? below_per_nm : above_per_nm);
  return std::exp(-0.5 * t * t);
}

struct Tristimulus {
  double x = 0.0, y = 0.0, z = 0.0;
};

/// The standard observer of 1931 as sums of lobes. Source: [WSS13].
Tristimulus eye(double w_nm) {
  return {0.362 * lobe(w_nm, 442.0, 0.0624, 0.0374) + 1.056 * lobe(w_nm, 599.8, 0.0264, 0.0323) -
              0.065 * lobe(w_nm, 501.1, 0.0490, 0.0382),
          0.821 * lobe(w_nm, 568.8, 0.0213, 0.0247) + 0.286 * lobe(w_nm, 530.9, 0.0613, 0.0322),
          1.217 * lobe(w_nm, 437.0, 0.0845, 0.0278) + 0.681 * lobe(w_nm, 459.0, 0.0385, 0.0725)};
}

/// Planck's law, without its factor.
double black_body(double w_nm, double T_K) {
  constexpr double second_radiation_constant_nm_K = 1.438777e7;  // [CODATA18]
  return std::pow(w_nm / 560.0, -5.0) /
         (std::exp(second_radiation_constant_nm_K / (w_nm * T_K)) - 1.0);
}

struct Lab {
  double lightness, chroma, hue_deg;
};

/// The colour between crossed polarisers, white being the lamp without them.
Lab seen_between_crossed_polarisers(double retardation_nm, double lamp_K) {
  Tristimulus seen, lamp;
  for (double w_nm = 380.0; w_nm <= 780.0; w_nm += 5.0) {
    const double light = black_body(w_nm, lamp_K);
    const double wave = std::sin(std::numbers::pi * retardation_nm / w_nm);
    const Tristimulus e = eye(w_nm);
    lamp = {lamp.x + light * e.x, lamp.y + light * e.y, lamp.z + light * e.z};
    const double passed = light * wave * wave;
    seen = {seen.x + passed * e.x, seen.y + passed * e.y, seen.z + passed * e.z};
  }
  const auto root = [](double t) {
    return t > 216.0 / 24389.0 ? std::cbrt(t) : (24389.0 / 27.0 * t + 16.0) / 116.0;
  };
  const double fx = root(seen.x / lamp.x), fy = root(seen.y / lamp.y), fz = root(seen.z / lamp.z);
  const double a = 500.0 * (fx - fy), b = 200.0 * (fy - fz);
  const double hue_deg = std::atan2(b, a) * 180.0 / std::numbers::pi;
  return {116.0 * fy - 16.0, std::hypot(a, b), hue_deg < 0.0 ? hue_deg + 360.0 : hue_deg};
}

/// Our own names: lightness 30 and 90 part black, grey and white, hues the colours.
std::string_view name_of(double retardation_nm, double lamp_K) {
  const Lab lab = seen_between_crossed_polarisers(retardation_nm, lamp_K);
  if (retardation_nm < 320.0 && (lab.chroma < 20.0 || retardation_nm < 240.0)) {
    return lab.lightness < 30.0 ? "black" : lab.lightness < 90.0 ? "grey" : "white";
  }
  if (lab.hue_deg < 40.0 || lab.hue_deg >= 340.0) return "red";
  if (lab.hue_deg < 75.0) return "orange";
  if (lab.hue_deg < 115.0) return "yellow";
  if (lab.hue_deg < 225.0) return "green";
  return lab.hue_deg < 295.0 ? "blue" : "violet";
}

bool listed(std::string_view name, double retardation_nm) {
  const auto colours = stress::interference_colours();
  return std::any_of(colours.begin(), colours.end(), [&](const stress::InterferenceColour& c) {
    return c.name == name && retardation_nm * nm >= c.low_m && retardation_nm * nm <= c.high_m;
  });
}

constexpr double daylight_K = 6500.0;
constexpr double lamplight_K = 2900.0;

}  // namespace

TEST_CASE("interference colours: what is computed for two lights is listed, with 20 nm to spare") {
  constexpr double margin_nm = 18.0;  // the ends are rounded outwards from 20 to whole tens
  for (const double lamp_K : {daylight_K, lamplight_K}) {
    for (double d_nm = 0.0; d_nm <= 1680.0; d_nm += 1.0) {
      const std::string_view name = name_of(d_nm, lamp_K);
      CAPTURE(lamp_K);
      CAPTURE(d_nm);
      CAPTURE(std::string{name});
      CHECK(listed(name, d_nm));
      CHECK(listed(name, std::max(0.0, d_nm - margin_nm)));
      CHECK(listed(name, d_nm + margin_nm));
    }
  }
}

TEST_CASE("interference colours: no listed range is wider than it has to be") {
  // 20 nm and the rounding to tens, and up to 70 nm where stations of the charts lie farther out.
  constexpr double farthest_nm = 70.0;
  for (const stress::InterferenceColour& colour : stress::interference_colours()) {
    CAPTURE(std::string{colour.name});
    CAPTURE(colour.order);
    double first_nm = 1e9, last_nm = -1.0;
    for (double d_nm = colour.low_m / nm; d_nm <= colour.high_m / nm; d_nm += 1.0) {
      for (const double lamp_K : {daylight_K, lamplight_K}) {
        if (name_of(d_nm, lamp_K) != colour.name) continue;
        first_nm = std::min(first_nm, d_nm);
        last_nm = std::max(last_nm, d_nm);
      }
    }
    CHECK(first_nm - colour.low_m / nm <= farthest_nm);
    CHECK(colour.high_m / nm - last_nm <= farthest_nm);
  }
}

// Stations of the classical charts of interference colours, from memory.
TEST_CASE("interference colours: stations of the classical charts lie in the listed ranges") {
  struct Station {
    std::string_view name;
    double at_nm;
  };
  constexpr Station stations[] = {
      {"black", 0},    {"grey", 97},    {"white", 259},  {"yellow", 281},  {"yellow", 332},
      {"yellow", 430}, {"orange", 505}, {"red", 536},    {"red", 551},     {"violet", 565},
      {"violet", 575}, {"blue", 664},   {"green", 747},  {"green", 826},   {"yellow", 910},
      {"orange", 948}, {"orange", 998}, {"red", 1101},   {"violet", 1128}, {"blue", 1151},
      {"blue", 1258},  {"green", 1334}, {"green", 1376}, {"yellow", 1426}, {"red", 1534},
      {"violet", 1621}};
  for (const Station& station : stations) {
    CAPTURE(station.at_nm);
    CHECK(listed(station.name, station.at_nm));
  }
}

TEST_CASE("interference colours: a tint plate is taken off, on either side of it") {
  const auto with_plate = [](const char* name, int order) {
    return stress::retardation_of_colour_m(*stress::find_colour(name, order), 565.0 * nm);
  };
  // The plate's own colour: nothing, up to what the range of its name holds.
  CHECK(with_plate("violet", 1).low == 0.0);
  CHECK(with_plate("violet", 1).high == doctest::Approx(85.0 * nm));
  // Green adds to the plate, orange takes off from it.
  CHECK(with_plate("green", 2).low == doctest::Approx(95.0 * nm));
  CHECK(with_plate("green", 2).high == doctest::Approx(305.0 * nm));
  CHECK(with_plate("orange", 1).low == doctest::Approx(35.0 * nm));
  CHECK(with_plate("orange", 1).high == doctest::Approx(195.0 * nm));
}
