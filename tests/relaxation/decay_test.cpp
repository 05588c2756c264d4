#include "relaxation/decay.h"

#include <algorithm>
#include <cmath>
#include <initializer_list>
#include <vector>

#include <doctest/doctest.h>
#include <boost/math/quadrature/gauss_kronrod.hpp>

using namespace thickset;
using namespace thickset::relaxation;

namespace {

struct Term {
  double left, mean;
};

RelaxationSpectrum::Terms all_of(double time_s) {
  RelaxationSpectrum::Terms terms{};
  terms.fill(time_s);
  return terms;
}

/// What one term of time_s makes of a point; where all stand still nothing is worked out.
Term of_point(const Decays& decays, Eigen::Index point) {
  if (decays.still()) return {1.0, 1.0};
  return {decays.left(0)[point], decays.mean(0)[point]};
}

/// What a term of 1 s makes of one point.
Term decayed(double z, double growth) {
  ReducedTime reduced{1};
  reduced.passed_s = z;
  reduced.growth = growth;
  reduced.shortest_s = reduced.longest_s = z;
  Decays decays{1, all_of(1.0)};
  decays.over(reduced);
  return of_point(decays, 0);
}

/// The mean share left of what comes in evenly over a step whose pace grows by exp(growth), by a
/// general quadrature: u is the clock's time to the step's end over the step.
double integrated_mean(double z, double growth) {
  const auto left = [&](double u) {
    const double passed =
        growth == 0.0 ? u : std::expm1(-growth * u) / std::expm1(-growth);  // of z
    return std::exp(-z * passed);
  };
  constexpr unsigned deepest = 8;
  constexpr double tolerance = 1e-11;  // near rounding it would halve for ever
  double sum = 0.0;
  // In pieces about as long as the integrand's own scale, so that none hides its peak.
  std::vector<double> joints{0.0};
  for (double u = std::min(1.0, 1.0 / z); u < 1.0; u *= 4.0) joints.push_back(u);
  joints.push_back(1.0);
  for (std::size_t i = 0; i + 1 < joints.size(); ++i) {
    sum += boost::math::quadrature::gauss_kronrod<double, 31>::integrate(
        left, joints[i], joints[i + 1], deepest, tolerance);
  }
  return sum;
}

constexpr double sizes[] = {0.0,   1e-18, 1e-12, 1e-9, 2e-8, 1e-5, 1e-3, 0.009,
                            0.011, 0.1,   0.5,   1.0,  3.0,  10.0, 39.0, 41.0,
                            300.0, 699.0, 701.0, 1e4,  1e8,  1e12, 1e18};

// The series end at z = 0.05 with 0.05^6/5040 left out; terms below 1e-10 count as still.
constexpr double rounding = 2e-10;
constexpr double of_series = 1e-11;

}  // namespace

TEST_CASE("decay: exp(-z) and (1 - exp(-z))/z agree with long doubles from 1e-18 to 1e18") {
  for (const double z : sizes) {
    CAPTURE(z);
    const auto exact = static_cast<long double>(z);
    const long double left = std::exp(-exact);
    const long double mean = z == 0.0 ? 1.0L : -std::expm1(-exact) / exact;
    const Term term = decayed(z, 0.0);
    // exp(-40) is nothing beside 1, to rounding.
    const double tol = z < 1e-9 ? rounding : of_series;
    CHECK(std::abs(term.left - static_cast<double>(left)) <= tol);
    CHECK(std::abs(term.mean / static_cast<double>(mean) - 1.0) <= tol);
  }
}

TEST_CASE("decay: points of any size side by side come out as each alone") {
  const auto n = static_cast<Eigen::Index>(std::size(sizes));
  for (const double growth : {-0.7, 0.0, 0.7}) {
    ReducedTime reduced{n};
    for (Eigen::Index i = 0; i < n; ++i) reduced.passed_s(i) = sizes[i];
    reduced.growth = growth;
    reduced.shortest_s = reduced.passed_s.minCoeff();
    reduced.longest_s = reduced.passed_s.maxCoeff();
    Decays decays{n, all_of(1.0)};
    decays.over(reduced);
    for (Eigen::Index i = 0; i < n; ++i) {
      CAPTURE(sizes[i]);
      CAPTURE(growth);
      const Term alone = decayed(sizes[i], growth);
      const Term beside = of_point(decays, i);
      CHECK(std::abs(beside.left - alone.left) <= rounding);
      CHECK(std::abs(beside.mean / alone.mean - 1.0) <= rounding);
    }
  }
}

TEST_CASE("decay: time is counted in times of the term") {
  ReducedTime reduced{2};
  reduced.passed_s << 3.0, 9.0;
  reduced.growth << 0.1, -0.2;
  reduced.shortest_s = 3.0;
  reduced.longest_s = 9.0;
  Decays decays{2, all_of(6.0)};
  decays.over(reduced);
  CHECK(std::abs(of_point(decays, 0).left - std::exp(-0.5)) <= rounding);
  CHECK(std::abs(of_point(decays, 1).left - std::exp(-1.5)) <= rounding);
  CHECK(std::abs(of_point(decays, 0).mean - decayed(0.5, 0.1).mean) <= rounding);
  CHECK(std::abs(of_point(decays, 1).mean - decayed(1.5, -0.2).mean) <= rounding);
}

// A general quadrature: Gauss and Kronrod's in Boost.Math.
TEST_CASE("decay: the mean follows the growth of the pace to first order, its error is of second") {
  for (const double z : {1e-4, 0.009, 0.011, 0.3, 1.0, 3.0, 10.0, 39.0, 41.0, 1e3, 1e6}) {
    CAPTURE(z);
    CHECK(std::abs(integrated_mean(z, 0.0) / decayed(z, 0.0).mean - 1.0) <= 1e-10);
    for (const double sign : {-1.0, 1.0}) {
      const auto error = [&](double size) {
        const double growth = sign * size;
        return decayed(z, growth).mean / integrated_mean(z, growth) - 1.0;
      };
      // Where z is large the mean is (1 - exp(-g))/(g z): g^2/6 is left out.
      CHECK(std::abs(error(0.1)) <= 0.01 / 5.0);
      CHECK(std::abs(error(0.01)) <= 1e-4 / 5.0);
      // At an even pace the error would be of first order.
      if (z >= 0.3) {
        const double uncorrected = decayed(z, 0.0).mean / integrated_mean(z, sign * 0.1) - 1.0;
        CHECK(std::abs(error(0.1)) < 0.2 * std::abs(uncorrected));
        const double ratio = error(0.02) / error(0.01);
        CAPTURE(ratio);
        CHECK(std::abs(ratio - 4.0) <= 0.2);
      }
    }
  }
}

TEST_CASE("decay: growth at its bounds leaves a mean between nothing and all") {
  for (const double z : sizes)
    for (const double growth : {-1.0, 1.0}) {
      CAPTURE(z);
      CAPTURE(growth);
      const Term term = decayed(z, growth);
      CHECK(term.mean > 0.0);
      CHECK(term.mean <= 1.0 + rounding);
    }
}
