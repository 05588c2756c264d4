#include "geometry/read_piece.h"

#include "base/error.h"
#include "base/problems.h"
#include "base/text.h"
#include "geometry/read_sizes.h"

#include <algorithm>
#include <array>
#include <string>
#include <utility>

#include <fmt/format.h>

namespace thickset {
namespace {

constexpr std::array<SizesOfKind, 6> kinds_of_piece = {{
    {"vessel", 4, "outer diameter x height x wall x bottom", "200x250x15x20mm"},
    {"dome", 2, "diameter x height", "120x40mm"},
    {"cone", 2, "diameter x height", "100x150mm"},
    {"wedge", 4, "length x width x thick end x thin end", "300x200x60x20mm"},
    {"boss", 4, "the disc's diameter x height x the boss's diameter x height", "200x30x80x40mm"},
    {"dumbbell", 4, "one lump's diameter x the other's x the neck's x its length", "80x60x30x20mm"},
}};

SolidByMeasures build(const SizesOfKind& kind, const std::vector<Length>& s, Inside inside) {
  if (kind.word == "vessel") return Vessel{s[0], s[1], s[2], s[3], inside};
  if (kind.word == "dome") return Dome{s[0], s[1]};
  if (kind.word == "cone") return Cone{s[0], s[1]};
  if (kind.word == "wedge") return Wedge{s[0], s[1], s[2], s[3]};
  if (kind.word == "boss") return BossedDisc{s[0], s[1], s[2], s[3]};
  return Dumbbell{s[0], s[1], s[2], s[3]};
}

void refuse_faces(const SizesOfKind& kind, const ShapeWords& words) {
  if (trimmed(words.faces).empty()) return;
  throw Error{words.faces_place,
              fmt::format("only a slab has faces, not a {}", kind.word),
              "leave it out; name what does not cool with insulated"};
}

}  // namespace

std::variant<Shape, SolidInWords> parse_piece(const ShapeWords& words) {
  const std::string_view word = trimmed(words.kind);
  const auto* const kind = std::find_if(
      kinds_of_piece.begin(), kinds_of_piece.end(), [&](const auto& k) { return k.word == word; });
  if (kind == kinds_of_piece.end()) return read_shape(words);
  Problems problems;
  const std::vector<Length> sizes = problems.collect(
      [&] { return read_sizes(*kind, words.size, words.size_place); }, std::vector<Length>{});
  Inside inside = Inside::open;
  if (kind->word == "vessel") {
    inside = problems.collect([&] { return read_inside(kind->word, words); }, inside);
  } else {
    problems.collect([&] { refuse_inside(kind->word, words); });
  }
  problems.collect([&] { refuse_faces(*kind, words); });
  const std::vector<BoxSide> insulated =
      problems.collect([&] { return read_sides(trimmed(words.insulated), words.insulated_place); },
                       std::vector<BoxSide>{});
  problems.throw_if_any();

  check_sides(sizes, words.size_place);
  SolidByMeasures solid = build(*kind, sizes, inside);
  problems.collect([&] { check_measures(solid, words.size_place); });
  problems.collect([&] { check_insulated(solid, insulated, words.insulated_place); });
  problems.throw_if_any();
  const Length at_most = no_ball_above(solid);
  check_range(at_most < thinnest_accepted ? at_most : largest_ball(solid), sizes, words.size_place);
  return SolidInWords{std::move(solid), insulated};
}

Piece read_piece(const ShapeWords& words, const Progress& progress) {
  const std::variant<Shape, SolidInWords> parsed = parse_piece(words);
  if (const Shape* const shape = std::get_if<Shape>(&parsed)) return {*shape, std::nullopt};
  const auto& [solid, insulated] = std::get<SolidInWords>(parsed);
  GriddedSolid gridded = gridded_solid(solid, insulated, words.size_place, progress);
  const Shape shape = gridded.shape;
  return {shape, std::move(gridded)};
}

}  // namespace thickset
