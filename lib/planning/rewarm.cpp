#include "planning/rewarm.h"

#include <algorithm>
#include <cmath>

#include <boost/math/tools/roots.hpp>

#include "checking/past.h"
#include "checking/rules.h"
#include "relaxation/structure.h"
#include "schedule/fit_to_controller.h"
#include "simulation/simulate.h"
#include "stress/retardation.h"

namespace thickset {
namespace {

constexpr double slowest_K_per_h = 0.1;  // below, no kiln and no patience would follow
constexpr double close_enough = 0.002;   // of a rate
// Above, the formula for what is left is too quick by up to a quarter.
constexpr double most_share_left = 0.05;

/// Tension that heating makes, by the time it is made.
struct Heated {
  History history;
  double strain_K;
  double existing_Pa;

  double added_Pa(double from_s, double to_s) const {
    double largest_Pa = 0.0;
    for (const History::Row& row : history.rows) {
      if (row.time_s > from_s && row.time_s <= to_s) {
        largest_Pa = std::max(largest_Pa, row.tension_Pa);
      }
    }
    return largest_Pa;
  }
  /// With what is there, which counts until the surface is at the strain point.
  double together_Pa(double from_s, double to_s) const {
    double largest_Pa = 0.0;
    for (const History::Row& row : history.rows) {
      if (row.time_s <= from_s || row.time_s > to_s) continue;
      const double there_Pa = row.surface_K < strain_K ? existing_Pa : 0.0;
      largest_Pa = std::max(largest_Pa, row.tension_Pa + there_Pa);
    }
    return largest_Pa;
  }
};

class Heater {
 public:
  Heater(const Casting& casting, const Kiln& kiln, const Firing& firing, double existing_Pa)
      : casting_{casting}, kiln_{kiln}, firing_{firing}, existing_Pa_{existing_Pa} {}

  Program program(const std::vector<Temperature>& to, const std::vector<Rate>& rates) const {
    Program program;
    program.start = firing_.room;
    for (std::size_t i = 0; i < rates.size(); ++i) {
      program.steps.push_back({.target = to[i], .pace = rates[i], .comment = "rewarm"});
    }
    return program;
  }

  /// The slab of the same centre tension, which is what heating pulls at.
  Heated run(const Program& program) const {
    const FollowedProgram followed =
        follow(program, kiln_, Controller::LateOnCooling::goes_on, firing_.room);
    const Glass& glass = casting_.glass;
    return {simulate(casting_, kiln_, followed.air, firing_.room, Respect::permanent_tension),
            glass.strain_point.value.in_K(),
            existing_Pa_};
  }

  /// The quickest rate of the last step, the ones before being as they are, that adds no more than
  /// this.
  Rate quickest(const std::vector<Temperature>& to,
                std::vector<Rate> before,
                double allowed_Pa) const {
    before.push_back(kiln_.fastest_heating);
    const auto adds_Pa = [&](double log_rate) {
      before.back() = Rate::from_K_per_h(std::exp(log_rate));
      const Heated heated = run(program(to, before));
      return heated.added_Pa(0.0, heated.history.end_s()) - allowed_Pa;
    };
    double low = std::log(slowest_K_per_h);
    double high = std::log(kiln_.fastest_heating.in_K_per_h());
    if (adds_Pa(high) <= 0.0) return kiln_.fastest_heating;
    while (high - low > close_enough) {
      const double middle = 0.5 * (low + high);
      (adds_Pa(middle) <= 0.0 ? low : high) = middle;
    }
    return Rate::from_K_per_h(std::exp(low));
  }

