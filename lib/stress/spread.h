#pragma once

namespace thickset::stress {

/// A value with the ends it may lie between: low <= value <= high.
struct Spread {
  double low;
  double value;
  double high;
};

/// A value known to plus or minus `error`, of a quantity that cannot be negative.
constexpr Spread around(double value, double error) {
  return {value > error ? value - error : 0.0, value, value + error};
}

/// The quotient of two independent spreads: its ends are the worst of both.
/// In: a >= 0, b > 0 throughout.
constexpr Spread over(Spread a, Spread b) {
  return {a.low / b.high, a.value / b.value, a.high / b.low};
}

}  // namespace thickset::stress
