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

  /// Throws nothing: order and positive values are asserted; the reader has checked them.
  explicit ThermalLaw(std::vector<Piece> pieces);

  /// Value and integral at once.
  struct Value {
    double at;
    double integral;
  };
  Value value(double T_K) const {
    const Piece& first = pieces_.front();  // most temperatures lie here: kept inline for speed
    if (T_K >= first.from_K && T_K < first.to_K) {
      return {first.at(T_K), offset_.front() + first.antiderivative(T_K)};
    }
    return value_beyond_first(T_K);
  }
  double at(double T_K) const { return value(T_K).at; }

  /// Integral of the law from 0 K (the first piece's end value held below it) up to T_K. Continuous
  /// and rising: enthalpy for a heat capacity, the Kirchhoff variable for a conductivity.
  double integral(double T_K) const { return value(T_K).integral; }

  bool covers(double T_K) const {
    return T_K >= pieces_.front().from_K && T_K <= pieces_.back().to_K;
  }
  double from_K() const { return pieces_.front().from_K; }
  double to_K() const { return pieces_.back().to_K; }
  bool is_constant() const { return constant_; }
  std::span<const Piece> pieces() const { return pieces_; }

 private:
  Value value_beyond_first(double T_K) const;

  std::vector<Piece> pieces_;
  std::vector<double> offset_;  ///< integral(T) = offset_[i] + pieces_[i].antiderivative(T)
  bool constant_ = false;
};

}  // namespace thickset
