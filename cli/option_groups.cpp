#include "option_groups.h"

#include <string>

#include <boost/program_options/value_semantic.hpp>

namespace thickset::cli {

namespace po = boost::program_options;

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
      "3mm to 1000mm; of a slab, or the diameter of a rod or ball: the largest ball that fits into "
      "the glass, "
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

po::options_description rows_options() {
  po::options_description group{"What is cast, in each thickness"};
  group.add_options()("glass", po::value<std::string>(), "a .glass file, or a name from `list`")(
      "rows",
      po::value<std::string>(),
      "the thicknesses, 3mm to 1000mm, from thin to thick (20mm,40mm,60mm,90mm,130mm,180mm)")(
      "shape", po::value<std::string>(), "slab (the default), rod or ball, by its diameter")(
      "faces",
      po::value<std::string>(),
      "of a slab: both (the default), one-free (one face cools, free to bend) or one-held (held "
      "flat, as a mould does)")(
      "mould",
      po::value<std::string>(),
      "the layers all round, of one thickness in every row; \"plaster-silica 25mm\". See `tail`")(
      "top", po::value<std::string>(), "of a slab: the layers on its top instead, or open")(
      "bottom",
      po::value<std::string>(),
      "of a slab: the layers under it; insulated, alone or last, where no heat passes")(
      "mould-grips",
      po::value<std::string>(),
      "yes: the slab is held flat (where something touches it, the default); no: free to bend");
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

po::options_description firing_options(Begins begins) {
  po::options_description group{"The firing"};
  group.add_options()("kiln", po::value<std::string>(), "a .kiln file, or a name from `list`");
  if (begins == Begins::hot) {
    group.add_options()(
        "from", po::value<std::string>(), "glass and kiln at the start, even and relaxed (800C)");
  }
  group.add_options()("room", po::value<std::string>(), "the room (20C)");
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

po::options_description table_controller_options() {
  po::options_description group{"The controller"};
  group.add_options()("controller",
                      po::value<std::string>(),
                      "a .controller file, or a name from `list` (twenty-steps-by-rate, so that it "
                      "hardly binds)");
  return group;
}

po::options_description sure_options() {
  po::options_description group{"How sure"};
  group.add_options()(
      "confidence",
      po::value<std::string>(),
      "the chance that is asked for (0.9): castings are drawn from what is not known exactly "
      "(thickness, sensor, glass, exchange, mould), and the report says how many of 100 stay "
      "within the limits; off: none are drawn")(
      "threads",
      po::value<std::string>(),
      "how many are computed at once (as many as the machine "
      "has processors); the answer is the same");
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

po::options_description page_options() {
  po::options_description group{"The firing as a page and as pictures"};
  group.add_options()("page",
                      po::value<std::string>(),
                      "write a page to print into this .html file: the steps with boxes to tick, "
                      "charts, what was assumed, cautions; it needs no network and runs no script")(
      "card",
      "print the keying card alone, to be taped to the kiln: 40 columns of plain text with the "
      "steps as they are keyed")(
      "path",
      po::value<std::string>(),
      "glass that the light passes in the view between crossed polarisers (100mm is assumed); "
      "60mm");
  return group;
}

po::options_description picture_options() {
  po::options_description group = page_options();
  group.add_options()("chart", po::value<std::string>(), "draw one chart into this .svg file")(
      "chart-of",
      po::value<std::string>(),
      "which: temperature (kiln, surface and core against time, the default), stress (tension and "
      "growing permanent stress), section (through the thickness), edge (the view between crossed "
      "polarisers) or, of a tail, rates (against temperature)");
  return group;
}

po::options_description table_picture_options() {
  po::options_description group{"The table as a page and as a picture"};
  group.add_options()("page",
                      po::value<std::string>(),
                      "write a page to print into this .html file: the hours, their chart, what "
                      "was assumed, cautions; it needs no network and runs no script")(
      "chart", po::value<std::string>(), "draw hours against thickness into this .svg file");
  return group;
}

po::options_description sketch_options() {
  po::options_description group{"The firing in character cells"};
  group.add_options()(
      "sketch",
      "draw it below the report: kiln, core and surface against time, tension against its limit; "
      "on a terminal of 80 columns or more that is done without asking")(
      "no-sketch", "do not, on a terminal either");
  return group;
}

po::options_description record_options() {
  po::options_description group{"The firing for later"};
  group.add_options()(
      "record",
      po::value<std::string>(),
      "write all of it into this text file: options, glass, kiln and the other files, program or "
      "log, outcome; `check FILE` computes it again from that alone");
  return group;
}

po::options_description output_options() {
  po::options_description group{"Output"};
  group.add_options()("degrees", po::value<std::string>(), "C or F")(
      "lengths", po::value<std::string>(), "mm or inch")(
      "format", po::value<std::string>(), "text, csv or keys")(
      "out",
      po::value<std::string>(),
      "write to this file instead of the screen; csv where its name ends so")(
      "ascii", "text in ASCII alone, as on a terminal whose locale is not UTF-8")("help",
                                                                                  "this page");
  return group;
}

po::options_description kiln_output_options() {
  po::options_description group{"Output"};
  group.add_options()("degrees", po::value<std::string>(), "C or F")(
      "format", po::value<std::string>(), "text or keys")(
      "out", po::value<std::string>(), "write the .kiln file here")(
      "ascii", "text in ASCII alone, as on a terminal whose locale is not UTF-8")("help",
                                                                                  "this page");
  return group;
}

}  // namespace thickset::cli
