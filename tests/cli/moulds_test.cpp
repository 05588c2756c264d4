#include <doctest/doctest.h>

#include <cmath>
#include <string>
#include <vector>

#include "cli/read_answer.h"
#include "cli/run_program.h"
#include "slow_build.h"
#include "temporary_folder.h"

using namespace thickset;

namespace {

using Words = std::vector<std::string>;
using Keys = std::map<std::string, std::string>;

Words with(Words words, const Words& more) {
  words.insert(words.end(), more.begin(), more.end());
  return words;
}

const Words slab = {"--glass", "casting-soda-lime-9.0", "--thickness", "60mm"};
const Words rod = with(slab, {"--shape", "rod"});

ProgramRun answered(const Words& words) {
  const ProgramRun run = run_program(words);
  CAPTURE(run.errors);
  CHECK((run.exit_status == 0 || run.exit_status == 1));
  CHECK(run.errors.empty());
  return run;
}

Keys keys(const Words& words) {
  return keys_of(answered(with(words, {"--format", "keys"})).output);
}

double number(const Keys& keys, const std::string& name) {
  CAPTURE(name);
  REQUIRE(keys.count(name) == 1);
  return std::stod(keys.at(name));
}

/// The text in one line, since reports break lines where they are full.
std::string in_one_line(const std::string& text) {
  std::string line;
  for (const std::string& part : lines_of(text)) {
    const std::size_t start = part.find_first_not_of(' ');
    if (start != part.npos) line += part.substr(start) + ' ';
  }
  return line;
}

bool says(const ProgramRun& run, const std::string& part) {
  return in_one_line(run.output).find(part) != std::string::npos;
}

std::string refusal(const Words& words) {
  const ProgramRun run = run_program(words);
  CHECK(run.exit_status == 2);
  CHECK(run.output.empty());
  return run.errors;
}

}  // namespace

TEST_CASE("moulds, hold: a mould lengthens it, and the page says by how much and what is assumed") {
  const Keys bare = keys(with({"hold", "--hold-at", "513C"}, slab));
  const Words moulded = with({"hold", "--hold-at", "513C", "--mould", "plaster-silica 25mm"}, slab);
  const Keys in_mould = keys(moulded);
  const double hold_min = number(in_mould, "hold_min");
  CHECK(hold_min > number(bare, "hold_min") + 300.0);
  constexpr double whole_minutes = 1.0;  // a hold is rounded up, what it needs is not
  CHECK(std::abs(number(in_mould, "hold_bare_min") - number(bare, "hold_min")) <= whole_minutes);
  CHECK(std::abs(number(in_mould, "hold_for_walls_min") - hold_min + number(bare, "hold_min")) <=
        whole_minutes);
  CHECK(number(in_mould, "hold_at_half_conductivity_min") > hold_min);
  CHECK(number(in_mould, "hold_at_double_conductivity_min") < hold_min);
  CHECK(number(in_mould, "glass_behind_kiln_h") >
        3.0 * number(in_mould, "glass_behind_kiln_bare_h"));
  CHECK(bare.count("glass_behind_kiln_h") == 0);
  const ProgramRun page = answered(moulded);
  for (const char* part :
       {"What lies against the glass: plaster-silica 25 mm on both faces.",
        "An even wall does not change the rate that the glass may cool at.",
        "If what is assumed conducts half as well: a hold of ",
        "plaster-silica: 0.35 W/(m K) at 513 °C, assumed: [low end of 0.35 to 0.60, from memory]",
        "moulds are dry and as hot as the glass at the start"}) {
    CAPTURE(part);
    CHECK(says(page, part));
  }
  const ProgramRun known = answered(with({"hold", "--mould", "fibre-blanket 25mm"}, slab));
  CHECK_FALSE(says(known, "If what is assumed"));
  CHECK(says(known, "known from 400 °C to 800 °C, its end values beyond"));
}

TEST_CASE("moulds, tail: what it plans for a moulded casting, its own check confirms" *
          doctest::skip(slow_build)) {
  const TemporaryFolder folder;
  for (const std::string casting : {"slab-80-in-mould", "slab-60-open-face"}) {
    CAPTURE(casting);
    const std::string path = folder / (casting + ".csv");
    const Keys tail = keys({"tail", "--casting", casting});
    CHECK(tail.at("verdict") == "within");
    CHECK(tail.at("can_be_keyed") == "yes");
    answered({"tail", "--casting", casting, "--out", path});
    const Keys check = keys({"check", path, "--casting", casting});
    for (const char* name : {"verdict",
                             "residual_retardation_nm_per_cm",
                             "peak_tension_MPa",
                             "open_after_h",
                             "retardation_at_half_conductivity_nm_per_cm",
                             "tension_at_double_conductivity_MPa",
                             "open_after_at_half_conductivity_h"}) {
      CAPTURE(name);
      REQUIRE(tail.count(name) == 1);
      CHECK(tail.at(name) == check.at(name));
    }
    CHECK(number(tail, "heat_balance_error") <= 1e-9);
    CHECK(number(tail, "open_after_at_half_conductivity_h") > number(tail, "open_after_h"));
  }
}

