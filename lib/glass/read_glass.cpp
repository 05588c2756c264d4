#include "glass/read_glass.h"

#include <algorithm>
#include <filesystem>
#include <map>
#include <optional>
#include <utility>

#include <fmt/format.h>

#include "base/entries.h"
#include "base/problems.h"
#include "base/text.h"
#include "base/text_file.h"
#include "glass/fixed_points.h"
#include "glass/glass_stand_ins.h"
#include "glass/read_relaxation.h"
#include "material/read_thermal_law.h"
#include "units/read_quantity.h"

namespace thickset {
namespace {

/// The numbers a value may lie between, in the unit they are printed in.
struct Range {
  double low;
  double high;
  const char* unit;
  double shown_per_SI;  ///< 1e6 where SI is 1/K and the unit 1e-6 /K
};

constexpr Range expansion_range{0.3, 20.0, "1e-6 /K", 1e6};
constexpr Range liquid_expansion_range{0.3, 100.0, "1e-6 /K", 1e6};
constexpr Range fixed_point_range{200.0, 1400.0, "C", 1.0};
constexpr Range uncertainty_range{1.0, 100.0, "K", 1.0};
constexpr Range density_range{2000.0, 7000.0, "kg/m3", 1.0};
constexpr Range youngs_modulus_range{30.0, 120.0, "GPa", 1e-9};
constexpr Range poisson_ratio_range{0.1, 0.35, "", 1.0};
constexpr Range stress_optical_range{0.0, 6.0, "1/TPa", 1e12};
// Clear glass between its bands to glass opaque to heat; silica to the densest flint.
constexpr Range absorption_range{10.0, 10000.0, "1/m", 1.0};
constexpr Range refractive_index_range{1.3, 2.2, "", 1.0};
constexpr ThermalLimits conductivity_limits{0.2, 5.0};
constexpr ThermalLimits heat_capacity_limits{100.0, 3000.0};

constexpr std::size_t longest_title = 200;

const std::vector<std::string>& known_keys() {
  static const std::vector<std::string> keys = {"title",
                                                "family",
                                                "expansion",
                                                "liquid_expansion",
                                                "annealing_point",
                                                "strain_point",
                                                "softening_point",
                                                "annealing_point_uncertainty",
                                                "strain_point_uncertainty",
                                                "conductivity_uncertainty",
                                                "heat_capacity_uncertainty",
                                                "expansion_uncertainty",
                                                "density",
                                                "youngs_modulus",
                                                "poisson_ratio",
                                                "conductivity",
                                                "heat_capacity",
                                                "stress_optical",
                                                "radiation_absorption",
                                                "refractive_index",
                                                "activation",
                                                "mean_shear_time",
                                                "activation_share",
                                                "bulk"};
  return keys;
}

/// These may have a line for each piece of their law.
bool may_repeat(const std::string& key) {
  return key == "conductivity" || key == "heat_capacity";
}

std::string source_text(const Entry& entry) {
  if (entry.source.empty()) return "no source given";
  return fmt::format("[{}]{}{}", entry.source, entry.locator.empty() ? "" : " ", entry.locator);
}

/// The lines of one file by key; collects what is wrong with them.
class GlassLines {
 public:
  GlassLines(const std::vector<Entry>& entries, const std::string& path) : path_{path} {
    for (const Entry& entry : entries) {
      if (std::find(known_keys().begin(), known_keys().end(), entry.key) == known_keys().end()) {
        refuse_unknown(entry);
        continue;
      }
      std::vector<Entry>& lines = lines_[entry.key];
      if (!lines.empty() && !may_repeat(entry.key)) {
        problems_.add(
            entry.key_place,
            fmt::format(
                "{} is given twice, first at line {}", entry.key, lines.front().key_place.line),
            "keep one of them");
        continue;
      }
      lines.push_back(entry);
    }
  }

  Problems& problems() { return problems_; }

  /// The value of a key that has one line; nothing where it is not given or cannot be read.
  template <class Read>
  auto find(const std::string& key, Read read)
      -> std::optional<Placed<decltype(read(std::string_view{}, Place{}))>> {
    const auto found = lines_.find(key);
    if (found == lines_.end()) return std::nullopt;
    const Entry& entry = found->second.front();
    try {
      return {{read(entry.value, entry.value_place), entry.value_place, source_text(entry)}};
    } catch (const Error& error) {
      problems_.add(error);
      return std::nullopt;
    }
  }

