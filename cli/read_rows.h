#pragma once

#include <string_view>
#include <vector>

#include "base/place.h"
#include "units/length.h"

namespace thickset::cli {

/// Thicknesses of a table: "20mm,40mm", "1in,2in".
/// Throws: Error at `place` for a bare number, a thickness outside 3 to 1000 mm, one that is not at
/// least 1 mm above the one before, more than 24.
std::vector<Length> read_rows(std::string_view text, const Place& place);

/// Where none are typed.
std::vector<Length> usual_rows();

}  // namespace thickset::cli
