#include "material/wall.h"

#include <algorithm>
#include <utility>

#include <fmt/format.h>

#include "base/error.h"
#include "base/text.h"
#include "units/read_quantity.h"

namespace thickset {
namespace {

constexpr double least_contact_m2_K_per_W = 1e-5;
constexpr double most_contact_m2_K_per_W = 10.0;
constexpr std::string_view form =
    "write layers from the glass outwards, such as plaster-silica 25mm, cordierite-shelf 15mm";

/// One layer's words and where they stand.
struct Words {
  std::string_view text;
  Place place;
};

std::vector<Words> split(std::string_view text, const Place& place) {
  std::vector<Words> parts;
  const bool has_columns = place.column > 0;
  for (std::size_t at = 0;;) {
    const std::size_t end = std::min(text.find(',', at), text.size());
    const std::string_view part = trimmed(text.substr(at, end - at));
    Place own = place;
    if (has_columns && !part.empty()) {
      const auto before = static_cast<std::size_t>(part.data() - text.data());
      own.column += static_cast<int>(count_characters(text.substr(0, before)));
    }
    parts.push_back({part, own});
    if (end == text.size()) return parts;
    at = end + 1;
  }
}

Length read_thickness(std::string_view text,
                      std::string_view what,
                      const Place& place,
                      Length least,
                      Length most,
                      std::string_view mend) {
  const Length thickness = read_length(text, place);
  if (thickness >= least && thickness <= most) return thickness;
  throw Error{place,
              fmt::format("{} of {:g} mm is outside {:g} to {:g} mm",
                          what,
                          thickness.in_mm(),
                          least.in_mm(),
                          most.in_mm()),
              mend};
}

Layer read_contact(std::string_view text, const Place& place) {
  const double resistance = read_resistance_m2_K_per_W(text, place);
  if (resistance >= least_contact_m2_K_per_W && resistance <= most_contact_m2_K_per_W) {
    return Layer::contact(resistance);
  }
  throw Error{place,
              fmt::format("a contact of {:g} m2 K/W is outside {:g} to {:g} m2 K/W",
                          resistance,
                          least_contact_m2_K_per_W,
                          most_contact_m2_K_per_W),
              "10 mm of plaster-silica are about 0.03 m2 K/W"};
}

/// A length has two words at most, its number and its unit.
bool has_more_words_than_a_length(std::string_view size) {
  std::size_t words = 0;
  for (std::size_t i = 0; i < size.size(); ++i) {
    const bool space = size[i] == ' ' || size[i] == '\t';
    const bool after_space = i == 0 || size[i - 1] == ' ' || size[i - 1] == '\t';
    if (!space && after_space) ++words;
  }
  return words > 2;
}

Layer read_layer(const Words& words, const ReadNamedMould& read_named_mould) {
  const std::size_t space = words.text.find_first_of(" \t");
  const std::string name{words.text.substr(0, space)};
  if (name == "open" || name == "insulated") {
    throw Error{words.place,
                name == "open" ? "open stands alone: no layer lies on an open face"
                               : "insulated stands last: no heat passes beyond it",
                std::string{form}};
  }
  if (space == std::string_view::npos) {
    const bool is_size = !name.empty() && name[0] >= '0' && name[0] <= '9';
    if (!name.empty() && !is_size && name != "air" && name != "contact") {
      read_named_mould(name, words.place);  // an unknown material is said first
    }
    throw Error{words.place,
                words.text.empty() ? std::string{"a layer is missing"}
                                   : fmt::format("{} has no thickness", in_quotes(words.text)),
                std::string{form}};
  }
  const std::string_view size = trimmed(words.text.substr(space));
  if (name != "contact" && has_more_words_than_a_length(size)) {
    throw Error{words.place,
                fmt::format("{} is more than a material and its thickness", in_quotes(words.text)),
                "separate layers by commas: plaster-silica 25mm, cordierite-shelf 15mm"};
  }
  if (name == "air") {
    return Layer::air(
        read_thickness(size,
                       "an air gap",
                       words.place,
                       narrowest_gap,
                       widest_gap,
                       "air circulates in wider gaps; write open for a face that sees the kiln"));
  }
  if (name == "contact") return read_contact(size, words.place);
  const Length thickness = read_thickness(size,
                                          fmt::format("a layer of {}", name),
                                          words.place,
                                          thinnest_layer,
                                          thickest_layer,
                                          "check the number and its unit (mm, cm, m, in, ft)");
  return Layer::solid(read_named_mould(name, words.place), thickness);
}

bool alike(const Mould& one, const Mould& other) {
  bool same = one.density_kg_per_m3 == other.density_kg_per_m3;
  for (const double T_K : {300.0, 500.0, 700.0, 900.0, 1100.0}) {
    same = same && one.conductivity_W_per_m_K.at(T_K) == other.conductivity_W_per_m_K.at(T_K) &&
           one.heat_capacity_J_per_kg_K.at(T_K) == other.heat_capacity_J_per_kg_K.at(T_K);
  }
  return same;
}

bool alike(const Layer& one, const Layer& other) {
  return one.kind == other.kind && one.thickness == other.thickness &&
         one.resistance_m2_K_per_W == other.resistance_m2_K_per_W &&
         (one.kind != Layer::Kind::solid || alike(*one.material, *other.material));
}

}  // namespace

bool alike(const Wall& one, const Wall& other) {
  return one.insulated == other.insulated &&
         std::equal(one.layers.begin(),
                    one.layers.end(),
                    other.layers.begin(),
                    other.layers.end(),
                    [](const Layer& a, const Layer& b) { return alike(a, b); });
}

Length Wall::thickness() const {
  double sum_m = 0.0;
  for (const Layer& layer : layers) sum_m += layer.thickness.in_m();
  return Length::from_m(sum_m);
}

bool Wall::any_assumed() const {
  return std::any_of(layers.begin(), layers.end(), [](const Layer& layer) {
    return layer.material && layer.material->assumed();
  });
}

Wall Wall::with_assumed_conductivity_times(double factor) const {
  Wall changed = *this;
  for (Layer& layer : changed.layers) {
    if (layer.material && layer.material->assumed())
      layer.material = layer.material->with_conductivity_times(factor);
  }
  return changed;
}

std::string describe(const Wall& wall, Lengths unit) {
  if (wall.open()) return "open";
  std::string text;
  const auto add = [&](const std::string& part) { text += (text.empty() ? "" : ", ") + part; };
  const auto size = [&](Length length) {
    return unit == Lengths::inch ? fmt::format("{:.2g} in", length.in_inch())
                                 : fmt::format("{:g} mm", length.in_mm());
  };
  for (const Layer& layer : wall.layers) {
    switch (layer.kind) {
      case Layer::Kind::solid: add(layer.material->name + ' ' + size(layer.thickness)); break;
      case Layer::Kind::air: add("air " + size(layer.thickness)); break;
      case Layer::Kind::contact:
        add(fmt::format("contact {:g} m2 K/W", layer.resistance_m2_K_per_W));
        break;
    }
  }
  if (wall.insulated) add("insulated");
  return text;
}

Wall read_wall(std::string_view text, const Place& place, const ReadNamedMould& read_named_mould) {
  const std::string_view whole = trimmed(text);
  if (whole == "open") return {};
  std::vector<Words> parts = split(text, place);
  Wall wall;
  if (parts.back().text == "insulated") {
    wall.insulated = true;
    parts.pop_back();
  }
  if (parts.size() > most_layers) {
    throw Error{place,
                fmt::format("{} layers, at most {} are taken", parts.size(), most_layers),
                "leave thin ones out, or join like ones"};
  }
  for (const Words& words : parts) {
    Layer layer = read_layer(words, read_named_mould);
    const bool gap = layer.kind != Layer::Kind::solid;
    const bool after_gap = !wall.layers.empty() && wall.layers.back().kind != Layer::Kind::solid;
    if (gap && after_gap) {
      throw Error{words.place,
                  fmt::format("{} lies beside another gap", in_quotes(words.text)),
                  "write one gap, or name the layer between them"};
    }
    wall.layers.push_back(std::move(layer));
  }
  if (!wall.layers.empty() && wall.layers.back().kind != Layer::Kind::solid) {
    throw Error{parts.back().place,
                fmt::format("{} is outermost", in_quotes(parts.back().text)),
                "leave it out, the kiln's own air is beyond the last layer; or name what lies "
                "beyond the gap, such as a floor of fireclay-brick 60mm, insulated"};
  }
  return wall;
}

}  // namespace thickset