  std::optional<Placed<double>> find_number(const std::string& key,
                                            double (*read)(std::string_view, const Place&),
                                            const Range& range) {
    std::optional<Placed<double>> found = find(key, read);
    if (found && !check(key, found->value * range.shown_per_SI, found->place, range)) found.reset();
    return found;
  }

  std::optional<Placed<Temperature>> find_fixed_point(const std::string& key) {
    std::optional<Placed<Temperature>> found = find(key, read_temperature);
    if (found && !check(key, found->value.in_C(), found->place, fixed_point_range)) found.reset();
    return found;
  }

  std::optional<Placed<ThermalLaw>> find_law(const std::string& key,
                                             ThermalQuantity quantity,
                                             const ThermalLimits& limits) {
    const auto found = lines_.find(key);
    if (found == lines_.end()) return std::nullopt;
    const std::vector<Entry>& lines = found->second;
    std::string sources = source_text(lines.front());
    for (std::size_t i = 1; i < lines.size(); ++i) {
      const std::string source = source_text(lines[i]);
      if (source != source_text(lines[i - 1])) sources += "; " + source;
    }
    try {
      return {{read_thermal_law(lines, quantity, limits), lines.front().value_place, sources}};
    } catch (const Error& error) {
      problems_.add(error);
      return std::nullopt;
    }
  }

  void require(const std::string& key, const char* example) {
    if (lines_.count(key) != 0) return;
    problems_.add(Place{path_},
                  fmt::format("{} is missing", key),
                  fmt::format("add a line such as \"{} = {}\"", key, example));
  }

 private:
  void refuse_unknown(const Entry& entry) {
    const std::string nearest = nearest_name(entry.key, known_keys());
    std::string mend;
    if (nearest.empty()) {
      for (const std::string& key : known_keys()) mend += (mend.empty() ? "known: " : ", ") + key;
    } else {
      mend = fmt::format("did you mean {}?", nearest);
    }
    problems_.add(entry.key_place, fmt::format("unknown key {}", entry.key), mend);
  }

  bool check(const std::string& key, double shown, const Place& place, const Range& range) {
    if (shown >= range.low && shown <= range.high) return true;
    const bool has_unit = range.unit[0] != '\0';
    std::string mend = "check the number and its unit";
    if (&range == &expansion_range || &range == &liquid_expansion_range) {
      for (const double tenfold : {shown / 10.0, shown / 100.0, shown * 10.0}) {
        if (tenfold < usual_expansion_low || tenfold > usual_expansion_high) continue;
        mend = fmt::format("a power of ten may have slipped: did you mean {:.4g}e-6 /K?", tenfold);
        break;
      }
    }
    problems_.add(place,
                  fmt::format("{} {:.4g}{}{} is outside {:g}..{:g}{}{}",
                              key,
                              shown,
                              has_unit ? " " : "",
                              range.unit,
                              range.low,
                              range.high,
                              has_unit ? " " : "",
                              range.unit),
                  mend);
    return false;
  }

  // Where most glasses lie, in 1e-6 /K: what a slipped expansion is taken back to.
  static constexpr double usual_expansion_low = 3.0;
  static constexpr double usual_expansion_high = 13.0;

