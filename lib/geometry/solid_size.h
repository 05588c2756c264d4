#pragma once

#include "base/place.h"
#include "units/length.h"

#include <string>

#include <Eigen/Core>

namespace thickset {

/// Refuses a model whose longest side no casting has: above largest_side, or below the thickness
/// that is accepted. Most often the unit is another than was said.
///
/// In:     the sides of the box around the model, in the file's numbers.
/// Throws: Error with the file's numbers and what the other unit would make of them.
void check_sides(const Eigen::Vector3d& sides, Lengths unit, const Place& place);

/// Refuses a model whose largest ball is outside thinnest_accepted..thickest_accepted.
///
/// In:     ball, its diameter in the file's numbers.
/// Throws: as check_sides.
void check_ball(double ball, const Eigen::Vector3d& sides, Lengths unit, const Place& place);

/// A place in the model as the program that made it shows it: "(12.5, -3, 40) mm".
std::string place_in_file(const Eigen::Vector3d& place_m, Lengths unit);

}  // namespace thickset
