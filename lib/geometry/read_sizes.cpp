#include "geometry/read_sizes.h"

#include "base/error.h"
#include "base/problems.h"
#include "base/text.h"
#include "units/read_quantity.h"

#include <charconv>
#include <cmath>
#include <string>

#include <fmt/format.h>

namespace thickset {
namespace {

/// The parts between "x", "X" or the multiplication sign.
std::vector<std::string> split_sizes(std::string_view text) {
  constexpr std::string_view times = "\xC3\x97";  // UTF-8
  std::vector<std::string> parts(1);
  for (std::size_t i = 0; i < text.size(); ++i) {
    const bool sign = text.substr(i, times.size()) == times;
    if (sign || text[i] == 'x' || text[i] == 'X') {
      parts.emplace_back();
      if (sign) i += times.size() - 1;
    } else {
      parts.back() += text[i];
    }
  }
  for (std::string& part : parts) part = std::string{trimmed(part)};
  return parts;
}

/// What follows the number at the start of the text; the whole text where there is no number.
std::string_view after_number(std::string_view text) {
  double number = 0.0;
  const char* end = text.data() + text.size();
  const auto read = std::from_chars(text.data(), end, number);
  return read.ec == std::errc::invalid_argument
             ? text
             : text.substr(text.size() - static_cast<std::size_t>(end - read.ptr));
}

/// Gives the unit at the end to numbers without one. Throws where there is none or only some have.
void spread_unit(std::vector<std::string>& parts, std::string_view size, const Place& place) {
  const std::string unit{after_number(parts.back())};
  if (unit.empty()) {
    throw Error{place,
                fmt::format("size {} ends without a unit", in_quotes(size)),
                "put mm, cm or in behind the last number"};
  }
  std::size_t bare = 0;
  for (const std::string& part : parts) {
    if (after_number(part).empty()) ++bare;
  }
  if (bare != 0 && bare != parts.size() - 1) {
    throw Error{place,
                fmt::format("size {} has a unit at some numbers only", in_quotes(size)),
                "give the unit once, at the end, or at every number"};
  }
  for (std::string& part : parts) {
    if (after_number(part).empty()) part += unit;
  }
}

void check_positive(Length length, const std::string& part, const Place& place) {
  if (length.in_m() > 0.0 && std::isfinite(length.in_m())) return;  // accepting form: NaN fails too
  throw Error{place,
              fmt::format("size {} is not above zero", in_quotes(part)),
              fmt::format("give a size from {:.0f} to {:.0f} mm",
                          thinnest_accepted.in_mm(),
                          thickest_accepted.in_mm())};
}

}  // namespace

std::vector<Length> read_sizes(const SizesOfKind& kind, std::string_view text, const Place& place) {
  const std::string_view size = trimmed(text);
  const std::string mend = fmt::format("give {}, for example {}", kind.needs, kind.example);
  if (size.empty()) throw Error{place, fmt::format("{} has no size", kind.word), mend};

  std::vector<std::string> parts = split_sizes(size);
  for (const std::string& part : parts) {
    if (part.empty())
      throw Error{place, fmt::format("size {} lacks a number", in_quotes(size)), mend};
  }
  if (parts.size() != kind.n_sizes) {
    throw Error{place,
                fmt::format("{} needs {} size{}, {} has {}",
                            kind.word,
                            kind.n_sizes,
                            kind.n_sizes == 1 ? "" : "s",
                            in_quotes(size),
                            parts.size()),
                mend};
  }
  spread_unit(parts, size, place);

  std::vector<Length> sizes;
  Problems problems;
  for (const std::string& part : parts) {
    try {
      sizes.push_back(read_length(part, place));
      check_positive(sizes.back(), part, place);
    } catch (const Error& error) {
      problems.add(error);
    }
  }
  problems.throw_if_any();
  return sizes;
}

namespace {

constexpr std::string_view mend_size = "check the number and its unit (mm, cm, m, in, ft)";

}  // namespace

void check_sides(const std::vector<Length>& sizes, const Place& place) {
  for (const Length size : sizes) {
    if (!(size <= largest_side)) {
      throw Error{
          place,
          fmt::format("side {:.4g} mm is over {:.0f} mm", size.in_mm(), largest_side.in_mm()),
          std::string{mend_size}};
    }
  }
}

void check_range(Length ball, const std::vector<Length>& sizes, const Place& place) {
  if (!(ball >= thinnest_accepted && ball <= thickest_accepted)) {
    throw Error{place,
                fmt::format("thickness {:.4g} mm ({:.3g} in) is outside {:.0f}..{:.0f} mm "
                            "({:.3g}..{:.3g} in)",
                            ball.in_mm(),
                            ball.in_inch(),
                            thinnest_accepted.in_mm(),
                            thickest_accepted.in_mm(),
                            thinnest_accepted.in_inch(),
                            thickest_accepted.in_inch()),
                std::string{mend_size}};
  }
  check_sides(sizes, place);
}

}  // namespace thickset
