#include "command_options.h"

#include <string>

#include <boost/program_options/value_semantic.hpp>

#include "option_groups.h"

namespace thickset::cli {
namespace {

namespace po = boost::program_options;

po::options_description reading_options() {
  po::options_description group{"The reading: one of --turn, --discs, --colour and --compensator"};
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

po::options_description moment_options() {
  po::options_description group{"This moment: a log up to now, or"};
  group.add_options()("air", po::value<std::string>(), "what the display shows now; 430C")(
      "since-hold",
      po::value<std::string>(),
      "with --plan: how long ago the program's hold ended, by the clock; 20h")(
      "since-start", po::value<std::string>(), "with --plan: or how long ago it began; 30h")(
      "off-for",
      po::value<std::string>(),
      "with --plan: the elements have been off for so long, by a power cut; 45min. Else, where the "
      "display is below the program, that is found from the kiln's own fall")(
      "plan",
      po::value<std::string>(),
      "the program that runs (without one, beside a log, a tail is planned)")(
      "at",
      po::value<std::string>(),
      "look back: as if the log ended so long after its first reading; 14h")(
      "until",
      po::value<std::string>(),
      "how cool the slowest glass is to be: how long that takes; 432C")(
      "sensor",
      po::value<std::string>(),
      "of a log: the temperature column to use (air_C, air_F, kiln_C, kiln_F, else the first)")(
      "start",
      po::value<std::string>(),
      "when a log without clock times starts: \"2026-11-27 18:00\"");
  return group;
}

}  // namespace

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
          "heat-up",
          po::value<std::string>(),
          "a program with your own heat-up: its steps come first and are taken off those of the "
          "controller")(
          "reserve",
          po::value<std::string>(),
          "or only how many steps your heat-up takes; lines, where ramps and holds are lines")(
          "start",
          po::value<std::string>(),
          "when the tail starts, \"2026-11-27 18:00\": prints clock times")(
          "awake",
          po::value<std::string>(),
          "with --start: move the start, by up to a day, so that as many moments to look in as can "
          "be fall in these hours; 07:00-23:00");
      return {casting_options(),
              mould_options(),
              controller_options(),
              hold_options(),
              limit_options(),
              sure_options(),
              firing_options(),
              stress_options(),
              picture_options(),
              sketch_options(),
              record_options(),
              more,
              output_options()};
    case Command::table:
      return {rows_options(),
              firing_options(),
              limit_options(),
              hold_options(),
              table_controller_options(),
              table_picture_options(),
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
              sure_options(),
              firing_options(),
              stress_options(),
              picture_options(),
              sketch_options(),
              record_options(),
              more,
              output_options()};
    case Command::sure:
      more.add_options()("samples", po::value<std::string>(), "how many castings are drawn (1024)")(
          "slice",
          po::value<std::string>(),
          "compute one part of several alone, into the file of --out; 3/40 is the third of forty, "
          "which any scheduler may run anywhere")(
          "gather", "the files named are parts: put them together, for the answer of the whole")(
          "explain", "also what each input changes alone, at either end of its range")(
          "bulk",
          po::value<std::string>(),
          "treatment of the bulk: relaxing, elastic or constant-ratio (of all three the one that "
          "leaves neither most nor least)")(
          "sensor",
          po::value<std::string>(),
          "of a log: the temperature column to use (air_C, air_F, kiln_C, kiln_F, else the first)");
      return {sure_options(),
              more,
              casting_options(),
              mould_options(),
              controller_options(),
              limit_options(),
              firing_options(),
              output_options()};
    case Command::now:
      return {moment_options(),
              casting_options(),
              mould_options(),
              controller_options(),
              hold_options(),
              limit_options(),
              firing_options(),
              page_options(),
              sketch_options(),
              record_options(),
              output_options()};
    case Command::rewarm:
      more.add_options()(
          "retardation",
          po::value<std::string>(),
          "needed: what the piece shows now, edge-on through its middle; 60nm/cm. Its centre "
          "holds that tension, and heating adds to it. Not read: what an anneal that went wrong "
          "may have left, such as 100nm/cm; 0nm/cm only if it was annealed well")(
          "hold", po::value<std::string>(), "hold at least this long; 3h, 90min")(
          "steps", po::value<std::string>(), "most steps the tail may take (all that are left)")(
          "start", po::value<std::string>(), "when the heating starts, \"2026-11-27 18:00\"");
      return {casting_options(),
              mould_options(),
              controller_options(),
              hold_options(),
              limit_options(),
              firing_options(Begins::cold),
              more,
              page_options(),
              sketch_options(),
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

}  // namespace thickset::cli
