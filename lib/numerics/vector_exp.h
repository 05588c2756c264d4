#pragma once

#include <bit>
#include <cstdint>

namespace thickset {

/// exp(x) = power (1 + rest), power of two and |rest| < 0.42: without branches or calls, so that
/// compilers can make vector code of loops over it.
///
/// In:     -700 <= x <= 700, or no number, which gives none.
/// Error:  below 1e-15 of exp(x), and of `rest` where x is small.
/// Source: x = k ln 2 + r with ln 2 in two parts ([CW80] 6); Taylor's series for |r| <= ln 2 / 2.
struct Exponential {
  double power, rest;

  explicit Exponential(double x) {
    // Adding this rounds to a whole number, in the low bits of the sum.
    constexpr double to_whole = 6755399441055744.0;  // 1.5 * 2^52
    constexpr double per_ln2 = 1.4426950408889634;
    constexpr double ln2_high = 0x1.62e42fefap-1;  // ends in zeros: k times it is exact
    constexpr double ln2_low = 0x1.cf79abc9e3b3ap-40;
    constexpr int fraction_bits = 52;
    const double shifted = x * per_ln2 + to_whole;
    const double k = shifted - to_whole;
    const double r = (x - k * ln2_high) - k * ln2_low;
    double tail = 1.0 / 479001600.0;  // of rest = r + r^2 tail
    tail = tail * r + 1.0 / 39916800.0;
    tail = tail * r + 1.0 / 3628800.0;
    tail = tail * r + 1.0 / 362880.0;
    tail = tail * r + 1.0 / 40320.0;
    tail = tail * r + 1.0 / 5040.0;
    tail = tail * r + 1.0 / 720.0;
    tail = tail * r + 1.0 / 120.0;
    tail = tail * r + 1.0 / 24.0;
    tail = tail * r + 1.0 / 6.0;
    tail = tail * r + 1.0 / 2.0;
    rest = r + r * r * tail;
    power = std::bit_cast<double>((std::bit_cast<std::uint64_t>(shifted) << fraction_bits) +
                                  std::bit_cast<std::uint64_t>(1.0));
  }

  double value() const { return power + power * rest; }
  /// 1 - exp(x), with no loss where x is small.
  double from_one() const { return (1.0 - power) - power * rest; }
};

}  // namespace thickset
