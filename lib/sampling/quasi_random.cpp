#include "sampling/quasi_random.h"

#include <cassert>

namespace thickset {
namespace {

constexpr std::size_t most_dimensions = 100;

/// The output function of SplitMix64, from memory: any fixed, well-mixed bits would do.
std::uint64_t mixed(std::uint64_t x) {
  x *= 0x9e3779b97f4a7c15ULL;
  x = (x ^ (x >> 30)) * 0xbf58476d1ce4e5b9ULL;
  x = (x ^ (x >> 27)) * 0x94d049bb133111ebULL;
  return x ^ (x >> 31);
}

/// The middle of one of 2^53 equal parts of -1..1.
double between_ends(std::uint64_t bits) {
  constexpr double part = 0x1p-52;
  return (static_cast<double>(bits >> 11) + 0.5) * part - 1.0;
}

}  // namespace

QuasiRandom::QuasiRandom(std::size_t dimensions) : sequence_{dimensions} {
  assert(dimensions >= 1 && dimensions <= most_dimensions);
  for (std::uint64_t d = 1; d <= dimensions; ++d) shift_.push_back(mixed(d));
}

std::vector<double> QuasiRandom::point(std::uint64_t i) const {
  std::vector<double> coordinates;
  coordinates.reserve(shift_.size());
  if (i == 0) {  // the library's sequence leaves the origin out
    for (const std::uint64_t shift : shift_) coordinates.push_back(between_ends(shift));
    return coordinates;
  }
  boost::random::sobol sequence = sequence_;
  sequence.seed(i - 1);
  for (const std::uint64_t shift : shift_) {
    coordinates.push_back(between_ends(std::uint64_t{sequence()} ^ shift));
  }
  return coordinates;
}

}  // namespace thickset
