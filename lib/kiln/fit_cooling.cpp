#include "kiln/fit_cooling.h"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <optional>

#include <fmt/format.h>
#include <Eigen/Dense>
#include <unsupported/Eigen/NonLinearOptimization>
#include <unsupported/Eigen/NumericalDiff>

#include "base/error.h"

namespace thickset {
namespace {

using Eigen::VectorXd;

constexpr std::size_t most_means = 300;
constexpr std::size_t fewest_readings = 6;
constexpr int most_points = 8;
constexpr double least_fall_K = 50.0;
constexpr double nearest_to_room_K = 10.0;  // nearer the room a rate is noise
// A fit closer than this is as good as a sensor's last digit can tell: no points are added below.
constexpr double close_enough_K = 0.02;

/// Temperatures of a fall at the readings' times. Unknowns: the logarithm of each point's rate in
/// K/s, and the temperature at the first reading.
struct Fall {
  using Scalar = double;
  using InputType = VectorXd;
  using ValueType = VectorXd;
  using JacobianType = Eigen::MatrixXd;
  enum { InputsAtCompileTime = Eigen::Dynamic, ValuesAtCompileTime = Eigen::Dynamic };

  std::span<const Reading> readings;
  std::vector<Temperature> at;
  Temperature room;

  int inputs() const { return static_cast<int>(at.size()) + 1; }
  int values() const { return static_cast<int>(readings.size()); }

  NaturalCooling cooling(const VectorXd& unknowns) const {
    // Beyond these a step of the search has gone astray; the rates stay positive and finite.
    constexpr double slowest = -30.0, fastest = 5.0;
    std::vector<NaturalCooling::Point> points;
    for (std::size_t i = 0; i < at.size(); ++i) {
      const double log_rate = unknowns(static_cast<Eigen::Index>(i));
      points.push_back(
          {at[i], Rate::from_K_per_s(std::exp(std::clamp(log_rate, slowest, fastest)))});
    }
    return NaturalCooling{std::move(points), room};
  }

