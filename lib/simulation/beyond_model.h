#pragma once

#include "simulation/casting.h"

#include <string>
#include <vector>

namespace thickset {

/// What of a casting lies outside what the models were made for, whatever its firing, a sentence
/// each: its size, radiation inside a piece too thin for it, a Poisson's ratio beyond the tables of
/// its shape. Source: notes/validity.md.
std::vector<std::string> beyond_model(const Casting& casting);

}  // namespace thickset
