#include "material/thermal_law.h"

#include <cassert>
#include <utility>

namespace thickset {

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
    offset_.push_back(integral_there - piece.antiderivative(piece.from_K));
    integral_there = offset_.back() + piece.antiderivative(piece.to_K);
  }
  constant_ = pieces_.size() == 1 && first.b == 0.0 && first.c == 0.0;
}

ThermalLaw::Value ThermalLaw::value_beyond_first(double T_K) const {
  if (T_K < from_K()) {
    const double held = pieces_.front().at(from_K());
    return {held, held * T_K};
  }
  if (T_K > to_K()) {
    const double held = pieces_.back().at(to_K());
    return {held, offset_.back() + pieces_.back().antiderivative(to_K()) + held * (T_K - to_K())};
  }
  std::size_t i = 0;
  while (i + 1 < pieces_.size() && T_K >= pieces_[i].to_K) ++i;
  return {pieces_[i].at(T_K), offset_[i] + pieces_[i].antiderivative(T_K)};
}

}  // namespace thickset
