#pragma once

#include <span>
#include <string>
#include <vector>

namespace thickset {

/// Conductivity or heat capacity against temperature: pieces of a + b T + c/T^2, T in kelvin.
///
/// Pieces join end to end; the value may jump where they join (the published heat capacity of
/// soda-lime glass does, at 850 K). Below the first and above the last piece the end value holds:
/// callers that care ask covers().
class ThermalLaw {
 public:
  struct Piece {
    double from_K;
    double to_K;
    double a;
    double b = 0.0;
    double c = 0.0;

    double at(double T_K) const { return a + b * T_K + c / (T_K * T_K); }
    double slope(double T_K) const { return b - 2.0 * c / (T_K * T_K * T_K); }
    double antiderivative(double T_K) const { return (a + 0.5 * b * T_K) * T_K - c / T_K; }
  };

  /// The same value at every temperature.
  static ThermalLaw constant(double value);

  /// Straight lines between (T_K, value) points; T_K rising, at least two points.
  struct Point {
    double T_K;
    double value;
  };
  static ThermalLaw table(std::span<const Point> points);

  /// The same law with every value so many times as high.
  ThermalLaw times(double factor) const;

  /// Throws nothing: order and positive values are asserted; the reader has checked them.
  explicit ThermalLaw(std::vector<Piece> pieces);

  /// Value and integral at once.
  struct Value {
    double at;
    double integral;
  };
  Value value(double T_K) const { return piece_at(T_K).value(T_K); }
  double at(double T_K) const { return value(T_K).at; }
  /// Derivative of the law by temperature; 0 outside its range.
  double slope(double T_K) const { return piece_at(T_K).piece.slope(T_K); }

  /// Integral of the law from 0 K (the first piece's end value held below it) up to T_K. Continuous
  /// and rising: enthalpy for a heat capacity, the Kirchhoff variable for a conductivity.
  double integral(double T_K) const { return value(T_K).integral; }

  /// One piece with its part of the integral, for loops over many temperatures.
  struct WholePiece {
    Piece piece;
    double offset;
    bool covers(double T_K) const { return T_K >= piece.from_K && T_K < piece.to_K; }
    Value value(double T_K) const {
      const double inverse = T_K != 0.0 ? 1.0 / T_K : 0.0;  // 0 K is below any law's range
      return {piece.a + piece.b * T_K + piece.c * inverse * inverse,
              offset + (piece.a + 0.5 * piece.b * T_K) * T_K - piece.c * inverse};
    }
  };
  /// The piece that covers this temperature; beyond the law's range that of its held end value.
  const WholePiece& piece_at(double T_K) const {
    for (const WholePiece& whole : whole_pieces_) {
      if (whole.covers(T_K)) return whole;
    }
    return whole_pieces_.front();  // of what is not a number
  }

  bool covers(double T_K) const {
    return T_K >= pieces_.front().from_K && T_K <= pieces_.back().to_K;
  }
  double from_K() const { return pieces_.front().from_K; }
  double to_K() const { return pieces_.back().to_K; }
  /// Where the value jumps, rising.
  std::span<const double> jumps_K() const { return jumps_K_; }
  bool is_constant() const { return constant_; }
  std::span<const Piece> pieces() const { return pieces_; }

 private:
  std::vector<Piece> pieces_;
  std::vector<WholePiece> whole_pieces_;  ///< and after them what holds below and above
  std::vector<double> jumps_K_;
  bool constant_ = false;
};

}  // namespace thickset
