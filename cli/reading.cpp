#include "reporting/reading_report.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include <fmt/format.h>

#include "commands.h"
#include "glass/stress_optical_range.h"
#include "inputs.h"
#include "reporting/report.h"
#include "stress/interference_colour.h"
#include "stress/light_seen.h"
#include "units/read_quantity.h"

namespace thickset::cli {
namespace {

constexpr double nm = 1e-9;
constexpr double deg = std::numbers::pi / 180.0;

/// A number that lies within a range, both in the unit that messages print.
double within(const std::string& name,
              double value,
              double low,
              double high,
              const std::string& unit,
              const std::string& mend) {
  require(name,
          value >= low && value <= high,
          fmt::format("{:g}{} is outside {:g} to {:g}{}", value, unit, low, high, unit),
          mend);
  return value;
}

/// What was seen, and in which words.
struct Seen {
  stress::Spread retardation_m{0.0, 0.0, 0.0};
  std::string how;
  std::vector<std::string> assumed;  ///< what was not given
  bool colour = false;
  bool dark = false;
};

void refuse(const Typed& typed, const std::vector<const char*>& names, const std::string& with) {
  for (const char* const name : names) {
    require(name, !typed.has(name), "does not belong to " + with, "leave it out");
  }
}

double wavelength_of(const Typed& typed) {
  constexpr double white_m = 565.0 * nm;  // the tint of passage, [ASTM-C148]
  const double length_m = typed.value("wavelength", read_light_length_m).value_or(white_m);
  within("wavelength",
         length_m / nm,
         400.0,
         700.0,
         " nm",
         "give that of the lamp or filter; white light counts as 565nm");
  return length_m;
}

Seen by_turn(const Typed& typed) {
  refuse(typed, {"order", "tint-plate"}, "--turn");
  constexpr double usual_error_deg = 2.0;
  const double turn_rad = *typed.value("turn", read_angle_rad);
  within("turn",
         turn_rad / deg,
         0.0,
         180.0,
         " deg",
         "turn one way only; whole bands count in --bands");
  const int bands = typed.value("bands", read_whole_number).value_or(0);
  within("bands", bands, 0.0, 10.0, "", "count the dark bands between the spot and dark glass");
  const auto error_rad = typed.value("reading-error", read_angle_rad);
  const double used_rad = error_rad.value_or(usual_error_deg * deg);
  within("reading-error", used_rad / deg, 0.0, 45.0, " deg", "give for example 2deg");
  const double wavelength_m = wavelength_of(typed);
  Seen seen;
  seen.retardation_m = stress::retardation_of_turn_m(
      std::min(turn_rad, std::numbers::pi), used_rad, wavelength_m, bands);
  seen.how = fmt::format("analyser turned by {:g} deg (+-{:g}) at {:g} nm",
                         turn_rad / deg,
                         used_rad / deg,
                         wavelength_m / nm);
  if (bands > 0) seen.how += fmt::format(", {} whole bands", bands);
  if (!typed.has("wavelength")) {
    seen.assumed.emplace_back("White light, which counts as 565 nm (assumed)");
  }
  if (!typed.has("bands")) {
    seen.assumed.emplace_back("No whole bands between the spot and dark glass (assumed)");
  }
  if (!error_rad) seen.assumed.emplace_back("A turn is read to 2 deg (assumed)");
  return seen;
}

Seen by_discs(const Typed& typed) {
  refuse(typed, {"order", "tint-plate", "bands", "wavelength"}, "--discs");
  const double discs = *typed.value("discs", read_number);
  within("discs", discs, 0.0, 20.0, "", "write how many discs look as bright as the spot");
  const auto error = typed.value("reading-error", read_number);
  const double used =
      within("reading-error", error.value_or(0.5), 0.0, 5.0, "", "give discs, for example 0.5");
  Seen seen;
  seen.retardation_m = stress::retardation_of_discs_m(discs, used);
  seen.how = fmt::format("as bright as {:g} reference discs (+-{:g}) of 22.8 nm", discs, used);
  if (!error) seen.assumed.emplace_back("Discs are told apart to half of one (assumed)");
  return seen;
}

Seen by_retardation(const Typed& typed) {
  refuse(typed, {"order", "tint-plate", "bands", "wavelength"}, "--compensator");
  const double seen_m = *typed.value("compensator", read_light_length_m);
  within("compensator", seen_m / nm, 0.0, 10000.0, " nm", "give what the compensator shows");
  const auto error_m = typed.value("reading-error", read_light_length_m);
  const double used_m = error_m.value_or(5.0 * nm);
  within("reading-error", used_m / nm, 0.0, 500.0, " nm", "give for example 5nm");
  Seen seen;
  seen.retardation_m = stress::around(seen_m, used_m);
  seen.how = "retardation measured";
  if (!error_m) seen.assumed.emplace_back("A compensator is read to 5 nm (assumed)");
  return seen;
}

/// Where a colour is listed, for a message: "order 1: 270-480 nm, order 2: 800-960 nm".
std::string where_listed(const std::string& name) {
  std::string text;
  for (const stress::InterferenceColour& colour : stress::interference_colours()) {
    if (colour.name != name) continue;
    text += fmt::format("{}{}: {:.0f} to {:.0f} nm",
                        text.empty() ? "order " : ", ",
                        colour.order,
                        colour.low_m / nm,
                        colour.high_m / nm);
  }
  return text;
}

Seen by_colour(const Typed& typed) {
  refuse(typed, {"bands", "wavelength", "reading-error"}, "--colour");
  std::string name = *typed.text("colour");
  if (name == "gray") name = "grey";
  if (name == "purple") name = "violet";
  const stress::ColourOrders orders = stress::orders_of(name);
  require("colour",
          orders.count > 0,
          in_quotes(name) + " is not known",
          "write black, grey, white, yellow, orange, red, violet, blue or green");
  const auto plate_m = typed.value("tint-plate", read_light_length_m);
  if (plate_m) {
    within(
        "tint-plate", *plate_m / nm, 500.0, 600.0, " nm", "one whole wave; most have 530 to 575");
  }
  const std::optional<int> order = typed.value("order", read_whole_number);
  require("order",
          order || orders.count == 1 || plate_m,
          fmt::format("it is missing: {} comes back ({})", name, where_listed(name)),
          "count from glass that stays dark: the first violet ends order 1");
  const stress::InterferenceColour* const colour =
      stress::find_colour(name, order.value_or(orders.first));
  require("order",
          colour != nullptr,
          fmt::format("{} is not listed in order {}", name, order.value_or(0)),
          where_listed(name));
  std::string how = fmt::format("{} of order {}, {:.0f} to {:.0f} nm",
                                name,
                                colour->order,
                                colour->low_m / nm,
                                colour->high_m / nm);
  if (plate_m) how += fmt::format(", seen with a tint plate of {:.0f} nm", *plate_m / nm);
  Seen seen;
  seen.retardation_m = stress::retardation_of_colour_m(*colour, plate_m);
  seen.how = how;
  seen.assumed.emplace_back("White light; the colour's range is computed, not published");
  if (plate_m && !order && orders.count > 1) {
    seen.assumed.push_back(
        fmt::format("With the tint plate, {} is that of order {} (assumed)", name, colour->order));
  }
  seen.colour = true;
  seen.dark = name == "black" && !plate_m;
  return seen;
}

Seen read_seen(const Typed& typed) {
  constexpr const char* ways[] = {"turn", "discs", "colour", "compensator"};
  std::vector<std::string> given;
  for (const char* const way : ways) {
    if (typed.has(way)) given.emplace_back(way);
  }
  if (given.empty()) {
    throw Error{{},
                "reading needs what was seen",
                "write one of --turn 34deg, --discs 3, --colour grey, --compensator 107nm"};
  }
  require(given.back(),
          given.size() == 1,
          fmt::format("--{} is given as well", given.front()),
          "leave one of them out");
  if (given.front() == "turn") return by_turn(typed);
  if (given.front() == "discs") return by_discs(typed);
  if (given.front() == "colour") return by_colour(typed);
  return by_retardation(typed);
}

Length read_size(const Typed& typed, const std::string& name) {
  const Length length = *typed.value(name, read_length);
  within(name, length.in_mm(), 1.0, 2000.0, " mm", "check the number and its unit");
  return length;
}

stress::Spread read_path_m(const Typed& typed) {
  require("path", typed.has("path"), "it is missing", "write for example --path 60mm");
  const Length path = read_size(typed, "path");
  constexpr double usual_share = 0.02;
  const auto error = typed.value("path-error", read_length);
  const double error_m = error ? error->in_m() : usual_share * path.in_m();
  within("path-error",
         error_m * 1e3,
         0.0,
         0.5 * path.in_mm(),
         " mm",
         "half of the path at most: measure it better");
  return stress::around(path.in_m(), error_m);
}

}  // namespace

ExitStatus reading(const Options& options) {
  const Typed& typed = options.typed;
  const Seen seen = read_seen(typed);
  const stress::Spread path_m = read_path_m(typed);

  StressOpticalRange range = unknown_stress_optical_range();
  std::string glass = "no glass was named: that of most glasses (assumed)";
  if (options.glass) {
    const Glass named = load_glass(*options.glass, option("glass"));
    range = stress_optical_range(named);
    require("glass",
            range.low_per_Pa > 0.0,
            "its stress-optical coefficient is zero: it shows no light",
            "a very dense flint cannot be read with a polariscope");
    glass = named.title + (range.assumed ? ": its family's, from memory (assumed)"
                                         : ", the file's value to 5 % (assumed)");
  }
  ReadingContext context{
      .reading =
          {.retardation_m = seen.retardation_m,
           .path_m = path_m,
           .stress_optical_per_Pa = {range.low_per_Pa, range.value_per_Pa, range.high_per_Pa},
           .view = typed.choice<View>("view", {{"edge", View::edge}, {"face", View::face}})
                       .value_or(View::edge),
           .looks = typed
                        .choice<Looks>("looks",
                                       {{"clear", Looks::clear},
                                        {"coloured", Looks::coloured},
                                        {"opal", Looks::opal}})
                        .value_or(Looks::clear),
           .hugs =
               typed
                   .choice<Hugs>("hugs", {{"nothing", Hugs::nothing}, {"boundary", Hugs::boundary}})
                   .value_or(Hugs::nothing),
           .warm = typed.has("warm")},
      .limits = options.limits,
      .next = typed.choice<Use>("next",
                                {{"display", Use::display},
                                 {"cutting", Use::cutting},
                                 {"re-annealing", Use::re_annealing}}),
      .wall = typed.has("thickness") ? read_size(typed, "thickness") : Length::from_m(path_m.value),
      .how = seen.how,
      .glass = glass,
      .assumed = seen.assumed,
      .white_light_colour = seen.colour,
      .dark = seen.dark,
      .display = {options.degrees.value_or(Degrees::celsius), options.lengths}};
  if (!typed.has("path-error")) context.assumed.emplace_back("The path is known to 2 % (assumed)");
  if (!typed.has("view"))
    context.assumed.emplace_back("Seen along the faces, through an edge (assumed)");
  if (!typed.has("looks")) context.assumed.emplace_back("Clear glass (assumed)");

  const ReadingResult result = judge(context.reading, context.limits);
  switch (options.format) {
    case Format::text: deliver(options, reading_text(context, result)); break;
    case Format::csv: deliver(options, reading_csv(context, result)); break;
    case Format::keys:
      deliver(options, reading_keys(context, result) + limit_keys(context.limits));
      break;
  }
  return worst(context, result) == Objection::none_found ? fine : over_a_limit;
}

}  // namespace thickset::cli
