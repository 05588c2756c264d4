#include "planning/partition.h"
#include "slow_build.h"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <limits>
#include <vector>

#include <doctest/doctest.h>

using namespace thickset;

namespace {

std::vector<Band> some_bands() {
  return {{12.0, 0.2, 9.0},
          {12.0, 1.5, 9.0},
          {12.0, 3.0, 8.0},
          {12.0, 2.0, 8.0},
          {12.0, 0.6, 7.0},
          {12.0, 0.1, 6.0},
          {200.0, 0.0, 5.0}};
}

struct Way {
  double time = 0.0, left = 0.0;
};

Way way_of(const std::vector<Band>& bands, const std::vector<BandGroup>& groups) {
  Way way;
  std::size_t from = 0;
  for (const BandGroup& group : groups) {
    for (std::size_t i = from; i < group.end; ++i) {
      way.time += bands[i].width_K / group.rate_K_per_s;
      way.left += bands[i].left_per_rate * group.rate_K_per_s;
    }
    from = group.end;
  }
  return way;
}

/// Least time of one cut: rates on a fine grid of prices, each at its own best.
double least_time_of_cut(const std::vector<Band>& bands,
                         const std::vector<std::size_t>& ends,
                         double allowed) {
  double least = std::numeric_limits<double>::infinity();
  for (double log_price = -12.0; log_price < 12.0; log_price += 0.001) {
    std::vector<BandGroup> groups;
    std::size_t from = 0;
    for (const std::size_t end : ends) {
      double width = 0.0, left = 0.0, fastest = 1e9;
      for (std::size_t i = from; i < end; ++i) {
        width += bands[i].width_K;
        left += bands[i].left_per_rate;
        fastest = std::min(fastest, bands[i].fastest_K_per_s);
      }
      const double rate = std::sqrt(width / (std::exp(log_price) * std::max(left, 1e-12)));
      groups.push_back({end, std::min(rate, fastest)});
      from = end;
    }
    const Way way = way_of(bands, groups);
    if (way.left <= allowed) least = std::min(least, way.time);
  }
  return least;
}

}  // namespace

TEST_CASE("partition: no cut into three groups is quicker, of all there are" *
          doctest::skip(slow_build)) {
  const std::vector<Band> bands = some_bands();
  for (const double allowed : {2.0, 6.0, 15.0}) {
    CAPTURE(allowed);
    double least = std::numeric_limits<double>::infinity();
    for (std::size_t a = 1; a < bands.size(); ++a) {
      for (std::size_t b = a + 1; b < bands.size(); ++b) {
        least = std::min(least, least_time_of_cut(bands, {a, b, bands.size()}, allowed));
      }
    }
    const std::vector<BandGroup> groups = quickest_groups(bands, 3, allowed);
    const Way way = way_of(bands, groups);
    CHECK(groups.size() == 3);
    CHECK(way.left <= allowed * (1.0 + 1e-9));
    // Cuts between two prices are not reached: the hull of the exchange of time for stress.
    CHECK(way.time <= 1.03 * least);
  }
}

TEST_CASE("partition: where the fastest leaves little enough, all is as fast as it may") {
  const std::vector<Band> bands = some_bands();
  const std::vector<BandGroup> groups = quickest_groups(bands, static_cast<int>(bands.size()), 1e6);
  std::size_t i = 0;
  for (const BandGroup& group : groups) {
    CHECK(group.end == i + 1);
    CHECK(group.rate_K_per_s == bands[i++].fastest_K_per_s);
  }
}

TEST_CASE("partition: one group leaves just what is allowed, at its closed form or its limit") {
  const std::vector<Band> bands = some_bands();
  double left = 0.0;
  for (const Band& band : bands) left += band.left_per_rate;
  constexpr double bisection_rel = 1e-6;
  for (const double allowed : {1.0, 10.0}) {
    const std::vector<BandGroup> groups = quickest_groups(bands, 1, allowed);
    REQUIRE(groups.size() == 1);
    CHECK(groups.front().end == bands.size());
    CHECK(std::abs(groups.front().rate_K_per_s * left / allowed - 1.0) <= bisection_rel);
  }
  // 5 K/s is the slowest limit of any band, which leaves 37.
  CHECK(quickest_groups(bands, 1, 40.0).front().rate_K_per_s == 5.0);
}

// With a group for each band the rates go with the inverse root of what a band leaves for its
// width: the envelope of notes/planning.md, where no band is at its limit.
TEST_CASE("partition: a group for each band follows the closed form of the envelope") {
  std::vector<Band> bands;
  double sum = 0.0;
  for (const double left_per_rate : {0.4, 1.0, 2.5, 1.5, 0.3}) {
    bands.push_back({10.0, left_per_rate, 1e6});
    sum += std::sqrt(10.0 * left_per_rate);
  }
  constexpr double allowed = 3.0;
  constexpr double bisection_rel = 1e-6;
  const std::vector<BandGroup> groups = quickest_groups(bands, 5, allowed);
  REQUIRE(groups.size() == 5);
  for (std::size_t i = 0; i < 5; ++i) {
    CAPTURE(i);
    const double rate = allowed / sum * std::sqrt(bands[i].width_K / bands[i].left_per_rate);
    CHECK(std::abs(groups[i].rate_K_per_s / rate - 1.0) <= bisection_rel);
  }
  CHECK(std::abs(way_of(bands, groups).time / (sum * sum / allowed) - 1.0) <= bisection_rel);
}

TEST_CASE(
    "partition: at random bands no cut is quicker by more than the hull's gap, none leaves more") {
  std::uint32_t state = 12345;
  const auto random = [&] {
    state = state * 1664525u + 1013904223u;
    return static_cast<double>(state >> 8) / 16777216.0;
  };
  for (int run = 0; run < 12; ++run) {
    CAPTURE(run);
    std::vector<Band> bands;
    for (int i = 0; i < 7; ++i) {
      bands.push_back({5.0 + 20.0 * random(), 2.0 * random() - 0.1, 0.5 + 8.0 * random()});
    }
    const double allowed = 0.5 + 4.0 * random();
    double least = std::numeric_limits<double>::infinity();
    for (std::size_t a = 1; a < bands.size(); ++a) {
      least = std::min(least, least_time_of_cut(bands, {a, bands.size()}, allowed));
    }
    const Way way = way_of(bands, quickest_groups(bands, 2, allowed));
    CHECK(way.left <= allowed * (1.0 + 1e-9));
    CHECK(way.time <= 1.1 * least);
    CHECK(way.time >= least * (1.0 - 2e-3));  // the grid of prices of the search over all cuts
  }
}
