#include "geometry/solid_size.h"

#include "base/error.h"
#include "geometry/read_shape.h"

#include <cmath>
#include <string_view>

#include <fmt/format.h>

namespace thickset {
namespace {

Lengths other(Lengths unit) {
  return unit == Lengths::millimetre ? Lengths::inch : Lengths::millimetre;
}

Length length_of(double number, Lengths unit) {
  return unit == Lengths::millimetre ? Length::from_mm(number) : Length::from_inch(number);
}

bool sides_accepted(const Eigen::Vector3d& sides, Lengths unit) {
  const Length longest = length_of(sides.maxCoeff(), unit);
  return longest >= thinnest_accepted && longest <= largest_side;
}

bool ball_accepted(double ball, Lengths unit) {
  const Length thickness = length_of(ball, unit);
  return thickness >= thinnest_accepted && thickness <= thickest_accepted;
}

const char* spoken(Lengths unit) {
  return unit == Lengths::millimetre ? "mm" : "inch";
}

std::string sides_in_mm(const Eigen::Vector3d& sides, Lengths unit) {
  return fmt::format("{:.4g} x {:.4g} x {:.4g} mm",
                     length_of(sides.x(), unit).in_mm(),
                     length_of(sides.y(), unit).in_mm(),
                     length_of(sides.z(), unit).in_mm());
}

Error wrong_size(std::string_view what,
                 bool other_fits,
                 const Eigen::Vector3d& sides,
                 Lengths unit,
                 const Place& place) {
  const Lengths instead = other(unit);
  const std::string numbers =
      fmt::format("{:.4g} x {:.4g} x {:.4g}", sides.x(), sides.y(), sides.z());
  return Error{
      place,
      fmt::format(
          "{}: mm or inch? the file's numbers are {}, taken as {}", what, numbers, spoken(unit)),
      other_fits ? fmt::format("in {} the piece would be {}: say so if that is its size, else "
                               "scale the model to mm and save it again",
                               spoken(instead),
                               sides_in_mm(sides, instead))
                 : fmt::format("in {} the piece would be {}, which does not fit either: scale the "
                               "model to mm and save it again",
                               spoken(instead),
                               sides_in_mm(sides, instead))};
}

}  // namespace

void check_sides(const Eigen::Vector3d& sides, Lengths unit, const Place& place) {
  if (sides_accepted(sides, unit)) return;  // accepting form: NaN fails too
  throw wrong_size(fmt::format("a piece of {}, its longest side outside {:.0f}..{:.0f} mm",
                               sides_in_mm(sides, unit),
                               thinnest_accepted.in_mm(),
                               largest_side.in_mm()),
                   sides_accepted(sides, other(unit)),
                   sides,
                   unit,
                   place);
}

void check_ball(double ball, const Eigen::Vector3d& sides, Lengths unit, const Place& place) {
  if (ball_accepted(ball, unit)) return;
  const bool other_fits = ball_accepted(ball, other(unit)) && sides_accepted(sides, other(unit));
  throw wrong_size(fmt::format("the largest ball that fits measures {:.4g} mm, outside "
                               "{:.0f}..{:.0f} mm",
                               length_of(ball, unit).in_mm(),
                               thinnest_accepted.in_mm(),
                               thickest_accepted.in_mm()),
                   other_fits,
                   sides,
                   unit,
                   place);
}

std::string place_in_file(const Eigen::Vector3d& place_m, Lengths unit) {
  const double parts = unit == Lengths::millimetre ? 100.0 : 1000.0;  // of the unit
  const auto number = [&](double m) {
    const double rounded = std::round(parts * in_lengths(Length::from_m(m), unit)) / parts;
    return rounded + 0.0;  // no "-0"
  };
  return fmt::format("({:.8g}, {:.8g}, {:.8g}) {}",
                     number(place_m.x()),
                     number(place_m.y()),
                     number(place_m.z()),
                     unit_name(unit));
}

}  // namespace thickset
