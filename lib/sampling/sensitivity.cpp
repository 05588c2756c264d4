#include "sampling/sensitivity.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <cstddef>
#include <numeric>
#include <optional>

#include <Eigen/Cholesky>

namespace thickset {
namespace {

constexpr int highest_degree = 12;
// More take longer than the samples themselves and have not been found to explain more.
constexpr std::size_t most_terms = 300;
constexpr double least_variance_share = 1e-20;  // of the mean's square: round-off and no variance

/// HighestDegrees of one term in each input.
using Term = std::vector<int>;

/// How high a polynomial goes in one input alone, and in the sum of degrees of several.
struct HighestDegrees {
  int alone, together;
};

void add_terms(const HighestDegrees& most,
               std::size_t input,
               Term& term,
               std::vector<Term>& terms) {
  if (input == term.size()) {
    terms.push_back(term);
    return;
  }
  const auto count = std::count_if(term.begin(), term.end(), [](int d) { return d > 0; });
  const int used = std::accumulate(term.begin(), term.end(), 0);
  const int left = count == 0 ? most.alone : most.together - used;
  for (int degree = 0; degree <= std::max(left, 0); ++degree) {
    term[input] = degree;
    add_terms(most, input + 1, term, terms);
  }
  term[input] = 0;
}

std::vector<Term> terms_of(const HighestDegrees& most, std::size_t inputs) {
  std::vector<Term> terms;
  Term term(inputs, 0);
  add_terms(most, 0, term, terms);
  // One input's term may be the first of several: of those the sum counts.
  std::erase_if(terms, [&](const Term& of) {
    const auto count = std::count_if(of.begin(), of.end(), [](int d) { return d > 0; });
    return count > 1 && std::accumulate(of.begin(), of.end(), 0) > most.together;
  });
  return terms;
}

std::size_t count_of_terms(const HighestDegrees& most, std::size_t inputs) {
  // Inputs alone; and of k inputs together, each at least 1: choose(together, k) ways.
  double count = 1.0 + static_cast<double>(inputs) * most.alone;
  double of_inputs = static_cast<double>(inputs), of_degrees = most.together;
  for (int k = 2; k <= most.together && k <= static_cast<int>(inputs); ++k) {
    of_inputs *= (static_cast<double>(inputs) - k + 1.0) / k;
    of_degrees *= (most.together - k + 1.0) / k;
    count += of_inputs * of_degrees;
  }
  return static_cast<std::size_t>(std::llround(count));
}

/// Legendre polynomials of each input, scaled to a mean square of 1 over -1..1: column
/// input * (highest + 1) + degree.
Eigen::ArrayXXd legendre(const Eigen::ArrayXXd& points, int highest) {
  const Eigen::Index width = highest + 1;
  Eigen::ArrayXXd values(points.rows(), points.cols() * width);
  for (Eigen::Index input = 0; input < points.cols(); ++input) {
    const Eigen::ArrayXd x = points.col(input);
    const auto column = [&](Eigen::Index degree) { return values.col(input * width + degree); };
    column(0) = 1.0;
    if (highest > 0) column(1) = x;
    for (int n = 1; n < highest; ++n) {
      // (n + 1) P_{n+1} = (2n + 1) x P_n - n P_{n-1}
      column(n + 1) = ((2.0 * n + 1.0) * x * column(n) - double(n) * column(n - 1)) / (n + 1.0);
    }
    for (int n = 1; n <= highest; ++n) column(n) *= std::sqrt(2.0 * n + 1.0);
  }
  return values;
}

struct Fit {
  std::vector<Term> terms;
  Eigen::VectorXd coefficients;
  double left_out_variance;  ///< mean square of the errors at samples left out
  int degree;
};

std::optional<Fit> fit(const HighestDegrees& most,
                       const Eigen::ArrayXXd& points,
                       const Eigen::ArrayXd& results) {
  const Eigen::ArrayXXd values = legendre(points, most.alone);
  const std::vector<Term> terms = terms_of(most, static_cast<std::size_t>(points.cols()));
  Eigen::MatrixXd design(points.rows(), static_cast<Eigen::Index>(terms.size()));
  for (std::size_t t = 0; t < terms.size(); ++t) {
    auto column = design.col(static_cast<Eigen::Index>(t)).array();
    column = 1.0;
    for (std::size_t input = 0; input < terms[t].size(); ++input) {
      if (terms[t][input] == 0) continue;
      column *= values.col(static_cast<Eigen::Index>(input) * (most.alone + 1) + terms[t][input]);
    }
  }
  Eigen::MatrixXd products = Eigen::MatrixXd::Zero(design.cols(), design.cols());
  products.selfadjointView<Eigen::Lower>().rankUpdate(design.transpose());
  const Eigen::LLT<Eigen::MatrixXd> gram{products};
  constexpr double worst_condition = 1e-10;
  if (gram.info() != Eigen::Success || gram.rcond() < worst_condition) return std::nullopt;
  Eigen::VectorXd coefficients = gram.solve(design.transpose() * results.matrix());
  const Eigen::ArrayXd errors = results - (design * coefficients).array();
  const Eigen::MatrixXd half = gram.matrixL().solve(design.transpose());
  const Eigen::ArrayXd leverage = half.colwise().squaredNorm().transpose().array();
  if (!(leverage < 1.0).all()) return std::nullopt;
  const double left_out_variance = (errors / (1.0 - leverage)).square().mean();
  return Fit{terms, std::move(coefficients), left_out_variance, most.alone};
}

}  // namespace

Sensitivity sensitivity(const Eigen::ArrayXXd& points, const Eigen::ArrayXd& results) {
  const auto inputs = static_cast<std::size_t>(points.cols());
  const auto samples = static_cast<std::size_t>(points.rows());
  assert(samples >= 2 * inputs + 2 && points.rows() == results.size());
  Sensitivity found{.first_order = std::vector<double>(inputs, 0.0),
                    .total = std::vector<double>(inputs, 0.0)};
  const double mean = results.mean();
  if ((results - mean).square().mean() <= least_variance_share * mean * mean) return found;

  std::optional<Fit> best;
  const auto try_degrees = [&](const HighestDegrees& degrees) {
    const std::size_t terms = count_of_terms(degrees, inputs);
    if (2 * terms > samples || terms > most_terms) return;
    std::optional<Fit> tried = fit(degrees, points, results);
    if (tried && (!best || tried->left_out_variance < best->left_out_variance)) best = tried;
  };
  for (int degree = 1; degree <= highest_degree; ++degree) {
    if (2 * (1 + inputs * static_cast<std::size_t>(degree)) > samples) break;
    for (int together = degree == 1 ? 1 : 0; together <= degree; ++together) {
      if (together == 1 && degree > 1) continue;
      if (together > 0 && together + 2 < degree) continue;
      try_degrees({degree, together});
    }
  }
  if (!best) {
    found.unexplained = 1.0;
    return found;
  }
  double variance = best->left_out_variance;
  for (std::size_t t = 0; t < best->terms.size(); ++t) {
    const Term& term = best->terms[t];
    const auto used = std::count_if(term.begin(), term.end(), [](int d) { return d > 0; });
    if (used == 0) continue;
    const double c = best->coefficients(static_cast<Eigen::Index>(t));
    variance += c * c;
    for (std::size_t input = 0; input < inputs; ++input) {
      if (term[input] == 0) continue;
      found.total[input] += c * c;
      if (used == 1) found.first_order[input] += c * c;
    }
  }
  for (double& share : found.first_order) share /= variance;
  for (double& share : found.total) share /= variance;
  found.unexplained = best->left_out_variance / variance;
  found.degree = best->degree;
  return found;
}

}  // namespace thickset
