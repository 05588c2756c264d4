#pragma once

#include "base/error.h"
#include "base/place.h"

#include <string>
#include <string_view>
#include <vector>

/// The form all quantities share: a number, then a unit. Used by read_quantity.cpp alone.
namespace thickset {

/// What a kind of quantity is called and how it is written, for messages.
struct QuantityKind {
  std::string_view example;             ///< "a length such as 100mm"
  std::vector<std::string_view> offer;  ///< put behind a bare number: {"mm", "cm", "in"}
  std::string_view known;               ///< "mm, cm, m, in, ft"
};

/// A text taken apart, the unit in its plain spelling.
struct NumberAndUnit {
  double value;
  std::string number;  ///< as the user typed it
  std::string unit;    ///< empty where there is none
  std::string text;    ///< all of it
};

/// The text without the many ways to write one sign: "m²", "m^2" are m2; "K⁻¹" is K-1; "W/(m·K)" is
/// W/(m K); minus signs, degree signs, inch signs, times signs and odd spaces become the usual
/// ones.
std::string plain_spelling(std::string_view text);

/// The same for what stands behind a number, with no more spaces than a unit needs.
std::string plain_unit(std::string_view unit);

/// Takes a number from the front of `rest` (of a plain_spelling) and the spaces after it.
///
/// Throws: Error where there is none, it is hexadecimal, has a decimal comma, or is out of range.
struct Number {
  double value;
  std::string text;
};
Number take_number(std::string_view& rest,
                   std::string_view whole,
                   const Place& place,
                   const QuantityKind& kind);

/// Throws: Error as take_number does, or where the text is empty or far too long.
NumberAndUnit split_number_and_unit(std::string_view text,
                                    const Place& place,
                                    const QuantityKind& kind);

/// "100 has no unit; write 100mm, 100cm or 100in".
Error no_unit(const std::string& number, const Place& place, const QuantityKind& kind);

/// "unknown unit "xx" in "100xx"; known: mm, cm, m, in, ft".
Error unknown_unit(const std::string& unit,
                   const std::string& text,
                   const Place& place,
                   const QuantityKind& kind);

/// Throws: Error where value_SI became infinite on its way to SI units.
void check_finite(double value_SI, std::string_view text, const Place& place);

}  // namespace thickset
