#pragma once

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <cstdlib>
#include <string>
#include <vector>

#include "checking/example_casting.h"
#include "slow_build.h"

/// Castings for what has to hold for any: the same ones on every machine.
namespace thickset::example {

/// A linear congruential generator.
class Chance {
 public:
  explicit Chance(std::uint32_t seed) : state_{seed} {}

  double share() {
    state_ = state_ * 1664525u + 1013904223u;
    return static_cast<double>(state_ >> 8) / 16777216.0;
  }
  double between(double low, double high) { return low * std::pow(high / low, share()); }
  template <class T>
  const T& of(const std::vector<T>& choices) {
    return choices[static_cast<std::size_t>(share() * static_cast<double>(choices.size()))];
  }

 private:
  std::uint32_t state_;
};

/// How many to go through: `usual`, fewer where all takes long, more by the environment:
/// THICKSET_SAMPLES=500.
inline int samples(int usual) {
  const int fewest = slow_build ? (usual + 4) / 5 : usual;
  const char* const wanted = std::getenv("THICKSET_SAMPLES");
  return wanted == nullptr ? fewest : std::max(fewest, std::atoi(wanted));
}

inline Shape some_shape(Chance& chance) {
  const auto mm = [&](double low, double high) {
    return Length::from_mm(std::round(chance.between(low, high)));
  };
  const double a_mm = std::round(chance.between(15.0, 160.0));
  const auto side = [&](double most) { return Length::from_mm(a_mm * chance.between(1.0, most)); };
  switch (static_cast<int>(7.0 * chance.share())) {
    case 0: return Rod{mm(15.0, 160.0)};
    case 1: return Ball{mm(20.0, 200.0)};
    case 2: return Block{Length::from_mm(a_mm), side(2.0), side(4.0)};
    case 3: return Disc{side(8.0), Length::from_mm(a_mm)};
    case 4: return Bar{Length::from_mm(a_mm), side(2.5)};
    case 5: return Prism{mm(20.0, 200.0)};
    default: return Slab{mm(12.0, 200.0)};
  }
}

inline const std::vector<std::string> glasses = {"casting-soda-lime-9.0",
                                                 "casting-soda-lime-9.6",
                                                 "lead-crystal-24",
                                                 "lead-crystal-30",
                                                 "barium-zinc-crystal",
                                                 "borosilicate-crown-517642",
                                                 "reference-516-480",
                                                 "soda-lime-container"};

inline Casting some_casting(Chance& chance) {
  const std::string glass = chance.of(glasses);
  return of_shape(some_shape(chance), glass);
}

inline Kiln some_kiln(Chance& chance) {
  return kiln(chance.share() < 0.5 ? "small-fibre" : "middling-brick");
}

inline std::string described(const Casting& casting, const Kiln& kiln) {
  return describe(casting.shape, Lengths::millimetre) + ", " + casting.glass.title + ", " +
         kiln.title;
}

}  // namespace thickset::example
