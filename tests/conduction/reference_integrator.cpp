#include "conduction/reference_integrator.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include <boost/numeric/odeint.hpp>
#include <boost/numeric/ublas/matrix.hpp>
#include <boost/numeric/ublas/vector.hpp>

namespace reference_integrator {
namespace {

using Vector = boost::numeric::ublas::vector<double>;
using Matrix = boost::numeric::ublas::matrix<double>;

constexpr double sigma = 5.670374419e-8;

struct Nodes {
  int power;
  std::size_t n;
  double step_m() const { return radius_m / static_cast<double>(n - 1); }
  double area(std::size_t i) const {  // between nodes i and i + 1, over the outer area
    return std::pow((static_cast<double>(i) + 0.5) * step_m() / radius_m, power);
  }
  double volume_m(std::size_t i) const {
    const double inner = i == 0 ? 0.0 : (static_cast<double>(i) - 0.5) * step_m();
    const double outer = i + 1 == n ? radius_m : (static_cast<double>(i) + 0.5) * step_m();
    return (std::pow(outer, power + 1) - std::pow(inner, power + 1)) /
           ((power + 1) * std::pow(radius_m, power));
  }
};

/// Inverse of the matrix that says how much of each cell's heat each node stands for, in 1/m: a
/// slab's rows are compact, a rod's and ball's hold the cells' volumes. By elimination without
/// pivoting.
Matrix inverse_of_mass(const Nodes& nodes) {
  const std::size_t n = nodes.n;
  Matrix left(n, n, 0.0);
  Matrix inverse(n, n, 0.0);
  for (std::size_t i = 0; i < n; ++i) {
    inverse(i, i) = 1.0;
    left(i, i) = nodes.volume_m(i);
    if (nodes.power != 0) continue;
    const double other = i + 1 == n ? 1.0 / 6.0 : 1.0 / 12.0;
    const double own = i == 0 ? 5.0 / 12.0 : i + 1 == n ? 1.0 / 3.0 : 10.0 / 12.0;
    left(i, i) = own * nodes.step_m();
    if (i > 0) left(i, i - 1) = other * nodes.step_m();
    if (i + 1 < n) left(i, i + 1) = other * nodes.step_m();
  }
  for (std::size_t pivot = 0; pivot < n; ++pivot) {
    const double by_pivot = 1.0 / left(pivot, pivot);
    for (std::size_t j = 0; j < n; ++j) {
      left(pivot, j) *= by_pivot;
      inverse(pivot, j) *= by_pivot;
    }
    for (std::size_t i = 0; i < n; ++i) {
      const double factor = left(i, pivot);
      if (i == pivot || factor == 0.0) continue;
      for (std::size_t j = 0; j < n; ++j) {
        left(i, j) -= factor * left(pivot, j);
        inverse(i, j) -= factor * inverse(pivot, j);
      }
    }
  }
  return inverse;
}

/// Heat into each node per outer area, and its derivatives by the temperatures.
///
/// Time is one more unknown, the last: the integrator then sees equations free of time. Where it is
/// given the derivative by time apart, its error falls far slower than its order says.
struct Equations {
  Nodes nodes;
  Matrix by_mass;
  double kiln_K, kiln_slope_K_per_s, since_s;

  static double k(double T) { return k_a + k_b * T; }
  static double c(double T) { return c_a + c_b * T + c_c / (T * T); }
  static double dc_dT(double T) { return c_b - 2.0 * c_c / (T * T * T); }
  double air_K(double t) const { return kiln_K + kiln_slope_K_per_s * (t - since_s); }

  Vector heat(const Vector& T) const {
    Vector q(nodes.n, 0.0);
    for (std::size_t i = 0; i + 1 < nodes.n; ++i) {
      const double mean_k = 0.5 * (k(T[i]) + k(T[i + 1]));  // exact for a straight line
      const double flow = nodes.area(i) * mean_k * (T[i + 1] - T[i]) / nodes.step_m();
      q[i] += flow;
      q[i + 1] -= flow;
    }
    const double s = T[nodes.n - 1];
    const double a = air_K(T[nodes.n]);
    q[nodes.n - 1] +=
        film_W_per_m2_K * (a - s) + emissivity * sigma * (std::pow(a, 4) - std::pow(s, 4));
    return q;
  }