 private:
  const Casting& casting_;
  const Kiln& kiln_;
  const Firing& firing_;
  double existing_Pa_;
};

double step_end_s(const History& history, int step) {
  double end_s = 0.0;
  for (const History::Row& row : history.rows) {
    if (row.step <= step) end_s = row.time_s;
  }
  return end_s;
}

}  // namespace

Duration time_until_left(const Glass& glass,
                         Temperature temperature,
                         Temperature fictive,
                         double share) {
  if (share >= 1.0) return Duration{0.0};
  share = std::min(share, most_share_left);
  const RelaxationLaw& law = glass.relaxation;
  const RelaxationSpectrum& spectrum = law.spectrum;
  double shear = 0.0, bulk = spectrum.bulk_forever_GPa;
  for (int i = 0; i < RelaxationSpectrum::terms; ++i) {
    shear += spectrum.shear_GPa[static_cast<std::size_t>(i)];
    bulk += spectrum.bulk_GPa[static_cast<std::size_t>(i)];
  }
  const double longer = 1.0 + 4.0 * shear / (3.0 * bulk);
  const double log_pace = relaxation::Pace{law}.logarithm(temperature.in_K(), fictive.in_K());
  const auto left = [&](double log_time) {
    const double spectrum_s = std::exp(log_time + log_pace) / longer;
    double sum = 0.0;
    for (std::size_t i = 0; i < spectrum.shear_GPa.size(); ++i) {
      sum += spectrum.shear_GPa[i] * std::exp(-spectrum_s / spectrum.shear_s[i]);
    }
    return sum / shear - share;
  };
  // Between a thousandth of the quickest term and thirty times the slowest.
  const double low = std::log(1e-3 * longer * spectrum.shear_s.front()) - log_pace;
  const double high = std::log(30.0 * longer * spectrum.shear_s.back()) - log_pace;
  if (left(low) <= 0.0) return seconds(std::exp(low));
  if (left(high) >= 0.0) return seconds(std::exp(high));
  std::uintmax_t most = 100;
  const auto bracket = boost::math::tools::toms748_solve(
      left, low, high, boost::math::tools::eps_tolerance<double>{30}, most);
  return seconds(std::exp(bracket.second));
}

Rewarm plan_rewarm(const Casting& casting,
                   const Kiln& kiln,
                   const Controller& controller,
                   const Firing& firing,
                   const Limits& limits,
                   Retardation existing,
                   Temperature hold) {
  const Glass& glass = casting.glass;
  Rewarm result{};
  result.existing_Pa =
      stress::stress_of_retardation_Pa(glass.stress_optical_per_Pa.value, existing);
  const double room_left_Pa = limits.tension.in_Pa() - result.existing_Pa;
  const double least_Pa = least_share_added * limits.tension.in_Pa();
  result.existing_over = room_left_Pa < least_Pa;
  result.allowed_Pa = std::max(room_left_Pa, least_Pa);

  const Heater heater{casting, kiln, firing, result.existing_Pa};
  const Temperature strain = glass.strain_point.value;
  // Beyond the strain point nothing of before is left to add to.
  std::vector<Temperature> to;
  if (strain < hold) to.push_back(strain);
  to.push_back(hold);
  std::vector<Rate> rates;
  for (std::size_t i = 0; i < to.size(); ++i) {
    rates.push_back(heater.quickest(to, rates, result.allowed_Pa));
  }
  // A step that is no quicker than the one before is one with it.
  if (rates.size() == 2 && rates[1].in_K_per_h() < 1.1 * rates[0].in_K_per_h()) {
    to.erase(to.begin());
    rates = {std::min(rates[0], rates[1])};
  }
  const FittedProgram fitted =
      fit_to_controller(heater.program(to, rates), controller, firing.room, kiln.fastest_heating);
  result.cannot = fitted.cannot;
  result.program = fitted.program;
  result.program.start = firing.room;

  const Heated heated = heater.run(result.program);
  double from_s = 0.0;
  Temperature from = firing.room;
  for (std::size_t i = 0; i < result.program.steps.size(); ++i) {
    const Step& step = result.program.steps[i];
    const double to_s = step_end_s(heated.history, static_cast<int>(i));
    const std::optional<Duration> keyed = ramp_time(step.pace, from, step.target);
    const double time_s = keyed ? in_s(*keyed) : to_s - from_s;
    result.steps.push_back({.from = from,
                            .to = step.target,
                            .rate = Rate::from_K_per_s((step.target - from).in_K() / time_s),
                            .added_Pa = heated.added_Pa(from_s, to_s),
                            .together_Pa = heated.together_Pa(from_s, to_s)});
    result.peak_Pa = std::max(result.peak_Pa, result.steps.back().together_Pa);
    from_s = to_s;
    from = step.target;
  }
  const History::Row& arrives = heated.history.rows.back();
  result.behind = TemperatureDifference::from_K(arrives.kiln_K - arrives.centre_K);
  const double share = relaxed_share * limits.grade.in_nm_per_cm() / existing.in_nm_per_cm();
  // As slowly as with the structure it comes with, which takes a while to follow.
  result.existing_relaxes =
      time_until_left(glass, hold - sensor_tolerance(kiln, hold), std::min(strain, hold), share);
  return result;
}

}  // namespace thickset
