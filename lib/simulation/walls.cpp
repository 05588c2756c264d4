#include "simulation/walls.h"

#include <fmt/format.h>

#include "base/error.h"
#include "base/text.h"

namespace thickset {
namespace {

const char* kind_of(const Shape& shape) {
  constexpr const char* names[] = {
      "slab", "rod", "ball", "block", "disc", "bar", "prism", "tube", "solid"};
  return names[shape.index()];
}

bool cools_inside(const Shape& shape) {
  if (const auto* const tube = std::get_if<Tube>(&shape)) return tube->inside == Inside::open;
  const auto* const solid = std::get_if<Gridded>(&shape);
  return solid != nullptr && solid->cools_inside;
}

/// Where walls lie that are alike.
const char* where_alike(const Shape& shape) {
  if (std::holds_alternative<Slab>(shape)) return " on both faces";
  const auto* const solid = std::get_if<Gridded>(&shape);
  const bool cools_all_round =
      !std::holds_alternative<Tube>(shape) && (solid == nullptr || solid->remark.empty());
  return cools_all_round ? " all round" : " on all that cools";
}

/// The first of the words that are there.
const Place& first_place(const WallWords& words) {
  for (const auto* word : {&words.mould, &words.top, &words.bottom}) {
    if (*word) return (*word)->place;
  }
  return words.grips->place;
}

void refuse_faces_that_do_not_fit(const WallWords& words, const Shape& shape) {
  const auto* slab = std::get_if<Slab>(&shape);
  const std::optional<PlacedText>& face = words.top ? words.top : words.bottom;
  if (slab == nullptr && face) {
    throw Error{face->place,
                fmt::format("top and bottom are the faces of a slab; a {} has one wall all round",
                            kind_of(shape)),
                "write mould with its layers instead"};
  }
  if (slab != nullptr && slab->faces != Faces::both) {
    throw Error{first_place(words),
                "the faces that cool are named twice, by faces and here",
                "leave faces out; write insulated for a face that does not cool, and say with "
                "mould_grips whether the slab may bend"};
  }
  if (words.mould && words.top && words.bottom) {
    throw Error{words.mould->place,
                "mould, top and bottom are all given",
                "leave mould out: top and bottom say all there is"};
  }
  if (!words.mould && words.top.has_value() != words.bottom.has_value()) {
    throw Error{face->place,
                fmt::format("nothing is said of the {}", words.top ? "bottom" : "top"),
                "write open, insulated or its layers for it too"};
  }
}

}  // namespace

bool read_grips(const PlacedText& word) {
  if (word.text == "yes") return true;
  if (word.text == "no") return false;
  throw Error{word.place,
              fmt::format("{} is not known", in_quotes(word.text)),
              "write yes (the mould holds the slab flat) or no (it is free to bend)"};
}

bool Walls::alike() const {
  return thickset::alike(top, bottom);
}

Walls Walls::with_assumed_conductivity_times(double factor) const {
  return {.top = top.with_assumed_conductivity_times(factor),
          .bottom = bottom.with_assumed_conductivity_times(factor),
          .held = held};
}

std::string describe(const Walls& walls, const Shape& shape, Lengths unit) {
  if (walls.alike()) {
    return describe(walls.top, unit) + where_alike(shape);
  }
  return fmt::format("top {}; bottom {}; {}",
                     describe(walls.top, unit),
                     describe(walls.bottom, unit),
                     walls.held ? "held flat" : "free to bend");
}

std::optional<Walls> read_walls(const WallWords& words,
                                const Shape& shape,
                                const ReadNamedMould& read_named_mould) {
  for (const auto* side : {&words.left, &words.right, &words.front, &words.back}) {
    if (!*side) continue;
    throw Error{(*side)->place,
                "left, right, front and back are sides of a mesh",
                "leave it out, or give the solid as a mesh"};
  }
  if (!words.mould && !words.top && !words.bottom) {
    if (!words.grips) return std::nullopt;
    throw Error{words.grips->place,
                "there is no mould",
                "leave it out, or write mould, or top and bottom, with their layers"};
  }
  refuse_faces_that_do_not_fit(words, shape);
  if (cools_inside(shape)) {
    throw Error{first_place(words),
                "what lies against the glass lies all round it, and the inside was said to be open",
                "say core for the inside, which is the slower, or leave the mould out"};
  }
  const auto read = [&](const PlacedText& word) {
    return read_wall(word.text, word.place, read_named_mould);
  };
  Walls walls;
  if (words.mould) walls.top = walls.bottom = read(*words.mould);
  if (words.top) walls.top = read(*words.top);
  if (words.bottom) walls.bottom = read(*words.bottom);
  if (walls.top.insulated && walls.bottom.insulated) {
    throw Error{first_place(words),
                "no heat could leave the casting",
                "leave insulated out on one face at least"};
  }
  if (words.grips) {
    walls.held = read_grips(*words.grips);
  } else if (!walls.alike() && !walls.top.touches() && !walls.bottom.touches()) {
    throw Error{first_place(words),
                "the faces differ and nothing touches the glass",
                "say with mould_grips whether it is held flat (yes) or free to bend (no)"};
  }
  if (walls.top.open() && walls.bottom.open()) return std::nullopt;
  return walls;
}

}  // namespace thickset
