#pragma once

#include <string>
#include <vector>

#include "glass/read_glass.h"
#include "kiln/kiln.h"
#include "simulation/casting.h"

/// Castings of shipped glasses for tests that need some casting.
namespace thickset::example {

inline std::string data_path(const std::string& name) {
  return std::string{THICKSET_SOURCE} + "/data/" + name;
}

inline Casting of_shape(const Shape& shape, const std::string& glass = "casting-soda-lime-9.0") {
  return {.title = "test piece",
          .glass = read_glass(data_path("glasses/" + glass + ".glass")),
          .shape = shape,
          .reservoir = std::nullopt};
}

inline Casting slab_of_mm(double thickness_mm, const std::string& glass = "casting-soda-lime-9.0") {
  return of_shape(Slab{Length::from_mm(thickness_mm)}, glass);
}

/// All that ship.
inline const std::vector<std::string> controllers = {"fifteen-steps-either-way",
                                                     "ramp-and-hold-lines",
                                                     "seven-steps-by-time",
                                                     "ten-steps-by-rate",
                                                     "ten-steps-by-rate-F",
                                                     "twelve-steps-by-time",
                                                     "twelve-steps-by-time-F",
                                                     "twenty-steps-by-rate"};

inline Kiln kiln(const std::string& name = "middling-brick") {
  return read_kiln(data_path("kilns/" + name + ".kiln"));
}

}  // namespace thickset::example