  std::string path_;
  std::map<std::string, std::vector<Entry>> lines_;
  Problems problems_;
};

std::string read_title(std::string_view text, const Place& place) {
  if (text.size() > longest_title) {
    throw Error{place, fmt::format("a title of over {} characters", longest_title), "shorten it"};
  }
  return std::string{text};
}

GlassFamily read_family(std::string_view text, const Place& place) {
  if (text == "soda-lime") return GlassFamily::soda_lime;
  if (text == "lead") return GlassFamily::lead;
  if (text == "borosilicate") return GlassFamily::borosilicate;
  if (text == "barium") return GlassFamily::barium;
  throw Error{place,
              fmt::format("unknown family {}", in_quotes(text)),
              "known: soda-lime, lead, borosilicate, barium; leave the line out for others"};
}

double read_uncertainty_K(std::string_view text, const Place& place) {
  return read_temperature_difference(text, place).in_K();
}

double read_modulus_Pa(std::string_view text, const Place& place) {
  return read_stress(text, place).in_Pa();
}

/// What the file says of how well its values are known; collects what is wrong.
GlassUncertainty read_glass_uncertainty(GlassLines& lines, const FixedPoints& points) {
  const auto share = [&](const char* key) {
    const auto found = lines.find(key, read_uncertain_share);
    return found ? std::optional{found->value} : std::nullopt;
  };
  GlassUncertainty uncertainty{.conductivity = share("conductivity_uncertainty"),
                               .heat_capacity = share("heat_capacity_uncertainty"),
                               .expansion = share("expansion_uncertainty")};
  const auto strain_K = lines.find("strain_point_uncertainty", read_uncertainty_K);
  if (!strain_K || !points.annealing || !points.strain) return uncertainty;
  // So far that the two points stay apart, whatever is drawn.
  const double most_K = 0.5 * (points.annealing->value - points.strain->value).in_K();
  if (strain_K->value > 0.0 && strain_K->value <= most_K) {
    uncertainty.strain_point = TemperatureDifference::from_K(strain_K->value);
  } else if (most_K > 0.0) {
    lines.problems().add(
        strain_K->place,
        fmt::format("strain_point_uncertainty {:.4g} K is not above 0 and up to {:.4g} K, half of "
                    "what lies between the two points",
                    strain_K->value,
                    most_K),
        "it is how far the strain point may be off once the annealing point is right");
  }
  return uncertainty;
}

/// Radiation inside, and the glass's conductivity with it; collects what is wrong.
void add_radiation(Glass& glass,
                   const std::optional<Placed<double>>& absorption,
                   const std::optional<Placed<double>>& index,
                   Problems& problems) {
  if (!absorption) {
    if (!index) return;
    problems.add(index->place,
                 "refractive_index is used with radiation_absorption alone",
                 "add a line such as \"radiation_absorption = 200 1/m\", or leave it out");
    return;
  }
  ThermalLaw& conductivity = glass.conductivity_W_per_m_K.value;
  if (!takes_inner_radiation(conductivity)) {
    problems.add(absorption->place,
                 fmt::format("radiation_absorption needs a conductivity known between {:.0f} and "
                             "{:.0f} K; this one is from {:.0f} to {:.0f} K",
                             inner_radiation_from_K,
                             inner_radiation_to_K,
                             conductivity.from_K(),
                             conductivity.to_K()),
                 "check the range of conductivity and its unit");
    return;
  }
  RadiationInside inside{.radiation = {.absorption_per_m = absorption->value},
                         .assumed_index = !index,
                         .source = absorption->source,
                         .conduction_alone_W_per_m_K = conductivity};
  if (index) inside.radiation.refractive_index = index->value;
  conductivity = with_inner_radiation(conductivity, inside.radiation);
  glass.radiation_inside = std::move(inside);
}

template <class T>
Property<T> given_or(const std::optional<Placed<T>>& given, Property<T> stand_in) {
  return given ? given->property() : std::move(stand_in);
}

}  // namespace

Glass parse_glass(std::string_view text, const std::string& path) {
  GlassLines lines{parse_entries(text, path), path};
  lines.require("expansion", "9.0e-6 /K");
  lines.require("annealing_point", "516 C");
  lines.require("strain_point", "480 C");

  const auto title = lines.find("title", read_title);
  const auto family = lines.find("family", read_family);
  const auto expansion = lines.find_number("expansion", read_expansion_per_K, expansion_range);
  const auto liquid_expansion =
      lines.find_number("liquid_expansion", read_expansion_per_K, liquid_expansion_range);
  const FixedPoints points{lines.find_fixed_point("annealing_point"),
                           lines.find_fixed_point("strain_point"),
                           lines.find_fixed_point("softening_point")};
  const auto uncertainty_K =
      lines.find_number("annealing_point_uncertainty", read_uncertainty_K, uncertainty_range);
  const auto density = lines.find_number("density", read_density_kg_per_m3, density_range);
  const auto modulus = lines.find_number("youngs_modulus", read_modulus_Pa, youngs_modulus_range);
  const auto poisson = lines.find_number("poisson_ratio", read_number, poisson_ratio_range);
  const auto conductivity =
      lines.find_law("conductivity", ThermalQuantity::conductivity, conductivity_limits);
  const auto heat_capacity =
      lines.find_law("heat_capacity", ThermalQuantity::heat_capacity, heat_capacity_limits);
  const auto stress_optical =
      lines.find_number("stress_optical", read_stress_optical_per_Pa, stress_optical_range);
  const auto absorption =
      lines.find_number("radiation_absorption", read_absorption_per_m, absorption_range);
  const auto index = lines.find_number("refractive_index", read_number, refractive_index_range);

  const auto activation = lines.find("activation", read_activation_K);
  const auto shear_time = lines.find("mean_shear_time", read_mean_shear_time);
  const auto share = lines.find("activation_share", read_activation_share);
  const auto bulk = lines.find("bulk", read_bulk);
  if (activation.has_value() != shear_time.has_value()) {
    const Place& place = activation ? activation->place : shear_time->place;
    lines.problems().add(place,
                         "activation and mean_shear_time belong together",
                         "give both, or leave both out: they then follow from the fixed points");
  }

  check_points(points, lines.problems());
  const GlassUncertainty uncertainty = read_glass_uncertainty(lines, points);
  if (expansion && liquid_expansion && !(liquid_expansion->value >= expansion->value)) {
    lines.problems().add(
        liquid_expansion->place,
        fmt::format("liquid_expansion {:.4g}e-6 /K is below expansion {:.4g}e-6 /K ({})",
                    liquid_expansion->value * 1e6,
                    expansion->value * 1e6,
                    to_string(expansion->place)),
        "a melt expands more than its glass, about 3 times; leave the line out if it is not known");
  }
  lines.problems().throw_if_any();

  const std::string name = std::filesystem::path{path}.stem().string();
  Glass glass{
      .name = name,
      .title = title ? title->value : name,
      .family = family ? family->value : GlassFamily::unknown,
      .expansion_per_K = expansion->property(),
      .liquid_expansion_per_K =
          given_or(liquid_expansion, stand_ins::liquid_expansion_per_K(expansion->value)),
      .annealing_point = points.annealing->property(),
      .strain_point = points.strain->property(),
      .softening_point =
          points.softening ? std::optional{points.softening->property()} : std::nullopt,
      .annealing_point_uncertainty =
          uncertainty_K
              ? Property<TemperatureDifference>{TemperatureDifference::from_K(uncertainty_K->value),
                                                false,
                                                uncertainty_K->source}
              : stand_ins::annealing_point_uncertainty(),
      .uncertainty = uncertainty,
      .density_kg_per_m3 = given_or(density, stand_ins::density_kg_per_m3()),
      .youngs_modulus_Pa = given_or(modulus, stand_ins::youngs_modulus_Pa()),
      .poisson_ratio = given_or(poisson, stand_ins::poisson_ratio()),
      .conductivity_W_per_m_K = given_or(conductivity, stand_ins::conductivity_W_per_m_K()),
      .heat_capacity_J_per_kg_K = given_or(heat_capacity, stand_ins::heat_capacity_J_per_kg_K()),
      .stress_optical_per_Pa = given_or(stress_optical, stand_ins::stress_optical_per_Pa()),
      .viscosity =
          ViscosityCurve{points.annealing->value,
                         points.strain->value,
                         points.softening ? std::optional{points.softening->value} : std::nullopt},
      .relaxation = {},
      .warnings = {}};
  glass.relaxation = stand_ins::relaxation(glass);
  if (activation) {
    glass.relaxation.activation_K = activation->value;
    glass.relaxation.reference_K = shear_time->value.reference_K;
    glass.relaxation.mean_shear_time_s = shear_time->value.time_s;
    glass.relaxation.assumed = false;
    glass.relaxation.source = activation->source;
  }
  if (share) glass.relaxation.x = share->value;
  if (bulk) glass.relaxation.bulk = bulk->value;
  add_radiation(glass, absorption, index, lines.problems());
  lines.problems().throw_if_any();
  glass.warnings = stand_ins::warnings(glass);
  return glass;
}

Glass read_glass(const std::string& path) {
  return parse_glass(read_text_file(path, largest_entries_bytes), path);
}

}  // namespace thickset
