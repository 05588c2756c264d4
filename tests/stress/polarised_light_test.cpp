#include "stress/polarised_light.h"

#include <algorithm>
#include <cmath>
#include <string>

#include <doctest/doctest.h>

using namespace thickset;

namespace {

constexpr double nm = 1e-9;

/// Hue in degrees as painters turn it: red 0, green 120, blue 240.
double hue_deg(const stress::ScreenColour& c) {
  const double most = std::max({c.red, c.green, c.blue});
  const double least = std::min({c.red, c.green, c.blue});
  double hue = 0.0;
  if (most == c.red) {
    hue = (c.green - c.blue) / (most - least);
  } else if (most == c.green) {
    hue = 2.0 + (c.blue - c.red) / (most - least);
  } else {
    hue = 4.0 + (c.red - c.green) / (most - least);
  }
  return hue < 0.0 ? 60.0 * hue + 360.0 : 60.0 * hue;
}

}  // namespace

TEST_CASE("polarised light: nothing at no retardation, then ever lighter greys up to white") {
  const stress::ScreenColour none = stress::colour_on_screen(0.0);
  CHECK(none.red == 0.0);
  CHECK(none.green == 0.0);
  CHECK(none.blue == 0.0);
  double before = 0.0;
  for (double d_nm = 20.0; d_nm <= 240.0; d_nm += 20.0) {
    CAPTURE(d_nm);
    const stress::ScreenColour colour = stress::colour_on_screen(d_nm * nm);
    CHECK(colour.green > before);
    before = colour.green;
  }
  CHECK(before > 0.9);
}

// Stations of the classical charts of interference colours, from memory: the hue on a screen has to
// be that of the name, as wide as names are.
TEST_CASE("polarised light: the classical stations have the hues of their names") {
  struct Station {
    const char* name;
    double at_nm, from_deg, to_deg;
  };
  constexpr Station stations[] = {{"yellow", 360, 35, 65},
                                  {"orange", 460, 15, 45},
                                  {"blue", 664, 180, 260},
                                  {"green", 780, 90, 170},
                                  {"yellow", 900, 40, 75}};
  for (const Station& station : stations) {
    CAPTURE(station.at_nm);
    const double hue = hue_deg(stress::colour_on_screen(station.at_nm * nm));
    CHECK(hue >= station.from_deg);
    CHECK(hue <= station.to_deg);
    CHECK(std::string{stress::colour_at(station.at_nm * nm).name} == station.name);
  }
}

TEST_CASE("polarised light: every part stays within a screen, however large the retardation") {
  for (double d_nm = 0.0; d_nm <= 6000.0; d_nm += 7.0) {
    const stress::ScreenColour colour = stress::colour_on_screen(d_nm * nm);
    for (const double part : {colour.red, colour.green, colour.blue}) {
      CHECK(part >= 0.0);
      CHECK(part <= 1.0);
    }
    CHECK_FALSE(stress::colour_at(d_nm * nm).name.empty());
  }
}

TEST_CASE("polarised light: a named colour is one whose listed range holds the retardation") {
  for (double d_nm = 0.0; d_nm <= 1900.0; d_nm += 1.0) {
    CAPTURE(d_nm);
    const stress::InterferenceColour& colour = stress::colour_at(d_nm * nm);
    CHECK(d_nm * nm >= colour.low_m);
    CHECK(d_nm * nm <= colour.high_m);
  }
}
