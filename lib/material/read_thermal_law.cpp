#include "material/read_thermal_law.h"

#include <cassert>
#include <cmath>
#include <string_view>
#include <vector>

#include <fmt/format.h>

#include "base/problems.h"
#include "base/text.h"
#include "material/stretch.h"
#include "units/read_quantity.h"

namespace thickset {
namespace {

// Wider than anything a kiln meets; keeps T^2 and 1/T^2 far from overflow.
constexpr double lowest_range_K = 1.0;
constexpr double highest_range_K = 3000.0;
// Ends written once in K and once in C differ by rounding; closer than this they meet.
constexpr double meeting_gap_K = 1e-6;

bool is_letter(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

const char* unit_name(ThermalQuantity quantity) {
  return quantity == ThermalQuantity::conductivity ? "W/(m K)" : "J/(kg K)";
}

double read_value(ThermalQuantity quantity, const Stretch& stretch) {
  return quantity == ThermalQuantity::conductivity
             ? read_conductivity_W_per_m_K(stretch.text(), stretch.place())
             : read_heat_capacity_J_per_kg_K(stretch.text(), stretch.place());
}

/// What one of the unit is in SI units.
double read_unit(ThermalQuantity quantity, const Stretch& unit) {
  if (unit.empty()) {
    unit.refuse("the unit is missing",
                fmt::format("write {} after the numbers", unit_name(quantity)));
  }
  return read_value(quantity, Stretch{fmt::format("1 {}", unit.text()), unit.place()});
}

/// One line of the key, read by one of the three forms.
class Line {
 public:
  Line(const Entry& entry, ThermalQuantity quantity, const ThermalLimits& limits)
      : key_{entry.key},
        whole_{entry.value, entry.value_place},
        quantity_{quantity},
        limits_{limits} {}

  bool has_range() const { return !is_table() && range_start() != std::string_view::npos; }

  /// For a line that stands alone.
  ThermalLaw constant_or_table() const {
    if (is_table()) return table();
    if (names_T()) {
      whole_.refuse("a law in T without the range it holds for",
                    "add the range, such as \"for 20..500 C\"");
    }
    const double value = read_value(quantity_, whole_);
    check(value, whole_.place(), "");
    return ThermalLaw::constant(value);
  }

  /// For a line that has a range.
  ThermalLaw::Piece piece() const {
    Stretch rest = whole_;
    const Stretch law = rest.take(range_start());
    rest.skip(std::string_view{"for"}.size());
    ThermalLaw::Piece piece = terms(law);
    read_range(rest, piece);
    check_piece(piece);
    return piece;
  }

  Place place() const { return whole_.place(); }

 private:
  bool is_table() const { return whole_.starts_with("table"); }

  /// Where the word "for" stands.
  std::size_t range_start() const {
    const std::string_view text = whole_.text();
    for (std::size_t i = text.find("for"); i != text.npos; i = text.find("for", i + 1)) {
      const bool begins = i == 0 || !is_letter(text[i - 1]);
      const bool ends = i + 3 >= text.size() || !is_letter(text[i + 3]);
      if (begins && ends) return i;
    }
    return std::string_view::npos;
  }

  bool names_T() const {
    const std::string_view text = whole_.text();
    for (std::size_t i = text.find('T'); i != text.npos; i = text.find('T', i + 1)) {
      const bool begins = i == 0 || !is_letter(text[i - 1]);
      const bool ends = i + 1 == text.size() || !is_letter(text[i + 1]);
      if (begins && ends) return true;
    }
    return false;
  }

  std::string law_form() const {
    return fmt::format("write a law as \"a + b T - c / T^2 {}\", T in kelvin",
                       unit_name(quantity_));
  }
  std::string table_form() const {
    return fmt::format("write a table as \"table 20 C 1.05, 516 C 1.40 {}\"", unit_name(quantity_));
  }

  /// The piece's a, b and c, in SI units.
  ThermalLaw::Piece terms(Stretch rest) const {
    ThermalLaw::Piece piece{.from_K = 0.0, .to_K = 0.0, .a = 0.0};
    bool given[3] = {false, false, false};
    double* const coefficients[3] = {&piece.a, &piece.b, &piece.c};
    for (bool first = true; first || rest.starts_with("+") || rest.starts_with("-");
         first = false) {
      const double sign = rest.starts_with("-") ? -1.0 : 1.0;
      if (rest.starts_with("+") || rest.starts_with("-")) rest.skip(1);
      const Stretch term = rest;
      const double number = sign * rest.take_number(law_form());
      const std::size_t power = take_power(rest);
      if (given[power]) {
        constexpr const char* names[3] = {"constant", "T", "/ T^2"};
        term.refuse(fmt::format("a second {} term", names[power]), law_form());
      }
      given[power] = true;
      *coefficients[power] = number;
    }
    const double unit = read_unit(quantity_, rest);
    for (double* const coefficient : coefficients) *coefficient *= unit;
    return piece;
  }

  /// Which coefficient the number before `rest` is: 0 for a, 1 for "T", 2 for "/ T^2".
  std::size_t take_power(Stretch& rest) const {
    Stretch ahead = rest;
    const bool divides = ahead.starts_with("/");
    if (divides || ahead.starts_with("*")) ahead.skip(1);
    if (!ahead.starts_with("T") || (ahead.text().size() > 1 && is_letter(ahead.text()[1])))
      return 0;
    const Stretch term = rest;
    ahead.skip(1);
    const bool has_exponent = ahead.starts_with("^");
    if (has_exponent) ahead.skip(1);
    const bool squared = has_exponent && ahead.starts_with("2");
    if (squared) ahead.skip(1);
    if (divides != squared || divides != has_exponent) {
      term.refuse("a power of T that is not known here", law_form());
    }
    rest = ahead;
    return divides ? 2 : 1;
  }

  /// "150..850 K" or "20 C..500 C".
  void read_range(const Stretch& range, ThermalLaw::Piece& piece) const {
    const std::string_view text = range.text();
    const std::size_t dots = text.find("..");
    if (dots == text.npos) {
      range.refuse(fmt::format("{} is not a range", in_quotes(text)),
                   "write a range as \"20..500 C\"");
    }
    Stretch high = range;
    const Stretch low = high.take(dots);
    high.skip(2);
    std::size_t unit = high.text().size();
    while (unit > 0 && !is_digit(high.text()[unit - 1]) && high.text()[unit - 1] != '.') --unit;
    const bool low_has_unit =
        !low.empty() && !is_digit(low.text().back()) && low.text().back() != '.';
    const std::string low_text = low_has_unit
                                     ? std::string{low.text()}
                                     : fmt::format("{} {}", low.text(), high.text().substr(unit));
    piece.from_K = read_temperature(low_text, low.place()).in_K();
    piece.to_K = read_temperature(high.text(), high.place()).in_K();
    if (!(piece.from_K < piece.to_K)) {
      range.refuse("the range does not rise", "write the lower temperature first");
    }
    if (!(piece.from_K >= lowest_range_K && piece.to_K <= highest_range_K)) {
      range.refuse(fmt::format("the range leaves {:g}..{:g} K", lowest_range_K, highest_range_K),
                   "check the temperatures and their unit");
    }
  }

  ThermalLaw table() const {
    Stretch rest = whole_;
    rest.skip(std::string_view{"table"}.size());
    std::vector<ThermalLaw::Point> points;
    std::vector<Place> places;
    double unit = 1.0;
    for (bool more = true; more;) {
      const std::size_t comma = rest.text().find(',');
      more = comma != std::string_view::npos;
      Stretch point = rest.take(more ? comma : rest.text().size());
      if (more) rest.skip(1);
      places.push_back(point.place());
      points.push_back(table_point(point));
      if (more && !point.empty()) {
        point.refuse(fmt::format("{} after a value of a table", in_quotes(point.text())),
                     "part the points by commas and give the unit once, at the end");
      }
      if (!more) unit = read_unit(quantity_, point);
    }
    if (points.size() < 2) whole_.refuse("a table of one point", "give two points or a constant");
    for (std::size_t i = 0; i < points.size(); ++i) {
      points[i].value *= unit;
      if (i > 0 && !(points[i].T_K > points[i - 1].T_K)) {
        throw Error{places[i],
                    "a table whose temperatures do not rise",
                    "order its points from cold to hot"};
      }
      check(points[i].value, places[i], at_temperature(points[i].T_K));
    }
    return ThermalLaw::table(points);
  }

  /// Temperature and number a point begins with; what is left of it stays in `point`.
  ThermalLaw::Point table_point(Stretch& point) const {
    Stretch ahead = point;
    if (ahead.starts_with("-")) ahead.skip(1);
    ahead.take_number(table_form());
    if (ahead.empty() || is_digit(ahead.text().front())) {
      point.refuse("a temperature of the table has no unit", table_form());
    }
    const std::size_t unit_end = ahead.text().find_first_of(" \t");
    const std::size_t before_unit =
        static_cast<std::size_t>(ahead.text().data() - point.text().data());
    const std::size_t length =
        unit_end == std::string_view::npos ? point.text().size() : before_unit + unit_end;
    const Stretch temperature = point.take(length);
    const double T_K = read_temperature(temperature.text(), temperature.place()).in_K();
    return {T_K, point.take_number(table_form())};
  }

  void check_piece(const ThermalLaw::Piece& piece) const {
    double extremes_K[3] = {piece.from_K, piece.to_K, piece.from_K};
    // d/dT (a + b T + c/T^2) = b - 2 c/T^3 vanishes once, at T^3 = 2 c/b.
    const double turning_K = piece.b == 0.0 ? 0.0 : std::cbrt(2.0 * piece.c / piece.b);
    if (turning_K > piece.from_K && turning_K < piece.to_K) extremes_K[2] = turning_K;
    for (const double T_K : extremes_K) check(piece.at(T_K), whole_.place(), at_temperature(T_K));
  }

  static std::string at_temperature(double T_K) {
    return fmt::format(" at {:.6g} K ({:.6g} C)", T_K, Temperature::from_K(T_K).in_C());
  }

  void check(double value, const Place& place, std::string_view where) const {
    const char* const unit = unit_name(quantity_);
    if (!(value > 0.0 && std::isfinite(value))) {
      throw Error{place,
                  fmt::format("{} is {:.6g} {}{}, not positive", key_, value, unit, where),
                  "check the numbers, their signs and the range"};
    }
    if (!(value >= limits_.low && value <= limits_.high)) {
      throw Error{place,
                  fmt::format("{} {:.6g} {}{} is outside {:g}..{:g} {}",
                              key_,
                              value,
                              unit,
                              where,
                              limits_.low,
                              limits_.high,
                              unit),
                  "check the numbers and the unit"};
    }
  }

  const std::string& key_;
  Stretch whole_;
  ThermalQuantity quantity_;
  ThermalLimits limits_;
};

/// Adds a piece to those before it, which it must meet.
void join(std::vector<ThermalLaw::Piece>& pieces, ThermalLaw::Piece piece, const Place& place) {
  if (!pieces.empty()) {
    const double end_K = pieces.back().to_K;
    if (!(std::abs(piece.from_K - end_K) <= meeting_gap_K)) {
      throw Error{place,
                  fmt::format("this piece begins at {:.6g} K but the one before ends at {:.6g} K",
                              piece.from_K,
                              end_K),
                  "order the pieces from cold to hot and let them meet end to end"};
    }
    piece.from_K = end_K;
  }
  pieces.push_back(piece);
}

}  // namespace

ThermalLaw read_thermal_law(std::span<const Entry> lines,
                            ThermalQuantity quantity,
                            const ThermalLimits& limits) {
  assert(!lines.empty() && limits.low > 0.0);
  const Line first{lines.front(), quantity, limits};
  if (lines.size() == 1 && !first.has_range()) return first.constant_or_table();
  Problems problems;
  std::vector<ThermalLaw::Piece> pieces;
  bool all_read = true;
  for (const Entry& entry : lines) {
    const Line line{entry, quantity, limits};
    try {
      if (!line.has_range()) {
        throw Error{line.place(),
                    fmt::format("{} is given twice", entry.key),
                    "keep one, or give each line a range such as \"for 20..500 C\""};
      }
      const ThermalLaw::Piece piece = line.piece();
      // After a line that could not be read the next cannot meet its end.
      if (all_read) join(pieces, piece, line.place());
    } catch (const Error& error) {
      problems.add(error);
      all_read = false;
    }
  }
  problems.throw_if_any();
  return ThermalLaw{std::move(pieces)};
}

std::string thermal_law_text(const ThermalLaw& law, ThermalQuantity quantity) {
  if (law.is_constant())
    return fmt::format("{:.6g} {}", law.pieces().front().a, unit_name(quantity));
  std::string text;
  const auto append = [&text](double number, const char* after) {
    if (number == 0.0) return;
    text += fmt::format(" {} {:.6g}{}", number < 0.0 ? '-' : '+', std::abs(number), after);
  };
  for (const ThermalLaw::Piece& piece : law.pieces()) {
    text += fmt::format("{}{:.6g}", text.empty() ? "" : ", then ", piece.a);
    append(piece.b, " T");
    append(piece.c, " / T^2");
    text += fmt::format(" {} for {:.6g}..{:.6g} K", unit_name(quantity), piece.from_K, piece.to_K);
  }
  return text;
}

}  // namespace thickset
