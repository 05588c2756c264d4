#pragma once

#include <compare>

namespace thickset {

/// A length. One inch is 25.4 mm exactly.
class Length {
 public:
  static constexpr Length from_m(double length_m) { return Length{length_m}; }
  static constexpr Length from_mm(double length_mm) { return Length{length_mm * 1e-3}; }
  static constexpr Length from_inch(double length_inch) { return Length{length_inch * 0.0254}; }
  constexpr double in_m() const { return length_m_; }
  constexpr double in_mm() const { return length_m_ * 1e3; }
  constexpr double in_inch() const { return length_m_ / 0.0254; }
  constexpr auto operator<=>(const Length&) const = default;

 private:
  explicit constexpr Length(double length_m) : length_m_{length_m} {}
  double length_m_;
};

/// The unit lengths are shown in.
enum class Lengths { millimetre, inch };

constexpr double in_lengths(Length length, Lengths unit) {
  return unit == Lengths::millimetre ? length.in_mm() : length.in_inch();
}
constexpr const char* unit_name(Lengths unit) {
  return unit == Lengths::millimetre ? "mm" : "in";
}

}  // namespace thickset
