#include "planning/partition.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <limits>

namespace thickset {
namespace {

constexpr int bisections = 60;
constexpr double price_span = 1e12;  // of the first guess of the price, either way

/// Sums over the first i bands, and the slowest limit of any run of bands.
class Sums {
 public:
  explicit Sums(std::span<const Band> bands) : bands_{bands}, width_{0.0}, left_{0.0} {
    for (const Band& band : bands) {
      width_.push_back(width_.back() + band.width_K);
      left_.push_back(left_.back() + band.left_per_rate);
    }
  }
  double width(std::size_t from, std::size_t to) const { return width_[to] - width_[from]; }
  double left(std::size_t from, std::size_t to) const { return left_[to] - left_[from]; }

  double rate(std::size_t from, std::size_t to, double fastest, double price) const {
    const double q = price * left(from, to);
    return q > 0.0 ? std::min(fastest, std::sqrt(width(from, to) / q)) : fastest;
  }
  std::size_t bands() const { return bands_.size(); }
  double fastest(std::size_t band) const { return bands_[band].fastest_K_per_s; }

 private:
  std::span<const Band> bands_;
  std::vector<double> width_, left_;
};

struct Way {
  std::vector<BandGroup> groups;
  double left = 0.0;
};

/// The cheapest way at one price.
Way cheapest(const Sums& sums, int groups, double price) {
  const std::size_t n = sums.bands();
  const auto k = static_cast<std::size_t>(groups);
  constexpr double unreached = std::numeric_limits<double>::infinity();
  // cost[g][i]: of the first i bands in g groups.
  std::vector<std::vector<double>> cost(k + 1, std::vector<double>(n + 1, unreached));
  std::vector<std::vector<std::size_t>> before(k + 1, std::vector<std::size_t>(n + 1, 0));
  cost[0][0] = 0.0;
  for (std::size_t from = 0; from < n; ++from) {
    double fastest = unreached;
    for (std::size_t to = from + 1; to <= n; ++to) {
      fastest = std::min(fastest, sums.fastest(to - 1));
      const double rate = sums.rate(from, to, fastest, price);
      const double own = sums.width(from, to) / rate + price * rate * sums.left(from, to);
      for (std::size_t g = 1; g <= k; ++g) {
        const double whole = cost[g - 1][from] + own;
        if (whole < cost[g][to]) {
          cost[g][to] = whole;
          before[g][to] = from;
        }
      }
    }
  }
  Way way;
  std::size_t to = n;
  for (std::size_t g = k; g > 0; --g) {
    const std::size_t from = before[g][to];
    double fastest = unreached;
    for (std::size_t i = from; i < to; ++i) fastest = std::min(fastest, sums.fastest(i));
    const double rate = sums.rate(from, to, fastest, price);
    way.left += rate * sums.left(from, to);
    way.groups.insert(way.groups.begin(), {to, rate});
    to = from;
  }
  return way;
}

}  // namespace

std::vector<BandGroup> quickest_groups(std::span<const Band> bands, int groups, double allowed) {
  assert(groups >= 1 && static_cast<std::size_t>(groups) <= bands.size() && allowed > 0.0);
  const Sums sums{bands};
  Way way = cheapest(sums, groups, 0.0);
  if (way.left <= allowed) return way.groups;
  // One group over all bands leaves just what is allowed at about this price.
  const double left = std::max(sums.left(0, bands.size()), allowed * 1e-12);
  const double guess = sums.width(0, bands.size()) * left / (allowed * allowed);
  double low = std::log(guess / price_span);
  double high = std::log(guess * price_span);
  for (int i = 0; i < bisections; ++i) {
    const double middle = 0.5 * (low + high);
    (cheapest(sums, groups, std::exp(middle)).left > allowed ? low : high) = middle;
  }
  return cheapest(sums, groups, std::exp(high)).groups;
}

}  // namespace thickset
