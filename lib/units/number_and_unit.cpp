#include "units/number_and_unit.h"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <system_error>
#include <utility>

#include <fmt/format.h>

#include "base/text.h"

namespace thickset {

namespace {

constexpr std::size_t longest_quantity = 100;

constexpr std::pair<std::string_view, std::string_view> plain_signs[] = {
    {"\u2212", "-"},       {"\u2013", "-"},       {"\u207B", "-"},
    {"\u00B9", "1"},  // minus, superscripts
    {"\u00B2", "2"},       {"\u00B3", "3"},       {"\u2070", "0"},
    {"\u2074", "4"},  //
    {"\u2075", "5"},       {"\u2076", "6"},       {"\u2077", "7"},
    {"\u2078", "8"},                                                     //
    {"\u2079", "9"},       {"\u207A", "+"},       {"^", ""},             //
    {"\u2103", "\u00B0C"}, {"\u2109", "\u00B0F"}, {"\u00BA", "\u00B0"},  // degrees
    {"\u02DA", "\u00B0"},  {"\u212A", "K"},                              //
    {"\u2033", "\""},      {"\u201D", "\""},      {"\u2032", "'"},
    {"\u2019", "'"},                                                // inch and foot
    {"\u00D7", "x"},       {"\u00B7", "*"},       {"\u22C5", "*"},  // times
    {"\u2044", "/"},       {"\u2215", "/"},                         // fraction bars
    {"\u00A0", " "},       {"\u2009", " "},       {"\u202F", " "},
    {"\t", " "},  // spaces
};

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

std::size_t count_digits(std::string_view text) {
  return static_cast<std::size_t>(std::find_if_not(text.begin(), text.end(), is_digit) -
                                  text.begin());
}

/// How many characters at the front are a decimal number; 0 where there is none.
std::size_t number_length(std::string_view text) {
  std::size_t at = !text.empty() && (text[0] == '+' || text[0] == '-') ? 1 : 0;
  const std::size_t whole = count_digits(text.substr(at));
  at += whole;
  if (at < text.size() && text[at] == '.') {
    const std::size_t decimals = count_digits(text.substr(at + 1));
    if (whole + decimals == 0) return 0;
    at += 1 + decimals;
  } else if (whole == 0) {
    return 0;
  }
  if (at < text.size() && (text[at] == 'e' || text[at] == 'E')) {
    std::size_t digits_at = at + 1;
    if (digits_at < text.size() && (text[digits_at] == '+' || text[digits_at] == '-')) ++digits_at;
    const std::size_t digits = count_digits(text.substr(digits_at));
    if (digits > 0) at = digits_at + digits;
  }
  return at;
}

/// "0x1F": a zero, an x and a digit of base 16; but "0 x10-6/K" is a zero times a power of ten.
bool is_hexadecimal(std::string_view number, std::string_view rest) {
  constexpr std::string_view hexadecimal_digits = "0123456789abcdefABCDEF.";
  return number.find_first_not_of("+-0") == number.npos && rest.size() > 1 &&
         (rest[0] == 'x' || rest[0] == 'X') &&
         hexadecimal_digits.find(rest[1]) != hexadecimal_digits.npos;
}

bool looks_like_a_fraction(std::string_view text) {
  const std::size_t bar = text.find('/');
  return bar != text.npos && bar + 1 < text.size() && is_digit(text[bar + 1]);
}

}  // namespace

std::string plain_spelling(std::string_view text) {
  std::string plain;
  while (!text.empty()) {
    const auto first = static_cast<unsigned char>(text.front());
    if (first < 0x80 && first != '^' && first != '\t') {  // no sign of those begins so
      plain += text.front();
      text.remove_prefix(1);
      continue;
    }
    const auto* const sign =
        std::find_if(std::begin(plain_signs), std::end(plain_signs), [text](const auto& pair) {
          return text.starts_with(pair.first);
        });
    if (sign == std::end(plain_signs)) {
      plain += text.front();
      text.remove_prefix(1);
    } else {
      plain += sign->second;
      text.remove_prefix(sign->first.size());
    }
  }
  return std::string{trimmed(plain)};
}

std::string plain_unit(std::string_view unit) {
  constexpr std::string_view degree = "\u00B0";
  const auto binds = [](char c) { return c == '/' || c == '(' || c == ')'; };
  std::string plain;
  for (const char c : unit) {
    const bool space = c == ' ' || c == '*' || c == '.';
    if (space && (plain.empty() || plain.back() == ' ' || binds(plain.back()))) continue;
    if (space && std::string_view{plain}.ends_with(degree)) continue;
    if (binds(c) && !plain.empty() && plain.back() == ' ') plain.pop_back();
    plain += space ? ' ' : c;
  }
  return std::string{trimmed(plain)};
}

Number take_number(std::string_view& rest,
                   std::string_view whole,
                   const Place& place,
                   const QuantityKind& kind) {
  const std::string mend = fmt::format("write {}", kind.example);
  const std::size_t length = number_length(rest);
  if (length == 0) {
    throw Error{place, fmt::format("{} does not start with a number", in_quotes(whole)), mend};
  }
  const std::string number{rest.substr(0, length)};
  rest.remove_prefix(length);
  if (!rest.empty() && rest.front() == ',') {
    throw Error{place,
                fmt::format("{} has a comma in its number", in_quotes(whole)),
                "write a point before the decimals, and nothing between thousands"};
  }
  if (!rest.empty() && rest.front() == '.') {
    throw Error{place, fmt::format("{} has two points in its number", in_quotes(whole)), mend};
  }
  if (is_hexadecimal(number, rest)) {
    throw Error{place, fmt::format("{} is hexadecimal", in_quotes(whole)), mend};
  }
  // std::from_chars takes no plus sign, and no notice of the locale.
  const char* const first = number.data() + (number.front() == '+' ? 1 : 0);
  double value = 0.0;
  const auto result = std::from_chars(first, number.data() + number.size(), value);
  if (result.ec != std::errc{} || !std::isfinite(value)) {
    throw Error{place,
                fmt::format("{} is too large or too small to compute with", in_quotes(number)),
                "check its exponent"};
  }
  while (!rest.empty() && rest.front() == ' ') rest.remove_prefix(1);
  return {value, number};
}

NumberAndUnit split_number_and_unit(std::string_view text,
                                    const Place& place,
                                    const QuantityKind& kind) {
  const std::string_view whole = trimmed(text);
  if (whole.empty()) {
    throw Error{place, "nothing is given", fmt::format("write {}", kind.example)};
  }
  if (whole.size() > longest_quantity) {
    throw Error{place,
                fmt::format("{} is too long", in_quotes(whole)),
                fmt::format("write {}", kind.example)};
  }
  const std::string plain = plain_spelling(whole);
  std::string_view rest = plain;
  Number number = take_number(rest, whole, place, kind);
  return {number.value, std::move(number.text), plain_unit(rest), std::string{whole}};
}

Error no_unit(const std::string& number, const Place& place, const QuantityKind& kind) {
  std::string offers;
  for (std::size_t i = 0; i < kind.offer.size(); ++i) {
    const bool last = i + 1 == kind.offer.size();
    offers += fmt::format("{}{}{}", i == 0 ? "" : last ? " or " : ", ", number, kind.offer[i]);
  }
  return Error{place, fmt::format("{} has no unit", number), fmt::format("write {}", offers)};
}

Error unknown_unit(const std::string& unit,
                   const std::string& text,
                   const Place& place,
                   const QuantityKind& kind) {
  const std::string what = fmt::format("unknown unit {} in {}", in_quotes(unit), in_quotes(text));
  if (looks_like_a_fraction(unit)) return Error{place, what, "write 0.5, not 1/2"};
  return Error{place, what, fmt::format("known: {}", kind.known)};
}

void check_finite(double value_SI, std::string_view text, const Place& place) {
  if (std::isfinite(value_SI)) return;
  throw Error{place,
              fmt::format("{} is too large to compute with", in_quotes(text)),
              "check the number and its unit"};
}

}  // namespace thickset
