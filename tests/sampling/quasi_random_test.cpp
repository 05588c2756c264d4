#include <doctest/doctest.h>

#include <cmath>
#include <cstdint>
#include <set>
#include <utility>
#include <vector>

#include "sampling/quasi_random.h"

using thickset::QuasiRandom;

namespace {

/// A coordinate's top bits: which of 2^bits equal parts of the edge it lies in.
std::uint64_t part_of(double coordinate, int bits) {
  return static_cast<std::uint64_t>((coordinate + 1.0) * std::ldexp(0.5, bits));
}

}  // namespace

TEST_CASE("quasi-random: apart from the flipped bits the points are those of the sequence") {
  // First points of the Sobol sequence of two dimensions in the order of its Gray code, as printed
  // in the documentation of boost::random::sobol: (1/2, 1/2), (3/4, 1/4), (1/4, 3/4), (3/8, 3/8),
  // (7/8, 7/8); before them the origin.
  constexpr std::uint64_t eighths[][2] = {{0, 0}, {4, 4}, {6, 2}, {2, 6}, {3, 3}, {7, 7}};
  const QuasiRandom points{2};
  const std::vector<double> origin = points.point(0);
  std::uint64_t i = 0;
  for (const auto& published : eighths) {
    CAPTURE(i);
    const std::vector<double> point = points.point(i++);
    for (std::size_t d = 0; d < 2; ++d) {
      CHECK((part_of(point[d], 3) ^ part_of(origin[d], 3)) == published[d]);
    }
  }
}

TEST_CASE("quasi-random: each 2^k points put one into each of 2^k parts of every edge") {
  constexpr std::size_t dimensions = 12;
  const QuasiRandom points{dimensions};
  for (const int bits : {1, 4, 7}) {
    const std::uint64_t block = std::uint64_t{1} << bits;
    for (const std::uint64_t first : {std::uint64_t{0}, block, 40 * block}) {
      CAPTURE(bits);
      CAPTURE(first);
      std::vector<std::set<std::uint64_t>> parts(dimensions);
      for (std::uint64_t i = first; i < first + block; ++i) {
        const std::vector<double> point = points.point(i);
        for (std::size_t d = 0; d < dimensions; ++d) parts[d].insert(part_of(point[d], bits));
      }
      for (const auto& of_edge : parts) CHECK(of_edge.size() == block);
    }
  }
}

TEST_CASE("quasi-random: 256 points of the first two dimensions fill all 256 boxes of any shape") {
  const QuasiRandom points{2};
  for (int bits = 0; bits <= 8; ++bits) {
    std::set<std::pair<std::uint64_t, std::uint64_t>> boxes;
    for (std::uint64_t i = 0; i < 256; ++i) {
      const std::vector<double> point = points.point(i);
      boxes.insert({part_of(point[0], bits), part_of(point[1], 8 - bits)});
    }
    CHECK(boxes.size() == 256);
  }
}

TEST_CASE("quasi-random: a point does not depend on what was asked before, or on further inputs") {
  const QuasiRandom points{5};
  const std::vector<double> later = points.point(1000000);
  points.point(3);
  CHECK(points.point(1000000) == later);
  CHECK(QuasiRandom{5}.point(1000000) == later);
  const std::vector<double> wider = QuasiRandom{9}.point(1000000);
  CHECK(std::vector<double>(wider.begin(), wider.begin() + 5) == later);
  for (const double coordinate : later) {
    CHECK(coordinate > -1.0);
    CHECK(coordinate < 1.0);
  }
}

TEST_CASE("quasi-random: a smooth mean is found far better than by as many random points") {
  // Mean over the cube of the product of (1 + x_d / 2) is 1; its standard deviation is about
  // sqrt((1 + 1/12)^6 - 1) = 0.79, so 1024 random points are off by 0.025.
  constexpr std::size_t dimensions = 6;
  constexpr double tenth_of_random_error = 0.0025;
  const QuasiRandom points{dimensions};
  double sum = 0.0;
  constexpr int count = 1024;
  for (std::uint64_t i = 0; i < count; ++i) {
    double product = 1.0;
    for (const double x : points.point(i)) product *= 1.0 + 0.5 * x;
    sum += product;
  }
  CHECK(std::abs(sum / count - 1.0) < tenth_of_random_error);
}
