#pragma once

#include <compare>

namespace thickset {

/// A difference of two temperatures. Has no zero point: 1 K = 1 degree C = 1.8 degrees F, never
/// +32.
class TemperatureDifference {
 public:
  static constexpr TemperatureDifference from_K(double dT_K) { return TemperatureDifference{dT_K}; }
  static constexpr TemperatureDifference from_F(double dT_F) {
    return TemperatureDifference{dT_F / 1.8};
  }
  constexpr double in_K() const { return dT_K_; }
  constexpr double in_F() const { return dT_K_ * 1.8; }
  constexpr auto operator<=>(const TemperatureDifference&) const = default;

 private:
  explicit constexpr TemperatureDifference(double dT_K) : dT_K_{dT_K} {}
  double dT_K_;
};

/// A point on the temperature scale; the difference of two is a TemperatureDifference.
class Temperature {
 public:
  static constexpr double zero_C_in_K = 273.15;  // by definition of the degree Celsius

  static constexpr Temperature from_K(double t_K) { return Temperature{t_K}; }
  static constexpr Temperature from_C(double t_C) { return Temperature{t_C + zero_C_in_K}; }
  static constexpr Temperature from_F(double t_F) { return from_C((t_F - 32.0) / 1.8); }
  constexpr double in_K() const { return t_K_; }
  constexpr double in_C() const { return t_K_ - zero_C_in_K; }
  constexpr double in_F() const { return in_C() * 1.8 + 32.0; }
  constexpr auto operator<=>(const Temperature&) const = default;

  friend constexpr TemperatureDifference operator-(Temperature a, Temperature b) {
    return TemperatureDifference::from_K(a.t_K_ - b.t_K_);
  }
  friend constexpr Temperature operator+(Temperature a, TemperatureDifference b) {
    return Temperature{a.t_K_ + b.in_K()};
  }
  friend constexpr Temperature operator-(Temperature a, TemperatureDifference b) {
    return Temperature{a.t_K_ - b.in_K()};
  }

 private:
  explicit constexpr Temperature(double t_K) : t_K_{t_K} {}
  double t_K_;
};

/// The two scales a controller, a file or a person may use.
enum class Degrees { celsius, fahrenheit };

constexpr double in_degrees(Temperature t, Degrees degrees) {
  return degrees == Degrees::celsius ? t.in_C() : t.in_F();
}
constexpr Temperature from_degrees(double value, Degrees degrees) {
  return degrees == Degrees::celsius ? Temperature::from_C(value) : Temperature::from_F(value);
}
constexpr double in_degrees(TemperatureDifference d, Degrees degrees) {
  return degrees == Degrees::celsius ? d.in_K() : d.in_F();
}
constexpr TemperatureDifference difference_from_degrees(double value, Degrees degrees) {
  return degrees == Degrees::celsius ? TemperatureDifference::from_K(value)
                                     : TemperatureDifference::from_F(value);
}
/// "C" or "F".
constexpr const char* letter(Degrees degrees) {
  return degrees == Degrees::celsius ? "C" : "F";
}

}  // namespace thickset