  void operator()(const Vector& T, Vector& dT_dt, double /*t*/) const {
    const Vector q = boost::numeric::ublas::prod(by_mass, heat(T));
    for (std::size_t i = 0; i < nodes.n; ++i) dT_dt[i] = q[i] / (density_kg_per_m3 * c(T[i]));
    dT_dt[nodes.n] = 1.0;
  }
};

struct Jacobian {
  Equations f;
  void operator()(const Vector& T, Matrix& J, double /*t*/, Vector& df_dt) const {
    const std::size_t n = f.nodes.n;
    J.clear();
    df_dt.clear();
    Matrix flow(n, n + 1, 0.0);  // derivatives of the heat by temperatures and time
    for (std::size_t i = 0; i + 1 < n; ++i) {
      const double g = f.nodes.area(i) / f.nodes.step_m();
      const double by_left = -g * Equations::k(T[i]);  // d flow / d T_i
      const double by_right = g * Equations::k(T[i + 1]);
      flow(i, i) += by_left;
      flow(i, i + 1) += by_right;
      flow(i + 1, i) -= by_left;
      flow(i + 1, i + 1) -= by_right;
    }
    const double s = T[n - 1];
    flow(n - 1, n - 1) -= film_W_per_m2_K + 4.0 * emissivity * sigma * s * s * s;
    const double a = f.air_K(T[n]);
    flow(n - 1, n) =
        (film_W_per_m2_K + 4.0 * emissivity * sigma * a * a * a) * f.kiln_slope_K_per_s;
    const Matrix by_T = boost::numeric::ublas::prod(f.by_mass, flow);
    const Vector q = boost::numeric::ublas::prod(f.by_mass, f.heat(T));
    for (std::size_t i = 0; i < n; ++i) {
      const double capacity = density_kg_per_m3 * Equations::c(T[i]);
      for (std::size_t j = 0; j <= n; ++j) J(i, j) = by_T(i, j) / capacity;
      J(i, i) -= q[i] * density_kg_per_m3 * Equations::dc_dT(T[i]) / (capacity * capacity);
    }
  }
};

}  // namespace

std::vector<std::vector<double>> integrated(int power, std::size_t n, double tolerance) {
  namespace odeint = boost::numeric::odeint;
  const Nodes nodes{power, n};
  std::vector<std::vector<double>> profiles;
  Vector T(n + 1, start_K);
  for (std::size_t i = 0; i + 1 < kiln.size(); ++i) {
    const double from_s = kiln[i].time_s;
    const double to_s = kiln[i + 1].time_s;
    if (from_s == to_s) continue;
    const double slope_K_per_s = (kiln[i + 1].T_K - kiln[i].T_K) / (to_s - from_s);
    const Equations f{nodes, inverse_of_mass(nodes), kiln[i].T_K, slope_K_per_s, from_s};
    T[n] = from_s;
    odeint::integrate_adaptive(
        odeint::make_controlled<odeint::rosenbrock4<double>>(tolerance, tolerance),
        std::make_pair(f, Jacobian{f}),
        T,
        from_s,
        to_s,
        1.0);
    profiles.emplace_back(T.begin(), T.end() - 1);
  }
  return profiles;
}

double jacobian_error(int power, std::size_t n) {
  const Nodes nodes{power, n};
  const Equations f{nodes, inverse_of_mass(nodes), 700.0, -0.1, 0.0};
  constexpr double t_s = 5.0;
  Vector T(n + 1);
  for (std::size_t i = 0; i < n; ++i) T[i] = 800.0 - 3.0 * static_cast<double>(i * i);
  T[n] = t_s;
  Matrix J(n + 1, n + 1);
  Vector df_dt(n + 1), up(n + 1), down(n + 1);
  constexpr double h = 1e-3;
  Jacobian{f}(T, J, t_s, df_dt);
  double largest = 0.0;
  double largest_error = 0.0;
  for (std::size_t j = 0; j <= n; ++j) {
    Vector high = T;
    Vector low = T;
    high[j] += h;
    low[j] -= h;
    f(high, up, t_s);
    f(low, down, t_s);
    for (std::size_t i = 0; i <= n; ++i) {
      largest = std::max(largest, std::abs(J(i, j)));
      largest_error = std::max(largest_error, std::abs((up[i] - down[i]) / (2.0 * h) - J(i, j)));
    }
  }
  return largest_error / largest;
}

}  // namespace reference_integrator
