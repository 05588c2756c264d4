#include "geometry/read_shape.h"

#include "base/error.h"
#include "base/problems.h"
#include "base/text.h"
#include "geometry/solid_by_measures.h"

#include <array>
#include <optional>
#include <string>
#include <vector>

#include <fmt/format.h>

namespace thickset {
namespace {

constexpr std::array<SizesOfKind, 8> kinds_of_shape = {{
    {"slab", 1, "its thickness", "75mm"},
    {"rod", 1, "its diameter", "75mm"},
    {"ball", 1, "its diameter", "75mm"},
    {"block", 3, "three sides", "75x75x150mm"},
    {"disc", 2, "diameter x height", "200x40mm"},
    {"bar", 2, "the two sides of its section", "60x90mm"},
    {"prism", 1, "the side of its triangle", "80mm"},
    {"tube", 2, "outer diameter x wall", "120x15mm"},
}};

struct OtherName {
  std::string_view word, say;
};
constexpr std::array<OtherName, 20> other_names = {{
    {"plate", "say slab (its edges are left out) or block"},
    {"sheet", "say slab (its edges are left out) or block"},
    {"cylinder", "say rod (long) or disc (short; diameter x height)"},
    {"sphere", "say ball"},
    {"cube", "say block, for example 75x75x75mm"},
    {"brick", "say block, for example 75x75x150mm"},
    {"box", "say block, for example 75x75x150mm"},
    {"disk", "say disc"},
    {"triangle", "say prism"},
    {"pipe", "say tube, for example 120x15mm (outer diameter x wall)"},
    {"ring", "say tube where it is long; a short one goes by a mesh"},
    {"bowl", "say vessel where it is upright and of one wall; other ones go by a mesh"},
    {"cup", "say vessel, for example 100x120x10x15mm (diameter x height x wall x bottom)"},
    {"vase", "say vessel where it is upright and of one wall; other ones go by a mesh"},
    {"hemisphere", "say dome, its height half its diameter"},
    {"cap", "say dome, for example 120x40mm (diameter x height)"},
    {"pyramid", "say cone where it is round; with corners it goes by a mesh"},
    {"lumps", "say dumbbell, for example 80x60x30x20mm (two diameters, neck, its length)"},
    {"neck", "say dumbbell, for example 80x60x30x20mm (two diameters, neck, its length)"},
    {"foot", "say boss (a smaller disc on a larger one)"},
}};

const SizesOfKind& find_kind(const ShapeWords& words) {
  const std::string_view word = trimmed(words.kind);
  for (const SizesOfKind& kind : kinds_of_shape) {
    if (kind.word == word) return kind;
  }
  for (const OtherName& other : other_names) {
    if (other.word == word) {
      throw Error{words.kind_place, "unknown shape " + in_quotes(word), other.say};
    }
  }
  throw Error{
      words.kind_place,
      "unknown shape " + in_quotes(word),
      "use slab, rod, ball, block, disc, bar, prism, tube, vessel, dome, cone, wedge, boss or "
      "dumbbell"};
}

Faces read_faces(const SizesOfKind& kind, const ShapeWords& words) {
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

void refuse_insulated(const SizesOfKind& kind, const ShapeWords& words) {
  if (trimmed(words.insulated).empty()) return;
  throw Error{words.insulated_place,
              fmt::format("insulated names sides of a mesh, vessel, dome, cone, wedge or boss, not "
                          "of a {}",
                          kind.word),
              kind.word == "slab" ? "say with faces which of them cool"
                                  : "leave it out, or describe the piece as a mesh"};
}

Shape build(const SizesOfKind& kind,
            const std::vector<Length>& sizes,
            Faces faces,
            const ShapeWords& words) {
  if (kind.word == "slab") return Slab{sizes[0], faces};
  if (kind.word == "rod") return Rod{sizes[0]};
  if (kind.word == "ball") return Ball{sizes[0]};
  if (kind.word == "block") return Block{sizes[0], sizes[1], sizes[2]};
  if (kind.word == "disc") return Disc{sizes[0], sizes[1]};
  if (kind.word == "bar") return Bar{sizes[0], sizes[1]};
  if (kind.word == "prism") return Prism{sizes[0]};
  check_wall(kind.word, sizes[0], sizes[1], words.size_place);
  return Tube{sizes[0], sizes[1], read_inside(kind.word, words)};
}

}  // namespace

Inside read_inside(std::string_view kind, const ShapeWords& words) {
  const std::string_view inside = trimmed(words.inside);
  if (inside == "open") return Inside::open;
  if (inside == "core") return Inside::core;
  constexpr const char* mend = "write open (cooled as the outside is) or core (not cooled)";
  if (inside.empty()) {
    throw Error{words.inside_place, fmt::format("the inside of a {} is not said", kind), mend};
  }
  throw Error{words.inside_place, "unknown inside " + in_quotes(inside), mend};
}

void refuse_inside(std::string_view kind, const ShapeWords& words) {
  if (trimmed(words.inside).empty()) return;
  throw Error{words.inside_place,
              fmt::format("a {} is solid: only a tube or a vessel has an inside", kind),
              "leave it out"};
}

Shape read_shape(const ShapeWords& words) {
  const SizesOfKind& kind = find_kind(words);
  Problems problems;
  const std::vector<Length> sizes = problems.collect(
      [&] { return read_sizes(kind, words.size, words.size_place); }, std::vector<Length>{});
  const Faces faces = problems.collect([&] { return read_faces(kind, words); }, Faces::both);
  problems.collect([&] { refuse_insulated(kind, words); });
  if (kind.word == "tube") {
    problems.collect([&] { read_inside(kind.word, words); });
  } else {
    problems.collect([&] { refuse_inside(kind.word, words); });
  }
  problems.throw_if_any();

  const Shape shape = build(kind, sizes, faces, words);
  check_range(largest_ball(shape), sizes, words.size_place);
  return shape;
}

}  // namespace thickset
