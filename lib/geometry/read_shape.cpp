#include "geometry/read_shape.h"

#include "base/problems.h"
#include "base/text.h"
#include "units/read_quantity.h"

#include <array>
#include <charconv>
#include <cmath>
#include <optional>
#include <string>
#include <vector>

#include <fmt/format.h>

namespace thickset {
namespace {

struct Kind {
  std::string_view word;
  std::size_t n_sizes;
  std::string_view needs;
  std::string_view example;
};
constexpr std::array<Kind, 7> kinds = {{
    {"slab", 1, "its thickness", "75mm"},
    {"rod", 1, "its diameter", "75mm"},
    {"ball", 1, "its diameter", "75mm"},
    {"block", 3, "three sides", "75x75x150mm"},
    {"disc", 2, "diameter x height", "200x40mm"},
    {"bar", 2, "the two sides of its section", "60x90mm"},
    {"prism", 1, "the side of its triangle", "80mm"},
}};

struct OtherName {
  std::string_view word, say;
};
constexpr std::array<OtherName, 9> other_names = {{
    {"plate", "say slab (its edges are left out) or block"},
    {"sheet", "say slab (its edges are left out) or block"},
    {"cylinder", "say rod (long) or disc (short; diameter x height)"},
    {"sphere", "say ball"},
    {"cube", "say block, for example 75x75x75mm"},
    {"brick", "say block, for example 75x75x150mm"},
    {"box", "say block, for example 75x75x150mm"},
    {"disk", "say disc"},
    {"triangle", "say prism"},
}};

const Kind& find_kind(const ShapeWords& words) {
  const std::string_view word = trimmed(words.kind);
  for (const Kind& kind : kinds) {
    if (kind.word == word) return kind;
  }
  for (const OtherName& other : other_names) {
    if (other.word == word) {
      throw Error{words.kind_place, "unknown shape " + in_quotes(word), other.say};
    }
  }
  throw Error{words.kind_place,
              "unknown shape " + in_quotes(word),
              "use slab, rod, ball, block, disc, bar or prism"};
}

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

std::vector<Length> read_sizes(const Kind& kind, const ShapeWords& words) {
  const std::string_view size = trimmed(words.size);
  const Place& place = words.size_place;
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

Faces read_faces(const Kind& kind, const ShapeWords& words) {
  const std::string_view faces = trimmed(words.faces);
  if (faces.empty() || faces == "both") return Faces::both;
  if (kind.word != "slab") {
    throw Error{
        words.faces_place,
        fmt::format(
            "faces {} do not fit a {}, which is cooled all round", in_quotes(faces), kind.word),
        "leave faces out, or describe the piece as a slab cooled from one face"};
  }
  if (faces == "one-free") return Faces::one_free;
  if (faces == "one-held") return Faces::one_held;
  if (faces == "one") {
    throw Error{words.faces_place,
                "faces \"one\" leaves open whether the glass can bend",
                "say one-free (free to bend) or one-held (held flat)"};
  }
  throw Error{words.faces_place,
              "unknown faces " + in_quotes(faces),
              "use both, one-free (free to bend) or one-held (held flat)"};
}

Shape build(const Kind& kind, const std::vector<Length>& sizes, Faces faces) {
  if (kind.word == "slab") return Slab{sizes[0], faces};
  if (kind.word == "rod") return Rod{sizes[0]};
  if (kind.word == "ball") return Ball{sizes[0]};
  if (kind.word == "block") return Block{sizes[0], sizes[1], sizes[2]};
  if (kind.word == "disc") return Disc{sizes[0], sizes[1]};
  if (kind.word == "bar") return Bar{sizes[0], sizes[1]};
  return Prism{sizes[0]};
}

void check_range(const Shape& shape, const std::vector<Length>& sizes, const Place& place) {
  constexpr std::string_view mend = "check the number and its unit (mm, cm, m, in, ft)";
  const Length thickness = largest_ball(shape);
  if (!(thickness >= thinnest_accepted && thickness <= thickest_accepted)) {
    throw Error{place,
                fmt::format("thickness {:.4g} mm is outside {:.0f}..{:.0f} mm",
                            thickness.in_mm(),
                            thinnest_accepted.in_mm(),
                            thickest_accepted.in_mm()),
                mend};
  }
  for (const Length size : sizes) {
    if (!(size <= largest_side)) {
      throw Error{
          place,
          fmt::format("side {:.4g} mm is over {:.0f} mm", size.in_mm(), largest_side.in_mm()),
          mend};
    }
  }
}

}  // namespace

Shape read_shape(const ShapeWords& words) {
  const Kind& kind = find_kind(words);
  Problems problems;
  const std::vector<Length> sizes =
      problems.collect([&] { return read_sizes(kind, words); }, std::vector<Length>{});
  const Faces faces = problems.collect([&] { return read_faces(kind, words); }, Faces::both);
  problems.throw_if_any();

  const Shape shape = build(kind, sizes, faces);
  check_range(shape, sizes, words.size_place);
  return shape;
}

}  // namespace thickset
