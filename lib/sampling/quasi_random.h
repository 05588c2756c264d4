#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

#include <boost/random/sobol.hpp>

namespace thickset {

/// Points that fill a cube evenly, the same on every machine: a Sobol sequence whose bits are
/// flipped by a fixed pattern for each dimension, so that none lies in a corner.
///
/// Any point is had by its number alone: parts of a run share nothing. Each 2^k points from a
/// multiple of 2^k on put one into each of 2^k equal parts of every edge.
/// Source: [BRAT88] the sequence, with the numbers of boost::random::sobol.
class QuasiRandom {
 public:
  /// dimensions: 1 to 100, asserted.
  explicit QuasiRandom(std::size_t dimensions);

  std::size_t dimensions() const { return shift_.size(); }

  /// Coordinates of point i, each above -1 and below 1.
  std::vector<double> point(std::uint64_t i) const;

 private:
  boost::random::sobol sequence_;
  std::vector<std::uint64_t> shift_;
};

}  // namespace thickset
