#pragma once

#include <vector>

#include <Eigen/Core>

namespace thickset {

/// Which of some independent inputs a result hangs on: shares of its variance.
struct Sensitivity {
  std::vector<double> first_order;  ///< what each input does alone
  std::vector<double> total;        ///< and together with others: shares that count more than once
  /// What the polynomial leaves of the variance: errors at samples that it was made without. No
  /// share is known better than this.
  double unexplained = 0.0;
  int degree = 0;  ///< of the polynomial, in one input
};

/// A polynomial through sampled results, and the shares of variance that its terms carry; of
/// several results at the same points, one for each.
///
/// The terms are products of Legendre polynomials, which are orthogonal over inputs spread evenly
/// between -1 and 1: each carries the square of its coefficient. Of polynomials with at most half
/// as many terms as there are samples, and 300, the one is taken whose errors are least at samples
/// left out, one at a time (in closed form, from the leverages). Degrees are tried from 1 up, until
/// three in a row have explained no result better.
///
/// In:     points, a sample a row and an input a column, at least two samples for each input and
///         two more (asserted); results, a sample a row and a result a column.
/// Error:  exact for results that are such a polynomial; else about `unexplained`.
/// Source: [SUDRET08] shares from coefficients; [ALLEN74] errors at samples left out, both from
///         memory.
std::vector<Sensitivity> sensitivities(const Eigen::ArrayXXd& points,
                                       const Eigen::ArrayXXd& results);

}  // namespace thickset
