#include "material/thermal_law.h"

#include <cassert>
#include <cmath>
#include <limits>
#include <utility>

namespace thickset {
namespace {

constexpr double smallest_jump = 1e-3;  // as a share; below it is a joint read from few digits

}  // namespace

ThermalLaw ThermalLaw::constant(double value) {
  // The range of a constant is what any glass, mould or kiln can reach.
  return ThermalLaw{{Piece{.from_K = 1.0, .to_K = 3000.0, .a = value}}};
}

ThermalLaw ThermalLaw::table(std::span<const Point> points) {
  assert(points.size() >= 2);
  std::vector<Piece> pieces;
  for (std::size_t i = 1; i < points.size(); ++i) {
    const Point& left = points[i - 1];
    const Point& right = points[i];
    assert(left.T_K < right.T_K);
    const double slope = (right.value - left.value) / (right.T_K - left.T_K);
    pieces.push_back(
        {.from_K = left.T_K, .to_K = right.T_K, .a = left.value - slope * left.T_K, .b = slope});
  }
  return ThermalLaw{std::move(pieces)};
}

ThermalLaw::ThermalLaw(std::vector<Piece> pieces) : pieces_{std::move(pieces)} {
  assert(!pieces_.empty());
  const Piece& first = pieces_.front();
  double integral_there = first.at(first.from_K) * first.from_K;
  for (const Piece& piece : pieces_) {
    assert(piece.from_K < piece.to_K);
    const double offset = integral_there - piece.antiderivative(piece.from_K);
    whole_pieces_.push_back({piece, offset});
    integral_there = offset + piece.antiderivative(piece.to_K);
  }
  const auto hold = [&](const Piece& held, double integral, double at_K) {
    whole_pieces_.push_back({held, integral - held.antiderivative(at_K)});
  };
  constexpr double infinity = std::numeric_limits<double>::infinity();
  const double first_value = first.at(from_K());
  hold({.from_K = -infinity, .to_K = from_K(), .a = first_value}, first_value * from_K(), from_K());
  const double last_value = pieces_.back().at(to_K());
  hold({.from_K = to_K(), .to_K = infinity, .a = last_value}, integral_there, to_K());
  for (std::size_t i = 1; i < pieces_.size(); ++i) {
    const double join_K = pieces_[i].from_K;
    const double below = pieces_[i - 1].at(join_K);
    if (std::abs(pieces_[i].at(join_K) - below) > smallest_jump * below) jumps_K_.push_back(join_K);
  }
  constant_ = pieces_.size() == 1 && first.b == 0.0 && first.c == 0.0;
}

ThermalLaw ThermalLaw::times(double factor) const {
  assert(factor > 0.0);
  std::vector<Piece> scaled = pieces_;
  for (Piece& piece : scaled) {
    piece.a *= factor;
    piece.b *= factor;
    piece.c *= factor;
  }
  return ThermalLaw{std::move(scaled)};
}

}  // namespace thickset
