#include "sampling/how_sure.h"

#include <algorithm>
#include <numeric>
#include <utility>

#include "sampling/quasi_random.h"

namespace thickset {
namespace {

std::vector<double> values_of(std::span<const Sample> samples, double Sample::*value) {
  std::vector<double> values;
  values.reserve(samples.size());
  for (const Sample& sample : samples) values.push_back(sample.*value);
  return values;
}

Chance share_that(std::span<const Sample> samples, const auto& holds) {
  return {static_cast<std::size_t>(std::count_if(samples.begin(), samples.end(), holds)),
          samples.size()};
}

Eigen::ArrayXXd points_of(const Study& study, std::span<const Sample> samples) {
  const QuasiRandom sequence{study.inputs.size()};
  Eigen::ArrayXXd points(static_cast<Eigen::Index>(samples.size()),
                         static_cast<Eigen::Index>(study.inputs.size()));
  for (Eigen::Index row = 0; row < points.rows(); ++row) {
    const std::vector<double> point = sequence.point(samples[static_cast<std::size_t>(row)].number);
    std::copy(point.begin(), point.end(), points.row(row).begin());
  }
  return points;
}

// Shares are known from far fewer samples than chances, and of a million of them the polynomial's
// matrix would fill a machine.
constexpr std::size_t most_for_shares = 4096;

/// As many of the first of them as there are points.
/// Shares of both results, by the samples at these points.
struct Shares {
  Sensitivity residual, tension;
};

Shares shares_of(const Eigen::ArrayXXd& points,
                 const std::vector<double>& residual,
                 const std::vector<double>& tension) {
  Eigen::ArrayXXd results(points.rows(), 2);
  results.col(0) = Eigen::Map<const Eigen::ArrayXd>(residual.data(), points.rows());
  results.col(1) = Eigen::Map<const Eigen::ArrayXd>(tension.data(), points.rows());
  std::vector<Sensitivity> found = sensitivities(points, results);
  return {std::move(found[0]), std::move(found[1])};
}

}  // namespace

Study study_of(const CourseToSample& what,
               const Limits& limits,
               std::string title,
               std::uint64_t samples) {
  Study study{.title = std::move(title),
              .grade_nm_per_cm = limits.grade.in_nm_per_cm(),
              .tension_limit_MPa = limits.tension.in_MPa(),
              .bulk = what.bulk,
              .inputs = uncertain_inputs(what.casting, what.kiln),
              .samples = samples};
  study.as_given = sample_at(what, study.inputs, std::vector<double>(study.inputs.size(), 0.0));
  return study;
}

HowSure sampled(const CourseToSample& what,
                const Limits& limits,
                std::string title,
                std::uint64_t samples,
                const SamplingSettings& settings) {
  const Study study = study_of(what, limits, std::move(title), samples);
  return how_sure(study, sample_course(what, study.inputs, {0, samples}, settings));
}

std::vector<std::size_t> HowSure::ranked() const {
  std::vector<std::size_t> order(study.inputs.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    return of_decisive().total[a] > of_decisive().total[b];
  });
  return order;
}

HowSure how_sure(const Study& study, std::span<const Sample> samples) {
  const std::vector<double> residual = values_of(samples, &Sample::residual_nm_per_cm);
  const std::vector<double> tension = values_of(samples, &Sample::tension_MPa);
  const Eigen::ArrayXXd points =
      points_of(study, samples.first(std::min(samples.size(), most_for_shares)));
  Shares shares = shares_of(points, residual, tension);
  HowSure sure{.study = study,
               .residual = chance_within(residual, study.grade_nm_per_cm),
               .tension = chance_within(tension, study.tension_limit_MPa),
               .both = share_that(samples,
                                  [&](const Sample& sample) {
                                    return sample.residual_nm_per_cm <= study.grade_nm_per_cm &&
                                           sample.tension_MPa <= study.tension_limit_MPa;
                                  }),
               .relaxes = share_that(samples, [](const Sample& sample) { return sample.relaxes; }),
               .residual_nm_per_cm = band_of(residual),
               .tension_MPa = band_of(tension),
               .of_residual = std::move(shares.residual),
               .of_tension = std::move(shares.tension)};
  const bool tension_fails_more = sure.tension.kept < sure.residual.kept ||
                                  (sure.tension.kept == sure.residual.kept &&
                                   sure.tension_MPa.high / study.tension_limit_MPa >
                                       sure.residual_nm_per_cm.high / study.grade_nm_per_cm);
  sure.decisive = tension_fails_more ? Decisive::tension : Decisive::residual;
  return sure;
}

ShareOfLimits at_confidence(const Study& study, std::span<const Sample> samples, double share) {
  return {quantile(values_of(samples, &Sample::residual_nm_per_cm), share) / study.grade_nm_per_cm,
          quantile(values_of(samples, &Sample::tension_MPa), share) / study.tension_limit_MPa};
}

}  // namespace thickset