TEST_CASE("moulds, tail: targets are what the kiln reads, with the glass beside them") {
  const ProgramRun page = answered({"tail", "--casting", "slab-80-in-mould"});
  CHECK(says(page, "Kiln and glass when each step ends (targets are what the kiln reads):"));
  const ProgramRun bare = answered({"tail", "--casting", "slab-50"});
  CHECK_FALSE(says(bare, "What lies against the glass"));
  CHECK_FALSE(says(bare, "Kiln and glass when each step ends"));
}

TEST_CASE("moulds, check: an open face held flat needs more than free to bend, and it is said") {
  const TemporaryFolder folder;
  const Words open_face = {"--bottom", "plaster-silica 25mm", "--top", "open"};
  const std::string path = folder / "tail.csv";
  answered(with(with({"tail", "--out", path, "--mould-grips", "no"}, slab), open_face));
  const Keys free = keys(with(with({"check", path, "--mould-grips", "no"}, slab), open_face));
  const Keys held = keys(with(with({"check", path}, slab), open_face));
  CHECK(free.at("verdict") == "within");
  CHECK(held.at("verdict") == "over");
  CHECK(number(held, "residual_retardation_nm_per_cm") >
        1.3 * number(free, "residual_retardation_nm_per_cm"));
  const ProgramRun page = run_program(with(with({"check", path}, slab), open_face));
  CHECK(page.exit_status == 1);
  CHECK(says(page, "Held flat, as taken, it sets about like a slab of "));
  CHECK(says(page, "the top cools better"));
}

TEST_CASE("moulds: options stand in place of a casting's own walls") {
  const Keys own = keys({"hold", "--casting", "slab-80-in-mould"});
  const Keys thicker =
      keys({"hold", "--casting", "slab-80-in-mould", "--mould", "plaster-silica 40mm"});
  CHECK(number(thicker, "hold_arriving_min") > number(own, "hold_arriving_min"));
  const Keys none = keys({"hold", "--casting", "slab-80-in-mould", "--mould", "open"});
  CHECK(none.count("glass_behind_kiln_h") == 0);
  const ProgramRun bends =
      answered({"hold", "--casting", "slab-60-open-face", "--mould-grips", "no"});
  CHECK(says(bends, "Free to bend, as you said"));
}

TEST_CASE("moulds: every shape takes a mould all round") {
  for (const Words& shape : {Words{"--shape", "rod", "--thickness", "60mm"},
                             Words{"--shape", "ball", "--thickness", "60mm"},
                             Words{"--shape", "block", "--size", "60x60x120mm"},
                             Words{"--shape", "disc", "--size", "200x40mm"},
                             Words{"--shape", "bar", "--size", "60x90mm"},
                             Words{"--shape", "prism", "--size", "80mm"}}) {
    CAPTURE(shape[1]);
    const Words casting = with({"hold", "--glass", "casting-soda-lime-9.0"}, shape);
    const Keys bare = keys(with(casting, {"--hold-at", "513C"}));
    const Keys in_mould =
        keys(with(casting, {"--hold-at", "513C", "--mould", "plaster-silica 25mm"}));
    CHECK(number(in_mould, "hold_arriving_min") > 1.5 * number(bare, "hold_arriving_min"));
  }
}

