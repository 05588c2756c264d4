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
// After so many degrees that explain nothing better no higher one is tried. Odd and even functions
// take every other degree.
constexpr int degrees_in_vain = 3;
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

/// One fit for each column of results; none where the terms cannot be told apart.
std::vector<Fit> fit(const HighestDegrees& most,
                     const Eigen::ArrayXXd& points,
                     const Eigen::ArrayXXd& results) {
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
  if (gram.info() != Eigen::Success || gram.rcond() < worst_condition) return {};
  const Eigen::MatrixXd coefficients = gram.solve(design.transpose() * results.matrix());
  const Eigen::ArrayXXd errors = results - (design * coefficients).array();
  const Eigen::MatrixXd half = gram.matrixL().solve(design.transpose());
  const Eigen::ArrayXd leverage = half.colwise().squaredNorm().transpose().array();
  if (!(leverage < 1.0).all()) return {};
  std::vector<Fit> fits;
  for (Eigen::Index result = 0; result < results.cols(); ++result) {
    const double left_out_variance = (errors.col(result) / (1.0 - leverage)).square().mean();
    fits.push_back({terms, coefficients.col(result), left_out_variance, most.alone});
  }
  return fits;
}

/// For each result the fit whose errors at samples left out are least.
std::vector<std::optional<Fit>> best_fits(const Eigen::ArrayXXd& points,
                                          const Eigen::ArrayXXd& results) {
  const auto inputs = static_cast<std::size_t>(points.cols());
  const auto samples = static_cast<std::size_t>(points.rows());
  std::vector<std::optional<Fit>> best(static_cast<std::size_t>(results.cols()));
  int best_degree = 0;
  const auto try_degrees = [&](const HighestDegrees& degrees) {
    const std::size_t terms = count_of_terms(degrees, inputs);
    if (2 * terms > samples || terms > most_terms) return;
    std::vector<Fit> tried = fit(degrees, points, results);
    for (std::size_t i = 0; i < tried.size(); ++i) {
      if (best[i] && best[i]->left_out_variance <= tried[i].left_out_variance) continue;
      best[i] = std::move(tried[i]);
      best_degree = degrees.alone;
    }
  };
  for (int degree = 1; degree <= std::min(highest_degree, best_degree + degrees_in_vain);
       ++degree) {
    if (2 * (1 + inputs * static_cast<std::size_t>(degree)) > samples) break;
    for (int together = degree == 1 ? 1 : 0; together <= degree; ++together) {
      if (together == 1 && degree > 1) continue;
      if (together > 0 && together + 2 < degree) continue;
      try_degrees({degree, together});
    }
  }
  return best;
}

/// Whether results differ by more than round-off.
bool vary(const Eigen::ArrayXd& results) {
  const double mean = results.mean();
  return (results - mean).square().mean() > least_variance_share * mean * mean;
}

Sensitivity shares_of(const Fit& fit, std::size_t inputs) {
  Sensitivity found{.first_order = std::vector<double>(inputs, 0.0),
                    .total = std::vector<double>(inputs, 0.0)};
  double variance = fit.left_out_variance;
  for (std::size_t t = 0; t < fit.terms.size(); ++t) {
    const Term& term = fit.terms[t];
    const auto used = std::count_if(term.begin(), term.end(), [](int d) { return d > 0; });
    if (used == 0) continue;
    const double c = fit.coefficients(static_cast<Eigen::Index>(t));
    variance += c * c;
    for (std::size_t input = 0; input < inputs; ++input) {
      if (term[input] == 0) continue;
      found.total[input] += c * c;
      if (used == 1) found.first_order[input] += c * c;
    }
  }
  for (double& share : found.first_order) share /= variance;
  for (double& share : found.total) share /= variance;
  found.unexplained = fit.left_out_variance / variance;
  found.degree = fit.degree;
  return found;
}

}  // namespace

std::vector<Sensitivity> sensitivities(const Eigen::ArrayXXd& points,
                                       const Eigen::ArrayXXd& results) {
  const auto inputs = static_cast<std::size_t>(points.cols());
  assert(static_cast<std::size_t>(points.rows()) >= 2 * inputs + 2);
  assert(points.rows() == results.rows());
  const std::vector<std::optional<Fit>> fits = best_fits(points, results);
  std::vector<Sensitivity> all;
  for (Eigen::Index result = 0; result < results.cols(); ++result) {
    const std::optional<Fit>& of_result = fits[static_cast<std::size_t>(result)];
    const bool varies = vary(results.col(result));
    if (varies && of_result) {
      all.push_back(shares_of(*of_result, inputs));
    } else {
      all.push_back({.first_order = std::vector<double>(inputs, 0.0),
                     .total = std::vector<double>(inputs, 0.0),
                     .unexplained = varies ? 1.0 : 0.0});
    }
  }
  return all;
}

}  // namespace thickset
