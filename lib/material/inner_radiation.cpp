#include "material/inner_radiation.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <utility>
#include <vector>

#include "material/stefan_boltzmann.h"

namespace thickset {
namespace {

/// Ends of a piece are this far apart, as a ratio: the cubic is then met within 0.18 %.
constexpr double largest_ratio = 1.2;

/// a + b T + c/T^2 through the radiation's part at both ends and half way.
ThermalLaw::Piece radiation_piece(const InnerRadiation& radiation, double from_K, double to_K) {
  const auto part = [&](double T_K) { return radiative_conductivity_W_per_m_K(radiation, T_K); };
  const double middle_K = 0.5 * (from_K + to_K);
  const double p = part(from_K);
  // b (T - T_0) + c (1/T^2 - 1/T_0^2) = k(T) - k(T_0), at the middle and at the end.
  const auto reach = [&](double T_K) { return 1.0 / (T_K * T_K) - 1.0 / (from_K * from_K); };
  const double middle_slope = (part(middle_K) - p) / (middle_K - from_K);
  const double end_slope = (part(to_K) - p) / (to_K - from_K);
  const double c = (end_slope - middle_slope) /
                   (reach(to_K) / (to_K - from_K) - reach(middle_K) / (middle_K - from_K));
  const double b = end_slope - c * reach(to_K) / (to_K - from_K);
  const double a = p - b * from_K - c / (from_K * from_K);
  return {.from_K = from_K, .to_K = to_K, .a = a, .b = b, .c = c};
}

}  // namespace

double radiative_conductivity_W_per_m_K(const InnerRadiation& radiation, double T_K) {
  const double n = radiation.refractive_index;
  return 16.0 / 3.0 * n * n * stefan_boltzmann_W_per_m2_K4 * T_K * T_K * T_K /
         radiation.absorption_per_m;
}

bool takes_inner_radiation(const ThermalLaw& conduction) {
  return conduction.from_K() < inner_radiation_to_K && conduction.to_K() > inner_radiation_from_K;
}

ThermalLaw with_inner_radiation(const ThermalLaw& conduction, const InnerRadiation& radiation) {
  assert(takes_inner_radiation(conduction));
  assert(radiation.absorption_per_m > 0.0 && radiation.refractive_index > 0.0);
  std::vector<ThermalLaw::Piece> pieces;
  for (const ThermalLaw::Piece& conducted : conduction.pieces()) {
    const double from_K = std::max(conducted.from_K, inner_radiation_from_K);
    const double to_K = std::min(conducted.to_K, inner_radiation_to_K);
    if (!(from_K < to_K)) continue;
    const int parts =
        std::max(1, static_cast<int>(std::ceil(std::log(to_K / from_K) / std::log(largest_ratio))));
    const double ratio = std::pow(to_K / from_K, 1.0 / parts);
    double left_K = from_K;
    for (int part = 1; part <= parts; ++part) {
      const double right_K = part == parts ? to_K : from_K * std::pow(ratio, part);
      ThermalLaw::Piece piece = radiation_piece(radiation, left_K, right_K);
      piece.a += conducted.a;
      piece.b += conducted.b;
      piece.c += conducted.c;
      pieces.push_back(piece);
      left_K = right_K;
    }
  }
  return ThermalLaw{std::move(pieces)};
}

}  // namespace thickset
