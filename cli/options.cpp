#include "options.h"

#include <algorithm>
#include <array>
#include <cctype>
#include <map>
#include <sstream>
#include <vector>

#include <fmt/format.h>
#include <boost/program_options.hpp>

#include "base/entries.h"
#include "base/error.h"
#include "base/text.h"
#include "glass/read_relaxation.h"
#include "read_clock.h"
#include "read_stage_wishes.h"
#include "reporting/cautions.h"
#include "units/read_quantity.h"

namespace thickset::cli {
namespace {

namespace po = boost::program_options;

struct CommandInfo {
  Command command;
  const char* name;
  const char* answers;
  const char* example;
};

constexpr CommandInfo commands[] = {
    {Command::hold,
     "hold",
     "how hot to hold, how long, and what that time is made of",
     "thickset hold --glass soda-lime-float --thickness 60mm"},
    {Command::tail,
     "tail",
     "the hold and the staged cool-down as steps for your controller, simulated, with what limits "
     "each stage",
     "thickset tail --casting block-75x75x150 --controller seven-steps-by-time"},
    {Command::check,
     "check",
     "is this program too fast, or was this firing, by its log: where, by how much, and what mends "
     "it",
     "thickset check tail.csv --casting slab-50"},
    {Command::rewarm,
     "rewarm",
     "how fast a cold thick piece may be heated for another anneal, and the anneal",
     "thickset rewarm --casting slab-50 --retardation 60nm/cm"},
    {Command::kiln,
     "kiln",
     "a kiln's own fall from a log of it: rates against temperature, as a .kiln file",
     "thickset kiln data/logs/slab-50-good.csv --between 0h,80min"},
    {Command::convert,
     "convert",
     "a program in another notation, unit or controller, and its loss",
     "thickset convert tail.csv --to rate --degrees F"},
    {Command::list,
     "list",
     "the glasses, castings, moulds, kilns and controllers that ship, and what each value rests on",
     "thickset list casting-soda-lime-9.0"},
    {Command::reading,
     "reading",
     "what the polariscope showed: nm/cm, MPa with their range, and what it objects to",
     "thickset reading --turn 34deg --path 60mm --glass soda-lime-float"},
    {Command::why,
     "why",
     "likely causes of a break, ranked by what was seen, and what would tell them apart; never a "
     "verdict",
     "thickset why --edges sharp --path hooked --when later"},
    {Command::sag,
     "sag",
     "the annealing point of an unknown glass as a range, from a strip that sagged in the kiln",
     "thickset sag --touch 655C --thickness 6mm --drop 25mm"},
};

const CommandInfo& info_of(Command command) {
  return *std::find_if(std::begin(commands), std::end(commands), [&](const CommandInfo& info) {
    return info.command == command;
  });
}

po::options_description casting_options() {
  po::options_description group{"The casting: a file, or a glass and a shape"};
  group.add_options()(
      "casting", po::value<std::string>(), "a .casting file, or a name from `list`")(
      "glass", po::value<std::string>(), "a .glass file, or a name from `list`")(
      "shape",
      po::value<std::string>(),
      "slab (the default), rod, ball, block, disc, bar, prism, tube, vessel, dome, cone, wedge, "
      "boss "
      "(a disc with one) or dumbbell (two lumps with a neck)")(
      "thickness",
      po::value<std::string>(),
      "of a slab, or the diameter of a rod or ball: the largest ball that fits into the glass, "
      "reservoir included; 75mm, 3in")("size",
                                       po::value<std::string>(),
                                       "of the other shapes: block 75x75x150mm, disc 200x40mm "
                                       "(diameter x height), bar 60x90mm, prism 80mm (side), tube "
                                       "120x15mm (outer diameter x wall), vessel 200x250x15x20mm "
                                       "(outer diameter x height x wall x bottom), dome 120x40mm, "
                                       "cone 100x150mm (diameter x height), wedge "
                                       "300x200x60x20mm (length x width x thick end x thin end), "
                                       "boss 200x30x80x40mm (disc and boss, each diameter x "
                                       "height), dumbbell 80x60x30x20mm (two diameters, the "
                                       "neck's and its length)")(
      "faces",
      po::value<std::string>(),
      "of a slab: both (the default), one-free (one face cools, free to bend) or one-held (held "
      "flat, as a mould does). A face against a core or a shelf does not cool")(
      "inside",
      po::value<std::string>(),
      "of a tube or a vessel: open (cooled as the outside is) or core (not cooled)")(
      "mesh",
      po::value<std::string>(),
      "an STL file of any other solid, instead of --shape and --size: its thickness, slabs that "
      "stand for it, glass to weigh out, warnings")(
      "mesh-unit", po::value<std::string>(), "what the STL file counts in: mm or inch")(
      "insulated",
      po::value<std::string>(),
      "of a mesh: sides of its box that do not cool, with commas; bottom, top (along z), left, "
      "right (x), front, back (y). Of a vessel, dome, cone or boss: bottom; of a wedge left (its "
      "thick end), right, front and back too")(
      "reservoir", po::value<std::string>(), "largest ball that fits into the reservoir; 90mm");
  return group;
}

po::options_description mould_options() {
  po::options_description group{
      "What lies against the glass: layers from it outwards, with commas"};
  group.add_options()(
      "mould",
      po::value<std::string>(),
      "all round, on both faces of a slab; \"plaster-silica 25mm, fibre-blanket 13mm\". A layer "
      "is a material from `list moulds` or a .mould file and its thickness, `air 20mm` for a gap, "
      "or `contact 0.01 m2 K/W`")(
      "top",
      po::value<std::string>(),
      "of a slab or a mesh: the layers on its top instead; open where it sees the kiln. Of a mesh "
      "that is what faces up at the top of its box: a hollow below counts as walled")(
      "bottom",
      po::value<std::string>(),
      "of a slab or a mesh: the layers under it; \"plaster-silica 25mm, cordierite-shelf 15mm\"; "
      "insulated, alone or last, where no heat passes")(
      "left",
      po::value<std::string>(),
      "of a mesh, as right, front and back: the layers on that side of its box; --mould is then "
      "what lies against the rest")("right", po::value<std::string>(), "see left")(
      "front", po::value<std::string>(), "see left")("back", po::value<std::string>(), "see left")(
      "mould-grips",
      po::value<std::string>(),
      "yes: the slab is held flat (where something touches it, the default); no: free to bend. "
      "Counts where top and bottom differ");
  return group;
}

po::options_description firing_options() {
  po::options_description group{"The firing"};
  group.add_options()("kiln", po::value<std::string>(), "a .kiln file, or a name from `list`")(
      "from", po::value<std::string>(), "glass and kiln at the start, even and relaxed (800C)")(
      "room", po::value<std::string>(), "the room (20C)");
  return group;
}

po::options_description limit_options() {
  po::options_description group{"Limits"};
  group.add_options()("grade",
                      po::value<std::string>(),
                      "permanent retardation, seen edge-on: nm/cm, or a word of ISO 10110-18: "
                      "coarse (20nm/cm, the default: above it an anneal is coarse), fine (10nm/cm: "
                      "below it an anneal is fine) or precision (5nm/cm)")(
      "tension",
      po::value<std::string>(),
      "largest tension at any moment: MPa, or the surface: raw (3MPa, the default: as cast or "
      "unknown) or ground (4MPa: all over), both assumed; a number up to 7MPa only for flaw-free "
      "faces without re-entrant corners");
  return group;
}

po::options_description hold_options() {
  po::options_description group{"The hold"};
  group.add_options()(
      "hold-at", po::value<std::string>(), "fix the hold temperature (the annealing point)");
  return group;
}

po::options_description controller_options() {
  po::options_description group{"The controller"};
  group.add_options()(
      "controller", po::value<std::string>(), "a .controller file, or a name from `list`");
  return group;
}

po::options_description reading_options() {
  po::options_description group{"The reading: one of turn, discs, colour and retardation"};
  group.add_options()("turn",
                      po::value<std::string>(),
                      "how far the analyser was turned until the spot was darkest, with a "
                      "quarter-wave plate before it; 34deg")(
      "bands",
      po::value<std::string>(),
      "with --turn: whole dark bands between the spot and glass that stays dark (0)")(
      "wavelength", po::value<std::string>(), "with --turn: of the light (565nm, for white)")(
      "discs",
      po::value<std::string>(),
      "reference discs of ASTM C148 that look as bright; 3, 2.5")(
      "colour",
      po::value<std::string>(),
      "between crossed polarisers, in white light: black, grey, white, yellow, orange, red, "
      "violet, blue or green")(
      "order",
      po::value<std::string>(),
      "of the colour: 1 from the dark to the first violet, 2 to the next (blue, green, yellow, "
      "orange, red, violet), 3, 4. Count from glass that stays dark")(
      "tint-plate",
      po::value<std::string>(),
      "retardation of a tint plate in the light, whose field is violet-red; 565nm")(
      "compensator", po::value<std::string>(), "what a compensator shows; 107nm")(
      "reading-error",
      po::value<std::string>(),
      "how far the reading may be off: 2deg, 5nm or 0.5 discs (those are assumed)");
  return group;
}

po::options_description piece_options() {
  po::options_description group{"The piece"};
  group.add_options()("path", po::value<std::string>(), "glass that the light passes; 60mm")(
      "path-error", po::value<std::string>(), "how far that may be off (2 % is assumed); 2mm")(
      "thickness",
      po::value<std::string>(),
      "for the real temper number of ASTM C148: of the wall that the light passes (the path)")(
      "glass",
      po::value<std::string>(),
      "a .glass file, or a name from `list`: its stress-optical coefficient (else assumed)")(
      "view",
      po::value<std::string>(),
      "edge: along the faces (the default); face: through the faces of a slab")(
      "looks", po::value<std::string>(), "clear (the default), coloured or opal")(
      "hugs",
      po::value<std::string>(),
      "what the light follows: nothing (the whole piece, the default) or boundary, of two glasses")(
      "warm", "the piece is not as cool as the room all through: held in a hand, lit by a lamp")(
      "next",
      po::value<std::string>(),
      "what is to be done with it: display, cutting or re-annealing (all three)");
  return group;
}

po::options_description break_options() {
  po::options_description group{"What was seen of the break: any of these"};
  group.add_options()("edges", po::value<std::string>(), "of the crack: sharp or rounded")(
      "path",
      po::value<std::string>(),
      "of the crack: straight, hooked (curved, S-shaped), along-boundary (of two glasses), "
      "from-a-spot (a spider) or from-corner (an inner corner, a core)")(
      "when",
      po::value<std::string>(),
      "it broke: heating, cooling, opening (or was found so), cold-work, or later (days to years)")(
      "fits", po::value<std::string>(), "how the pieces fit: perfectly or slightly-off")(
      "light",
      po::value<std::string>(),
      "between crossed polarisers, the piece seen along its faces: at-boundary (of two glasses), "
      "all-over or none");
  return group;
}

po::options_description sag_options() {
  po::options_description group{"A strip on two posts, heated until its sagging middle touches"};
  group.add_options()("touch", po::value<std::string>(), "what the kiln read then; 655C")(
      "rate", po::value<std::string>(), "how fast it was heated over the last 50 C (50C/h)")(
      "span", po::value<std::string>(), "between the posts (275mm)")(
      "thickness", po::value<std::string>(), "of the strip, with --drop; its width does not count")(
      "drop",
      po::value<std::string>(),
      "how far the middle had to sink; without both a rule of thumb alone is used")(
      "sensor-error",
      po::value<std::string>(),
      "how far the sensor may be off (the tolerance of a type K); 5C");
  return group;
}

/// What tail and check share beyond their limits: the stress model and what it can write.
po::options_description stress_options() {
  po::options_description group{"The stress model"};
  group.add_options()("bulk",
                      po::value<std::string>(),
                      "treatment of the bulk: relaxing, elastic or constant-ratio (the glass's "
                      "own, else relaxing)")(
      "explain", "also compute the other treatments, and how much of the stress is structural")(
      "trace", po::value<std::string>(), "write the history to this .csv file")(
      "profile", po::value<std::string>(), "write the final stress through the thickness");
  return group;
}

po::options_description output_options() {
  po::options_description group{"Output"};
  group.add_options()("degrees", po::value<std::string>(), "C or F")(
      "lengths", po::value<std::string>(), "mm or inch")(
      "format", po::value<std::string>(), "text, csv or keys")(
      "out",
      po::value<std::string>(),
      "write to this file instead of the screen; csv where its name ends so")("help", "this page");
  return group;
}

po::options_description kiln_output_options() {
  po::options_description group{"Output"};
  group.add_options()("degrees", po::value<std::string>(), "C or F")(
      "format", po::value<std::string>(), "text or keys")(
      "out", po::value<std::string>(), "write the .kiln file here")("help", "this page");
  return group;
}

/// The options of one command, in the order its help shows them.
std::vector<po::options_description> groups_of(Command command) {
  po::options_description more{"More"};
  switch (command) {
    case Command::hold:
      more.add_options()("explain", "say what the hold waits for");
      return {casting_options(),
              mould_options(),
              hold_options(),
              firing_options(),
              limit_options(),
              controller_options(),
              more,
              output_options()};
    case Command::tail:
      more.add_options()("hold", po::value<std::string>(), "fix the length of the hold; 3h, 90min")(
          "steps",
          po::value<std::string>(),
          "most steps the tail may take (all that are left), or auto: the fewest that take at most "
          "5 % longer than the quickest")("with",
                                          po::value<std::string>(),
                                          "other castings in the same kiln, files or names with "
                                          "commas between: the tail is for all "
                                          "of them")(
          "stage-ends",
          po::value<std::string>(),
          "fix where stages end, all but the last; 450C,free,300C")(
          "rates", po::value<std::string>(), "fix the rates of the stages; 4C/h,free,60C/h")(
          "chart",
          po::value<std::string>(),
          "draw the rates against temperature into this .svg file")(
          "heat-up",
          po::value<std::string>(),
          "a program with your own heat-up: its steps come first and are taken off those of the "
          "controller")(
          "reserve",
          po::value<std::string>(),
          "or only how many steps your heat-up takes; lines, where ramps and holds are lines")(
          "start",
          po::value<std::string>(),
          "when the tail starts, \"2026-11-27 18:00\": prints clock times");
      return {casting_options(),
              mould_options(),
              controller_options(),
              hold_options(),
              limit_options(),
              firing_options(),
              stress_options(),
              more,
              output_options()};
    case Command::check:
      more.add_options()(
          "start",
          po::value<std::string>(),
          "when the program, or a log without clock times, starts: \"2026-11-27 18:00\"")(
          "plan",
          po::value<std::string>(),
          "of a log: the program that was meant; the two are put together where the fall begins")(
          "sensor",
          po::value<std::string>(),
          "of a log: the temperature column to use (air_C, air_F, kiln_C, kiln_F, else the first)");
      return {casting_options(),
              mould_options(),
              controller_options(),
              limit_options(),
              firing_options(),
              stress_options(),
              more,
              output_options()};
    case Command::rewarm:
      more.add_options()(
          "retardation",
          po::value<std::string>(),
          "what the piece shows now, edge-on through its middle; 60nm/cm. Its centre holds that "
          "tension, and heating adds to it")(
          "hold", po::value<std::string>(), "hold at least this long; 3h, 90min")(
          "steps", po::value<std::string>(), "most steps the tail may take (all that are left)")(
          "start", po::value<std::string>(), "when the heating starts, \"2026-11-27 18:00\"");
      return {casting_options(),
              mould_options(),
              controller_options(),
              hold_options(),
              limit_options(),
              firing_options(),
              more,
              output_options()};
    case Command::kiln:
      more.add_options()("room", po::value<std::string>(), "the room during that firing (20C)")(
          "between",
          po::value<std::string>(),
          "the part of the log with the elements off, counted from its first reading: 14h,30h (the "
          "longest fall after the hottest reading)")(
          "sensor",
          po::value<std::string>(),
          "the temperature column to use (air_C, air_F, kiln_C, kiln_F, else the first)")(
          "second",
          po::value<std::string>(),
          "another temperature column: how far it lags behind the first, and their offset");
      return {more, kiln_output_options()};
    case Command::convert:
      more.add_options()("to", po::value<std::string>(), "rate or time notation")(
          "from", po::value<std::string>(), "where the program begins, when it has no start row");
      return {controller_options(), more, output_options()};
    case Command::list: return {output_options()};
    case Command::reading:
      return {reading_options(), piece_options(), limit_options(), output_options()};
    case Command::why: return {break_options(), output_options()};
    case Command::sag: return {sag_options(), output_options()};
    case Command::help:
    case Command::version: break;
  }
  return {};
}

/// What was typed, by the names of the options.
std::map<std::string, std::string> words_of(const po::variables_map& map) {
  std::map<std::string, std::string> words;
  for (const auto& [name, value] : map) {
    if (name == "operand") continue;
    const auto* const text = boost::any_cast<std::string>(&value.value());
    words[name] = text != nullptr ? *text : "";
  }
  return words;
}

void read_limits(const Typed& typed, Options& options) {
  if (const auto grade = typed.value("grade", read_grade)) {
    options.limits.grade = grade->value;
    options.limits.grade_reason = grade->reason;
  }
  if (const auto tension = typed.value("tension", read_tension)) {
    options.limits.tension = tension->value;
    options.limits.tension_reason = tension->reason;
  }
}

void read_firing(const Typed& typed, Options& options) {
  if (const auto from = typed.value("from", read_temperature)) {
    require("from",
            from->in_C() >= -20.0 && from->in_C() <= 1300.0,
            fmt::format("{:.0f} C is outside -20 to 1300 C", from->in_C()),
            "give the end of the process hold, such as 800C");
    options.firing.from = *from;
    options.from_given = true;
  }
  if (const auto room = typed.value("room", read_temperature)) {
    require("room",
            room->in_C() >= -20.0 && room->in_C() <= 50.0,
            fmt::format("{:.0f} C is outside -20 to 50 C", room->in_C()),
            "give the temperature of the room the kiln stands in");
    options.firing.room = *room;
  }
}

/// "14h,30h".
std::pair<Duration, Duration> read_part_of_log(const std::string& text, const Place& place) {
  const std::size_t comma = text.find(',');
  if (comma == std::string::npos) {
    throw Error{place,
                fmt::format("{} is not two times", in_quotes(text)),
                "write from and to since the first reading: 14h,30h"};
  }
  const Duration from = read_duration(text.substr(0, comma), place);
  const Duration to = read_duration(text.substr(comma + 1), place);
  constexpr double longest_h = 24000.0;
  if (!(in_s(from) >= 0.0 && to > from && in_h(to) <= longest_h)) {
    throw Error{place,
                fmt::format("{} does not go forward within {:g} h", in_quotes(text), longest_h),
                "write the earlier time first: 14h,30h"};
  }
  return {from, to};
}

void read_plan(const Typed& typed, Options& options) {
  options.hold_at = typed.value("hold-at", read_temperature);
  if (const auto hold = typed.value("hold", read_duration)) {
    require("hold",
            in_h(*hold) > 0.0 && in_h(*hold) <= 2400.0,
            fmt::format("{:g} h is not above 0 and up to 2400 h", in_h(*hold)),
            "write for example 3h");
    options.hold = *hold;
  }
  if (const auto with = typed.text("with")) {
    std::stringstream names{*with};
    for (std::string name; std::getline(names, name, ',');) options.with.push_back(name);
  }
  options.fewest_steps = typed.text("steps") == "auto";
  if (const auto steps =
          options.fewest_steps ? std::nullopt : typed.value("steps", read_whole_number)) {
    require("steps",
            *steps >= 2 && *steps <= 999,
            fmt::format("{} is outside 2 to 999", *steps),
            "a tail needs two steps at least: the hold and one cooling");
    options.steps = *steps;
  }
  if (const auto ends = typed.value("stage-ends", read_stage_ends)) options.stages.ends = *ends;
  if (const auto rates = typed.value("rates", read_stage_rates)) {
    options.stages.rates = *rates;
    const std::size_t ends = options.stages.ends.size();
    require("rates",
            ends == 0 || rates->size() == ends + 1,
            fmt::format("{} rates do not go with {} stage ends", rates->size(), ends),
            "give one rate more than ends, or write free for those to be found");
  }
  options.heat_up = typed.text("heat-up");
  if (const auto reserve = typed.value("reserve", read_whole_number)) {
    require("reserve", !options.heat_up, "--heat-up is given as well", "leave one of them out");
    require("reserve",
            *reserve >= 0 && *reserve <= 999,
            fmt::format("{} is outside 0 to 999", *reserve),
            "write how many steps your heat-up takes");
    options.reserve = *reserve;
  }
  if (options.command == Command::rewarm) {
    options.retardation = typed.value("retardation", read_retardation);
    require("retardation",
            options.retardation.has_value(),
            "it is not given",
            "write what the polariscope shows edge-on through the middle, such as 60nm/cm; heating "
            "adds to it");
    const double read = options.retardation->in_nm_per_cm();
    require("retardation",
            read >= 0.0 && read <= 1000.0,
            fmt::format("{:g} nm/cm is outside 0 to 1000 nm/cm", read),
            "check the reading: nm divided by the path in cm");
  }
  options.start = typed.value("start", read_clock);
  options.bulk = typed.value("bulk", read_bulk);
  options.trace = typed.text("trace");
  options.profile = typed.text("profile");
  options.chart = typed.text("chart");
  options.plan = typed.text("plan");
  options.sensor = typed.text("sensor");
  options.second = typed.text("second");
  options.between = typed.value("between", read_part_of_log);
  options.to = typed.choice<Notation>("to", {{"rate", Notation::rate}, {"time", Notation::time}});
}

void read_output(const Typed& typed, Options& options) {
  options.degrees = typed.choice<Degrees>("degrees",
                                          {{"C", Degrees::celsius},
                                           {"F", Degrees::fahrenheit},
                                           {"c", Degrees::celsius},
                                           {"f", Degrees::fahrenheit}},
                                          "write C or F");
  options.lengths =
      typed
          .choice<Lengths>(
              "lengths",
              {{"mm", Lengths::millimetre}, {"inch", Lengths::inch}, {"in", Lengths::inch}})
          .value_or(Lengths::millimetre);
  options.format =
      typed
          .choice<Format>("format",
                          {{"text", Format::text}, {"csv", Format::csv}, {"keys", Format::keys}})
          .value_or(Format::text);
  options.out = typed.text("out");
  // `check` reads a program, not a report: the ending of the file says which is wanted.
  const bool wants_csv = options.out && options.out->ends_with(".csv");
  if (wants_csv && !typed.text("format")) options.format = Format::csv;
}

/// "--thickness -5mm" reads as one option and its value, not as two options.
std::vector<std::string> joined_negative_values(const std::vector<std::string>& words) {
  std::vector<std::string> joined;
  for (const std::string& word : words) {
    const bool negative_number =
        word.size() > 1 && word[0] == '-' &&
        (std::isdigit(static_cast<unsigned char>(word[1])) != 0 || word[1] == '.');
    const bool after_option = !joined.empty() && joined.back().starts_with("--") &&
                              joined.back().find('=') == std::string::npos;
    if (negative_number && after_option) {
      joined.back() += "=" + word;
    } else {
      joined.push_back(word);
    }
  }
  return joined;
}

Command read_command(const std::string& word) {
  std::vector<std::string> names = {"help"};
  for (const CommandInfo& info : commands) {
    if (word == info.name) return info.command;
    names.emplace_back(info.name);
  }
  if (word == "help" || word == "--help" || word == "-h") return Command::help;
  if (word == "--version" || word == "version") return Command::version;
  const std::string nearest = nearest_name(word, names);
  throw Error{
      {},
      fmt::format("there is no command {}", in_quotes(word)),
      nearest.empty() ? "`thickset help` lists them" : fmt::format("did you mean {}?", nearest)};
}

po::variables_map parse(Command command, const std::vector<std::string>& words) {
  po::options_description all;
  std::vector<std::string> names;
  for (const po::options_description& group : groups_of(command)) all.add(group);
  for (const auto& known : all.options()) names.push_back("--" + known->long_name());
  all.add_options()("operand", po::value<std::vector<std::string>>());
  po::positional_options_description positional;
  positional.add("operand", -1);
  po::variables_map map;
  namespace style = po::command_line_style;
  try {
    po::store(po::command_line_parser{words}
                  .options(all)
                  .positional(positional)
                  .style(style::unix_style & ~style::allow_guessing)
                  .run(),
              map);
  } catch (const po::unknown_option& error) {
    const std::string nearest = nearest_name(error.get_option_name(), names);
    throw Error{
        {},
        fmt::format(
            "{} has no option {}", info_of(command).name, in_quotes(error.get_option_name())),
        nearest.empty() ? fmt::format("`thickset {} --help` lists them", info_of(command).name)
                        : fmt::format("did you mean {}?", nearest)};
  } catch (const po::multiple_occurrences& error) {
    throw Error{{.source = error.get_option_name()}, "given more than once", "give it once"};
  } catch (const po::error_with_option_name& error) {
    throw Error{{.source = error.get_option_name()},
                "its value is missing or not wanted",
                fmt::format("see `thickset {} --help`", info_of(command).name)};
  }
  for (const auto& [name, value] : map) {
    const auto* const text = boost::any_cast<std::string>(&value.value());
    if (text == nullptr || !text->starts_with("--")) continue;
    throw Error{option(name),
                fmt::format("its value is missing: {} follows", in_quotes(*text)),
                fmt::format("write a value after --{}", name)};
  }
  return map;
}

void read_operands(const po::variables_map& map, Options& options) {
  std::vector<std::string> operands;
  if (map.count("operand") > 0) operands = map["operand"].as<std::vector<std::string>>();
  const bool takes_log = options.command == Command::kiln;
  const bool takes_program =
      options.command == Command::check || options.command == Command::convert || takes_log;
  const bool takes_topic = options.command == Command::list;
  if (takes_program && operands.empty()) {
    throw Error{{},
                fmt::format("{} needs {}",
                            info_of(options.command).name,
                            takes_log                           ? "a log"
                            : options.command == Command::check ? "a program file or a log"
                                                                : "a program file"),
                fmt::format("for example: {}", info_of(options.command).example)};
  }
  const std::size_t most = takes_program || takes_topic ? 1 : 0;
  if (operands.size() > most) {
    throw Error{{},
                fmt::format("{} is not expected here", in_quotes(operands[most])),
                fmt::format("see `thickset {} --help`", info_of(options.command).name)};
  }
  if (operands.empty()) return;
  (takes_program ? options.program : options.topic) = operands.front();
}

}  // namespace

Options read_options(int argc, char** argv) {
  std::vector<std::string> words(argv + 1, argv + std::max(argc, 1));
  Options options;
  if (words.empty()) return options;
  options.command = read_command(words.front());
  words.erase(words.begin());
  if (options.command == Command::version) return options;
  if (options.command == Command::help) {
    if (!words.empty()) options.topic = words.front();
    if (!options.topic.empty() && options.topic != "cautions") read_command(options.topic);
    return options;
  }
  const po::variables_map map = parse(options.command, joined_negative_values(words));
  if (map.count("help") > 0) {
    options.topic = info_of(options.command).name;
    options.command = Command::help;
    return options;
  }
  read_operands(map, options);
  options.typed = Typed{words_of(map)};
  const Typed& typed = options.typed;
  options.casting = typed.text("casting");
  options.glass = typed.text("glass");
  options.shape = typed.text("shape");
  options.thickness = typed.text("thickness");
  options.size = typed.text("size");
  options.faces = typed.text("faces");
  options.inside = typed.text("inside");
  options.mesh = typed.text("mesh");
  options.mesh_unit = typed.text("mesh-unit");
  options.insulated = typed.text("insulated");
  options.reservoir = typed.value("reservoir", read_length);
  options.mould = typed.text("mould");
  options.top = typed.text("top");
  options.bottom = typed.text("bottom");
  options.left = typed.text("left");
  options.right = typed.text("right");
  options.front = typed.text("front");
  options.back = typed.text("back");
  options.mould_grips = typed.text("mould-grips");
  options.kiln = typed.text("kiln");
  options.controller = typed.text("controller");
  options.explain = map.count("explain") > 0;
  read_firing(typed, options);
  read_limits(typed, options);
  read_plan(typed, options);
  read_output(typed, options);
  return options;
}

std::string help_text(const std::string& topic) {
  if (topic == "cautions") return whole_cautions();
  std::string text;
  for (const CommandInfo& info : commands) {
    if (topic != info.name) continue;
    const bool takes_program = info.command == Command::check || info.command == Command::convert;
    const bool takes_log = info.command == Command::kiln;
    text = fmt::format("thickset {}{} [options]\n{}\n\n",
                       info.name,
                       info.command == Command::check  ? " PROGRAM or LOG"
                       : takes_log                     ? " LOG"
                       : takes_program                 ? " PROGRAM"
                       : info.command == Command::list ? " [KIND or NAME]"
                                                       : "",
                       wrapped(info.answers, 78, 0));
    for (const po::options_description& group : groups_of(info.command)) {
      fmt::format_to(std::back_inserter(text), "{}\n", [&] {
        std::ostringstream shown;
        shown << group;
        return shown.str();
      }());
    }
    return text + wrapped(fmt::format("Example: {}", info.example), 79, 9) + '\n';
  }
  text =
      "thickset: annealing and cooling of thick glass castings.\n\n"
      "thickset COMMAND [options]\n\n";
  for (const CommandInfo& info : commands) {
    text += wrapped(fmt::format("  {:<8} {}", info.name, info.answers), 78, 11) + '\n';
  }
  return text +
         "\nEvery quantity carries its unit: 75mm or 3in, 513C or 955F, 9C/h, 20nm/cm, 3MPa.\n"
         "`thickset COMMAND --help` shows a command's options, `thickset help cautions`\n"
         "the cautions in full.\n"
         "Exit status: 0 fine, 1 over a limit or not to be keyed, 2 mend the input, 3 our\n"
         "fault.\n\n" +
         short_cautions();
}

}  // namespace thickset::cli