TEST_CASE("moulds: what cannot be used is refused in one line that says how to mend it") {
  struct Row {
    Words words;
    const char* message;
  };
  for (const Row& row : {
           Row{with(slab, {"--mould", "plaster-silica 0mm"}),
               "--mould: a layer of plaster-silica of 0 mm is outside 0.5 to 500 mm; check the "
               "number and its unit (mm, cm, m, in, ft)"},
           Row{with(slab, {"--mould", "plaster-silica 3m"}),
               "--mould: a layer of plaster-silica of 3000 mm is outside 0.5 to 500 mm; check the "
               "number and its unit (mm, cm, m, in, ft)"},
           Row{with(slab, {"--mould", "plaster-silica -5mm"}),
               "--mould: a layer of plaster-silica of -5 mm is outside 0.5 to 500 mm; check the "
               "number and its unit (mm, cm, m, in, ft)"},
           Row{with(slab, {"--mould", "plaster-silica 1e999mm"}),
               "--mould: \"1e999\" is too large or too small to compute with; check its exponent"},
           Row{with(slab, {"--mould", "plastersilica 25mm"}),
               "--mould: no mould is called \"plastersilica\"; did you mean plaster-silica?"},
           Row{with(slab, {"--mould", "25mm"}),
               "--mould: \"25mm\" has no thickness; write layers from the glass outwards, such as "
               "plaster-silica 25mm, cordierite-shelf 15mm"},
           Row{with(slab, {"--mould", ""}), "--mould: nothing was given; write a value after it"},
           Row{with(slab, {"--mould", "plaster-silica 25mm, air 20mm"}),
               "--mould: \"air 20mm\" is outermost; leave it out, the kiln's own air is beyond the "
               "last layer; or name what lies beyond the gap, such as a floor of fireclay-brick "
               "60mm, insulated"},
           Row{with(rod, {"--bottom", "plaster-silica 25mm"}),
               "--bottom: top and bottom are the faces of a slab; a rod has one wall all round; "
               "write mould with its layers instead"},
           Row{with(slab, {"--top", "open"}),
               "--top: nothing is said of the bottom; write open, insulated or its layers for it "
               "too"},
           Row{with(slab, {"--mould-grips", "yes"}),
               "--mould-grips: there is no mould; leave it out, or write mould, or top and bottom, "
               "with their layers"},
           Row{with(slab, {"--mould", "plaster-silica 25mm", "--mould-grips", "maybe"}),
               "--mould-grips: \"maybe\" is not known; write yes (the mould holds the slab flat) "
               "or no (it is free to bend)"},
           Row{with(slab, {"--faces", "one-held", "--mould", "plaster-silica 25mm"}),
               "--mould: the faces that cool are named twice, by faces and here; leave faces out; "
               "write insulated for a face that does not cool, and say with mould_grips whether "
               "the slab may bend"},
           Row{with(slab, {"--top", "insulated", "--bottom", "insulated"}),
               "--top: no heat could leave the casting; leave insulated out on one face at least"},
           Row{with(slab, {"--mold", "plaster-silica 25mm"}),
               "hold has no option \"--mold\"; did you mean --mould?"},
       }) {
    CAPTURE(row.message);
    CHECK(refusal(with({"hold"}, row.words)) == std::string{row.message} + '\n');
  }
}

TEST_CASE("moulds: a broken mould file is refused with its place, whatever is in it") {
  const TemporaryFolder folder;
  const std::string good =
      "status = assumed\ndensity = 1100 kg/m3\nconductivity = 0.35 W/(m K)\n"
      "heat_capacity = 1000 J/(kg K)\n";
  const auto hold = [&](const std::string& text) {
    const std::string path = folder.file("own.mould", text);
    return run_program(with({"hold", "--mould", path + " 25mm"}, slab));
  };
  CHECK(hold(good).exit_status == 0);
  for (const std::string& bad : {std::string{},
                                 std::string{"nonsense"},
                                 good.substr(0, 40),
                                 good + "density = 3 kg/m3\n",
                                 good + "conductivity = nan W/(m K)\n",
                                 std::string(5000, 'x'),
                                 std::string("\xff\xfe\0\1", 4),
                                 good + "heat_capacity = -1 J/(kg K)\n"}) {
    const ProgramRun run = hold(bad);
    CAPTURE(run.errors);
    CHECK(run.in_time);
    CHECK(run.exit_status == 2);
    CHECK(run.output.empty());
    CHECK(run.errors.find("own.mould") != std::string::npos);
  }
}

TEST_CASE("moulds: a slab free to bend says how far it bows, which face is hollow; others do not") {
  const TemporaryFolder folder;
  const std::string program = folder.file(
      "cooling.csv", "target_C,rate_C_per_h,hold_min\n513,asap,600\n350,5,0\n40,20,0\n");
  const Words free = with(
      {"check", program, "--top", "open", "--bottom", "plaster-silica 25mm", "--mould-grips", "no"},
      slab);
  CHECK(says(answered(free), "over 1 m, the top hollow, after"));
  CHECK(says(answered(with(free, {"--lengths", "inch"})), "in over 1 ft, the top hollow, after"));
  const Keys bows = keys(free);
  CHECK(number(bows, "bow_largest_mm_over_1_m") > 0.2);
  CHECK(number(bows, "bow_largest_after_h") > 10.0);
  CHECK(std::abs(number(bows, "bow_left_mm_over_1_m")) < 0.1);
  // turned over the bottom is hollow by as much
  const Words over = with(
      {"check", program, "--bottom", "open", "--top", "plaster-silica 25mm", "--mould-grips", "no"},
      slab);
  CHECK(says(answered(over), "over 1 m, the bottom hollow, after"));
  CHECK(keys(over).at("bow_largest_mm_over_1_m") == bows.at("bow_largest_mm_over_1_m"));
  const Words faces = with({"check", program, "--faces", "one-free"}, slab);
  CHECK(says(answered(faces), "over 1 m, the face that cools hollow, after"));
  for (const Words& flat : {with({"check", program}, slab),
                            with({"check", program, "--faces", "one-held"}, slab),
                            with({"check", program}, rod)}) {
    CHECK(keys(flat).count("bow_largest_mm_over_1_m") == 0);
    CHECK_FALSE(says(answered(flat), "hollow"));
  }
}