  int operator()(const VectorXd& unknowns, VectorXd& misfit) const {
    const NaturalCooling fall = cooling(unknowns);
    Temperature T = Temperature::from_K(unknowns(inputs() - 1));
    double time_s = readings.front().time_s;
    for (std::size_t i = 0; i < readings.size(); ++i) {
      T = fall.after(T, seconds(readings[i].time_s - time_s));
      time_s = readings[i].time_s;
      misfit(static_cast<Eigen::Index>(i)) = T.in_K() - readings[i].T_K;
    }
    return 0;
  }
};

struct Fitted {
  Fall fall;
  VectorXd unknowns, misfit;
  double rms_K() const {
    return std::sqrt(misfit.squaredNorm() / static_cast<double>(misfit.size()));
  }
  double criterion() const {
    const double n = static_cast<double>(misfit.size());
    const double rms = std::max(rms_K(), close_enough_K);
    return 2.0 * n * std::log(rms) + static_cast<double>(unknowns.size()) * std::log(n);
  }
};

/// Points from the hottest reading to the coolest, evenly in the root of what they are above the
/// room: closer where the kiln is slow, for its rate bends there.
std::vector<Temperature> places(int count, Temperature top, Temperature bottom, Temperature room) {
  const double top_root = std::sqrt((top - room).in_K());
  const double bottom_root = std::sqrt((bottom - room).in_K());
  std::vector<Temperature> at;
  for (int i = 0; i < count; ++i) {
    const double share = count == 1 ? 0.5 : static_cast<double>(i) / (count - 1);
    const double root = bottom_root + share * (top_root - bottom_root);
    at.push_back(room + TemperatureDifference::from_K(root * root));
  }
  return at;
}

/// How fast readings between two temperatures fall, as a straight line; nothing where that is no
/// fall.
std::optional<double> slope_K_per_s(std::span<const Reading> readings,
                                    double low_K,
                                    double high_K) {
  double count = 0.0, sum_s = 0.0, sum_K = 0.0, squares = 0.0, products = 0.0;
  const double origin_s = readings.front().time_s;
  for (const Reading& reading : readings) {
    if (reading.T_K < low_K || reading.T_K > high_K) continue;
    const double time_s = reading.time_s - origin_s;
    count += 1.0;
    sum_s += time_s;
    sum_K += reading.T_K;
    squares += time_s * time_s;
    products += time_s * reading.T_K;
  }
  const double spread = count * squares - sum_s * sum_s;
  const double fall = -(count * products - sum_s * sum_K);
  if (count < 2.0 || !(spread > 0.0) || !(fall > 0.0)) return std::nullopt;
  return fall / spread;
}

/// First guess of the rate at each place: the readings' own slope about it, else `otherwise`.
VectorXd guesses(std::span<const Reading> readings,
                 const std::vector<Temperature>& at,
                 const NaturalCooling& otherwise) {
  VectorXd logs(static_cast<Eigen::Index>(at.size()));
  for (std::size_t i = 0; i < at.size(); ++i) {
    const double here_K = at[i].in_K();
    const double low_K = i > 0 ? 0.5 * (here_K + at[i - 1].in_K()) : 0.0;
    const double high_K = i + 1 < at.size() ? 0.5 * (here_K + at[i + 1].in_K()) : 1e9;
    const double rate_K_per_s =
        slope_K_per_s(readings, low_K, high_K).value_or(otherwise.rate_at(at[i]).in_K_per_s());
    logs(static_cast<Eigen::Index>(i)) = std::log(rate_K_per_s);
  }
  return logs;
}

Fitted fit(std::span<const Reading> readings,
           std::vector<Temperature> at,
           Temperature room,
           const NaturalCooling& otherwise,
           double start_K) {
  Fitted fitted{{readings, std::move(at), room}, {}, {}};
  fitted.unknowns.resize(fitted.fall.inputs());
  fitted.unknowns << guesses(readings, fitted.fall.at, otherwise), start_K;
  Eigen::NumericalDiff<Fall, Eigen::Central> with_slopes{fitted.fall};
  Eigen::LevenbergMarquardt<Eigen::NumericalDiff<Fall, Eigen::Central>> search{with_slopes};
  search.parameters.maxfev = 2000;
  search.parameters.factor = 0.01;  // first steps small: a rate that has run away does not return
  search.minimize(fitted.unknowns);
  fitted.misfit.resize(fitted.fall.values());
  fitted.fall(fitted.unknowns, fitted.misfit);
  return fitted;
}

/// By how much a mean of these is less sure than if each erred for itself: neighbours' likeness.
double likeness_factor(const VectorXd& misfit) {
  const Eigen::Index n = misfit.size();
  const double square = misfit.squaredNorm();
  if (!(square > 0.0)) return 1.0;
  constexpr double most = 0.98;  // beyond, the formula below says nothing
  const double likeness =
      std::clamp(misfit.head(n - 1).dot(misfit.tail(n - 1)) / square, 0.0, most);
  return (1.0 + likeness) / (1.0 - likeness);
}

/// Relative standard errors of the points' rates: those of their logarithms.
std::vector<double> doubts(const Fitted& fitted) {
  Eigen::MatrixXd slopes(fitted.misfit.size(), fitted.unknowns.size());
  const Eigen::NumericalDiff<Fall, Eigen::Central> with_slopes{fitted.fall};
  with_slopes.df(fitted.unknowns, slopes);
  const double spare =
      std::max(1.0, static_cast<double>(fitted.misfit.size() - fitted.unknowns.size()));
  const double variance = fitted.misfit.squaredNorm() / spare * likeness_factor(fitted.misfit);
  const Eigen::MatrixXd covariance =
      (slopes.transpose() * slopes).completeOrthogonalDecomposition().pseudoInverse() * variance;
  std::vector<double> relative;
  for (Eigen::Index i = 0; i + 1 < fitted.unknowns.size(); ++i) {
    relative.push_back(std::sqrt(std::max(0.0, covariance(i, i))));
  }
  return relative;
}

void refuse_unfit(std::span<const Reading> readings, Temperature room, const Place& place) {
  if (readings.size() < fewest_readings) {
    throw Error{place,
                fmt::format("{} readings of the kiln falling by itself are too few: a fit takes {}",
                            readings.size(),
                            fewest_readings),
                "log more of the fall, or name more of it with --between"};
  }
  const auto [lowest, highest] = std::minmax_element(
      readings.begin(), readings.end(), [](auto& a, auto& b) { return a.T_K < b.T_K; });
  if (!(readings.front().T_K - readings.back().T_K >= least_fall_K)) {
    throw Error{place,
                fmt::format("the kiln fell by {:.0f} K only, a fit takes {:.0f} K",
                            readings.front().T_K - readings.back().T_K,
                            least_fall_K),
                "log a longer fall with the elements off"};
  }
  if (!(lowest->T_K > room.in_K())) {
    throw Error{place,
                fmt::format("the kiln falls to {:.1f} C, but the room is at {:.1f} C",
                            lowest->T_K - 273.15,
                            room.in_C()),
                "give the room's temperature during that firing with --room"};
  }
}

}  // namespace

CoolingFit fit_cooling(std::span<const Reading> all, Temperature room, const Place& place) {
  refuse_unfit(all, room, place);
  const std::vector<Reading> readings = means_over_time(all, most_means);
  const Temperature top = Temperature::from_K(readings.front().T_K);
  const Temperature bottom = std::max(Temperature::from_K(readings.back().T_K),
                                      room + TemperatureDifference::from_K(nearest_to_room_K));

  // One time constant from the ends is the first guess.
  const double elapsed_s = readings.back().time_s - readings.front().time_s;
  const double constant_s =
      elapsed_s /
      std::log((top - room).in_K() / (Temperature::from_K(readings.back().T_K) - room).in_K());
  const NaturalCooling guess{{{top, Rate::from_K_per_s((top - room).in_K() / constant_s)}}, room};
  Fitted best = fit(readings, places(1, top, bottom, room), room, guess, top.in_K());
  const double rms_of_one_constant_K = best.rms_K();
  const Temperature middle = best.fall.at.front();
  const double one_constant_s =
      (middle - room).in_K() / best.fall.cooling(best.unknowns).rate_at(middle).in_K_per_s();
  // A handful of readings for each unknown, else the criterion takes their last digits for a shape.
  constexpr std::size_t for_each_unknown = 5;
  const int most = std::min(most_points, static_cast<int>(readings.size() / for_each_unknown) - 1);
  for (int points = 2; points <= most; ++points) {
    Fitted next = fit(readings,
                      places(points, top, bottom, room),
                      room,
                      best.fall.cooling(best.unknowns),
                      best.unknowns(best.unknowns.size() - 1));
    if (next.criterion() < best.criterion()) best = std::move(next);
  }
  return {.cooling = best.fall.cooling(best.unknowns),
          .doubt = doubts(best),
          .rms_K = best.rms_K(),
          .largest_K = best.misfit.cwiseAbs().maxCoeff(),
          .rms_of_one_constant_K = rms_of_one_constant_K,
          .one_constant_s = one_constant_s,
          .from = Temperature::from_K(all.front().T_K),
          .to = Temperature::from_K(all.back().T_K)};
}

Stretch longest_fall(std::span<const Reading> readings, double rise_K) {
  const auto hottest = std::max_element(
      readings.begin(), readings.end(), [](auto& a, auto& b) { return a.T_K < b.T_K; });
  const auto start = static_cast<std::size_t>(hottest - readings.begin());
  Stretch longest{start, start};
  double longest_s = 0.0;
  std::size_t first = start;
  for (std::size_t i = start; i < readings.size();) {
    double lowest_K = readings[i].T_K;
    std::size_t beyond = i + 1;
    std::size_t lowest_at = i;
    for (; beyond < readings.size() && readings[beyond].T_K <= lowest_K + rise_K; ++beyond) {
      if (readings[beyond].T_K < lowest_K) {
        lowest_K = readings[beyond].T_K;
        lowest_at = beyond;
      }
    }
    first = i;
    const double length_s = readings[lowest_at].time_s - readings[first].time_s;
    if (length_s > longest_s) {
      longest_s = length_s;
      longest = {first, lowest_at + 1};
    }
    i = beyond;
  }
  return longest;
}

}  // namespace thickset
