#include "simulation/beyond_model.h"

#include <variant>

#include <fmt/format.h>

namespace thickset {
namespace {

// The tables of lib/geometry/centre_tension.cpp are for 0.22 and were compared between these.
constexpr double least_poisson_ratio = 0.20;
constexpr double largest_poisson_ratio = 0.25;

/// Whether the permanent tension of this shape is read from those tables.
bool is_tabled(const Shape& shape) {
  return std::holds_alternative<Bar>(shape) || std::holds_alternative<Block>(shape) ||
         std::holds_alternative<Disc>(shape) || std::holds_alternative<Prism>(shape);
}

}  // namespace

std::vector<std::string> beyond_model(const Casting& casting) {
  std::vector<std::string> sentences;
  const Glass& glass = casting.glass;
  const Length ball = largest_ball(casting.governing_shape());
  if (ball < thinnest_made_for || ball > thickest_made_for) {
    sentences.push_back(
        fmt::format("{:.0f} mm is outside the {:.0f} to {:.0f} mm this was made for and checked on",
                    ball.in_mm(),
                    thinnest_made_for.in_mm(),
                    thickest_made_for.in_mm()));
  }
  if (glass.radiation_inside) {
    const double absorption_per_m = glass.radiation_inside->radiation.absorption_per_m;
    const double optical = absorption_per_m * ball.in_m();
    if (optical < optically_thick) {
      sentences.push_back(fmt::format(
          "radiation inside, {:.4g} 1/m x {:.0f} mm = {:.1f}, is below the {:.0f} from which it "
          "counts as conduction: it evens this piece out less than shown, so holds are too short "
          "and rates shown as passing too fast; leave radiation_absorption out to be on the slow "
          "side",
          absorption_per_m,
          ball.in_mm(),
          optical,
          optically_thick));
    }
  }
  const double ratio = glass.poisson_ratio.value;
  if (is_tabled(casting.governing_shape()) &&
      !(ratio >= least_poisson_ratio && ratio <= largest_poisson_ratio)) {
    sentences.push_back(fmt::format(
        "Poisson's ratio {:.3g} is outside the {:.2f} to {:.2f} for which the permanent tension of "
        "this shape was computed: its nm/cm may be some per cent off",
        ratio,
        least_poisson_ratio,
        largest_poisson_ratio));
  }
  return sentences;
}

}  // namespace thickset
