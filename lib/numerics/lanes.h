#pragma once

#include <Eigen/Core>

/// Marks a function of plain loops that is worth compiling twice: for any processor, and for those
/// of x86-64 that work on four doubles at once (AVX2). The loader takes the one that fits.
///
/// Both give the same bits: neither may reorder sums nor fuse a product into one (AVX2 alone has no
/// such instruction). Where compiler or system know no such thing, there is one version.
/// Source: notes/benchmarks.md#four-at-once.
#if defined(__x86_64__) && defined(__GLIBC__) && defined(__has_attribute)
#if __has_attribute(target_clones)
#define THICKSET_FOUR_AT_ONCE __attribute__((target_clones("avx2", "default")))
#endif
#endif
#ifndef THICKSET_FOUR_AT_ONCE
#define THICKSET_FOUR_AT_ONCE
#endif

/// Before a loop whose rounds do not touch what others write: vector code with no check of that,
/// and in Clang one four a round, since loops here are short.
#if defined(__clang__)
#define THICKSET_ROUNDS_APART _Pragma("clang loop vectorize(assume_safety) interleave_count(1)")
#elif defined(__GNUC__)
#define THICKSET_ROUNDS_APART _Pragma("GCC ivdep")
#else
#define THICKSET_ROUNDS_APART
#endif

namespace thickset {

inline constexpr Eigen::Index lanes = 4;

/// Fours that hold this many values.
constexpr Eigen::Index fours(Eigen::Index values) {
  return (values + lanes - 1) / lanes;
}

/// Filled up to a whole number of fours.
constexpr Eigen::Index filled_up(Eigen::Index values) {
  return fours(values) * lanes;
}

}  // namespace thickset
