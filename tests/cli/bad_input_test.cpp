#include <doctest/doctest.h>

#include <filesystem>
#include <random>
#include <string>
#include <vector>

#include "cli/run_program.h"
#include "temporary_folder.h"

using thickset::lines_of;
using thickset::ProgramRun;
using thickset::run_program;
using thickset::TemporaryFolder;

namespace {

using Words = std::vector<std::string>;

/// stderr of a run that has to refuse its input: status 2, nothing on stdout.
std::string refusal(const Words& words, const thickset::RunSettings& settings = {}) {
  const ProgramRun run = run_program(words, settings);
  CHECK(run.in_time);
  CHECK(run.exit_status == 2);
  CHECK(run.output.empty());
  return run.errors;
}

/// A slab of a shipped glass with more words behind it.
Words tail_of_slab(const Words& more) {
  Words words = {"tail", "--casting", "slab-50"};
  words.insert(words.end(), more.begin(), more.end());
  return words;
}

Words thick(const std::string& thickness) {
  return {"tail", "--glass", "casting-soda-lime-9.0", "--thickness", thickness};
}

struct Refused {
  Words words;
  std::string message;
};

void check_refusals(const std::vector<Refused>& rows) {
  for (const Refused& row : rows) {
    CAPTURE(row.message);
    CHECK(refusal(row.words) == row.message + '\n');
  }
}

}  // namespace

TEST_CASE("command line: every bad quantity is refused in one line that says how to mend it") {
  check_refusals({
      {thick("75"), "--thickness: 75 has no unit; write 75mm, 75cm or 75in"},
      {thick("75furlong"),
       "--thickness: unknown unit \"furlong\" in \"75furlong\"; known: mm, cm, m, in, ft"},
      {thick("nanmm"),
       "--thickness: \"nanmm\" does not start with a number; write a length such as 100mm or 4in"},
      {thick("infmm"),
       "--thickness: \"infmm\" does not start with a number; write a length such as 100mm or 4in"},
      {thick("1e999mm"),
       "--thickness: \"1e999\" is too large or too small to compute with; check its exponent"},
      {thick("-5mm"),
       "--thickness: size \"-5mm\" is not above zero; give a size from 3 to 1000 mm"},
      {thick("0mm"), "--thickness: size \"0mm\" is not above zero; give a size from 3 to 1000 mm"},
      {thick("5m"),
       "--thickness: thickness 5000 mm (197 in) is outside 3..1000 mm (0.118..39.4 in); check the "
       "number and its unit (mm, "
       "cm, m, in, ft)"},
      {thick("75,5mm"),
       "--thickness: \"75,5mm\" has a comma in its number; write a point before the decimals, and "
       "nothing between thousands"},
      {tail_of_slab({"--degrees", "K"}), "--degrees: \"K\" is not known; write C or F"},
      {tail_of_slab({"--grade", "0nm/cm"}),
       "--grade: 0 nm/cm is outside 0.5 to 1000 nm/cm; 2 nm/cm is for precision optics, 10 a fine "
       "anneal, 20 the default"},
      {tail_of_slab({"--grade", "medium"}),
       "--grade: \"medium\" is not known; write coarse, fine, precision, or nm/cm such as 20nm/cm"},
      {tail_of_slab({"--grade", "20"}), "--grade: 20 has no unit; write 20nm/cm"},
      {tail_of_slab({"--tension", "9MPa"}),
       "--tension: 9 MPa is outside 0.2 to 7 MPa; annealed glass carries about 7 MPa for long at "
       "best, without flaws or inner corners"},
      {tail_of_slab({"--tension", "nanMPa"}),
       "--tension: \"nanMPa\" is not known; write raw (3 MPa), ground (4 MPa), or a stress such as "
       "3MPa"},
      {tail_of_slab({"--hold", "0h"}),
       "--hold: 0 h is not above 0 and up to 2400 h; write for example 3h"},
      {tail_of_slab({"--hold", "-5h"}),
       "--hold: -5 h is not above 0 and up to 2400 h; write for example 3h"},
      {tail_of_slab({"--hold", "5"}), "--hold: 5 has no unit; write 5min or 5h"},
      {tail_of_slab({"--steps", "0"}),
       "--steps: 0 is outside 2 to 999; a tail needs two steps at least: the hold and one cooling"},
      {tail_of_slab({"--steps", "x"}), "--steps: \"x\" is not a whole number; write one such as 7"},
      {tail_of_slab({"--reserve", "1000"}),
       "--reserve: 1000 is outside 0 to 999; write how many steps your heat-up takes"},
      {tail_of_slab({"--reserve", "-1"}),
       "--reserve: \"-1\" is not a whole number; write one such as 7"},
      {tail_of_slab({"--reserve", "12"}),
       "--reserve: your heat-up takes 12 steps, this controller has 10; shorten the heat-up, or "
       "name a controller with more steps"},
      {tail_of_slab({"--reserve", "9"}),
       "--reserve: your heat-up takes 9 of the 10 steps of this controller; a tail needs two at "
       "least, the hold and one cooling; shorten the heat-up, or name a controller with more "
       "steps"},
      {tail_of_slab({"--reserve", "3", "--heat-up", "up.csv"}),
       "--reserve: --heat-up is given as well; leave one of them out"},
      {tail_of_slab({"--heat-up", "nowhere.csv"}),
       "nowhere.csv: no such file; check the name and the folder"},
      {tail_of_slab({"--from", "2000C"}),
       "--from: 2000 °C (3632 °F) is outside -20 to 1300 °C (-4 to 2372 °F); give the end of the "
       "process hold, such as 800C"},
      {tail_of_slab({"--from", "400C"}),
       "--from: the firing starts at 400 °C, below the hold at 513 °C; a tail starts from the "
       "process "
       "temperature: give that one"},
      {tail_of_slab({"--room", "90C"}),
       "--room: 90 °C (194 °F) is outside -20 to 50 °C (-4 to 122 °F); give the temperature of the "
       "room the kiln stands in"},
      {tail_of_slab({"--start", "tomorrow"}),
       "--start: \"tomorrow\" is not a date and time; write for example \"2026-11-27 18:00\""},
      {tail_of_slab({"--start", "2026-02-30 10:00"}),
       "--start: \"2026-02-30 10:00\" is not a date and time; write for example \"2026-11-27 "
       "18:00\""},
      {tail_of_slab({"--reservoir", "90"}),
       "--reservoir: 90 has no unit; write 90mm, 90cm or 90in"},
  });
}

TEST_CASE("command line: a hold temperature typed in F is recognised") {
  const std::string message =
      "--hold-at: 930 C is above the softening point of this glass (682 C); did you mean "
      "930 F (499 C)?";
  check_refusals({
      {tail_of_slab({"--hold-at", "930C"}), message},
      {{"hold", "--casting", "slab-50", "--hold-at", "930C"}, message},
      {tail_of_slab({"--hold-at", "300C"}),
       "--hold-at: at 300 C this glass would take over 30 days to relax (strain point 465 "
       "C); hold at 479 C or above"},
  });
}

TEST_CASE("command line: an unknown word is answered with the nearest known one") {
  check_refusals({
      {{"tial", "--casting", "slab-50"}, "there is no command \"tial\"; did you mean tail?"},
      {tail_of_slab({"--thicknes", "5mm"}),
       "tail has no option \"--thicknes\"; did you mean --thickness?"},
      {{"--hepl"}, "\"--hepl\" is no option of its own; did you mean --help?"},
      {{"help", "foo"},
       "there is no help for \"foo\"; `thickset help` lists the commands; cautions, manual and "
       "completion are pages too"},
      {{"help", "tial"}, "there is no help for \"tial\"; did you mean tail?"},
      {{"help", "completion"},
       "completion is for a shell, and none is named; name the shell: thickset help completion "
       "bash, or zsh or fish"},
      {tail_of_slab({"--mould", "plaster"}),
       "--mould: no mould is called \"plaster\"; did you mean plaster-sand or plaster-silica?"},
      {tail_of_slab({"--mould", "plaster-silica"}),
       "--mould: \"plaster-silica\" has no thickness; write layers from the glass outwards, such "
       "as plaster-silica 25mm, cordierite-shelf 15mm"},
      {tail_of_slab({"--mould", "plaster-silica 25mm fibre-blanket 13mm"}),
       "--mould: \"plaster-silica 25mm fibre-blanket 13mm\" is more than a material and its "
       "thickness; separate layers by commas: plaster-silica 25mm, cordierite-shelf 15mm"},
      {tail_of_slab({"--tension", "3"}), "--tension: 3 has no unit; write 3MPa"},
      {tail_of_slab({"--tension", "435"}), "--tension: 435 has no unit; write 435psi"},
      {tail_of_slab({"--steps", "11"}),
       "--steps: 11 steps are more than the 10 of this controller (ten steps of rate, target and "
       "hold, whole degrees C an hour); write 2 to 10, or name another --controller"},
      {tail_of_slab({"--stage-ends", "600C"}),
       "--stage-ends: 600 °C is not between the hold at 513 °C and the last target at 35 °C; write "
       "where each stage ends, all but the last"},
      {{"check", "data/glasses/soda-lime-float.glass", "--casting", "slab-50"},
       "data/glasses/soda-lime-float.glass: a glass file, not a program or a log; name it with "
       "--glass, and here a program or a log"},
      {{"tail", "--casting", "slab-51"},
       "--casting: no casting is called \"slab-51\"; did you mean slab-50?"},
      {{"tail", "--glass", "soda-lime-flaot", "--thickness", "50mm"},
       "--glass: no glass is called \"soda-lime-flaot\"; did you mean soda-lime-float?"},
      {{"tail", "--glass", "casting-sodalime-9.0", "--thickness", "50mm"},
       "--glass: no glass is called \"casting-sodalime-9.0\"; did you mean "
       "casting-soda-lime-9.0?"},
      {tail_of_slab({"--kiln", "midling-brick"}),
       "--kiln: no kiln is called \"midling-brick\"; did you mean middling-brick?"},
      {tail_of_slab({"--controller", "seven-step-by-time"}),
       "--controller: no controller is called \"seven-step-by-time\"; did you mean "
       "seven-steps-by-time?"},
      {{"list", "casting-soda-lime"},
       "nothing that ships is called \"casting-soda-lime\"; did you mean casting-soda-lime-9.0?"},
      {tail_of_slab({"--format", "json"}),
       "--format: \"json\" is not known; write one of: text, csv, keys"},
      {{"tail", "--glass", "soda-lime-float", "--shape", "pyramid", "--size", "80mm"},
       "--shape: unknown shape \"pyramid\"; say cone where it is round; with corners it goes by a "
       "mesh"},
      {{"ta\nil"}, "there is no command \"ta?il\"; did you mean tail?"},
  });
}

TEST_CASE("command line: words that are missing, given twice or against each other are refused") {
  check_refusals({
      {tail_of_slab({"--casting", "slab-50"}), "--casting: given more than once; give it once"},
      {tail_of_slab({"--grade"}),
       "--grade: its value is missing or not wanted; see `thickset tail --help`"},
      {{"tail", "--casting", "--grade", "20nm/cm"},
       "--casting: its value is missing: \"--grade\" follows; write a value after --casting"},
      {{"tail", "--casting", ""}, "--casting: nothing was given; write a value after it"},
      {{"tail"},
       "no casting is given; give --casting FILE, or --glass and --thickness; `thickset list` "
       "shows what ships"},
      {{"tail", "--glass", "soda-lime-float"},
       "--thickness: it is missing; write for example --thickness 75mm"},
      {tail_of_slab({"--thickness", "50mm"}),
       "--casting: it describes the glass and the shape already; leave out --glass, --shape, "
       "--thickness, --size, --faces, --inside, --insulated and --mesh, or --casting"},
      {{"tail", "--glass", "soda-lime-float", "--thickness", "50mm", "--size", "3x3x3mm"},
       "--size: --thickness and --size are both given; leave one of them out"},
      {{"check", "--casting", "slab-50"},
       "check needs a program file or a log; for example: thickset check tail.csv --casting "
       "slab-50"},
      {{"check", "nowhere.csv", "--casting", "slab-50"},
       "nowhere.csv: no such file; check the name and the folder"},
      {tail_of_slab({"extra"}), "\"extra\" is not expected here; see `thickset tail --help`"},
  });
  const TemporaryFolder folder;
  const std::string program = folder.file("p.csv", "target_C,minutes\n500,0\n100,600\n");
  CHECK(refusal({"convert", program, "--to", "rate", "--controller", "seven-steps-by-time"}) ==
        "--to: a controller has its own notation and degrees; leave out either --controller or "
        "--to and --degrees\n");
  const std::string no_start = folder.file("q.csv", "target_C,minutes\n500,60\n100,600\n");
  CHECK(refusal({"convert", no_start, "--to", "rate"}) ==
        "--from: the program does not say where its first ramp begins; say it with --from, or give "
        "the program a start row\n");
}

TEST_CASE("files: each bad program is refused with file, line and mend") {
  const TemporaryFolder folder;
  const std::string path = folder / "p.csv";
  const auto message = [&](const std::string& bytes) {
    folder.file("p.csv", bytes);
    return refusal({"check", path, "--casting", "slab-50"});
  };
  const std::string head = "target_C,rate_C_per_h,hold_min\n";
  CHECK(message("") == path + ": is empty; check that it was saved whole\n");
  CHECK(message(head) == path + ": holds a header and no row; check that it was saved whole\n");
  CHECK(message(head + "513,asap,300\n400,10") ==
        path + ":3: 2 fields, the header has 3; fill in what is missing, or save the file whole\n");
  CHECK(message(head + "513,asap,300,7\n") ==
        path +
            ":2: 4 fields, the header has 3; remove a comma, or put quotes around a field with a "
            "comma in it\n");
  CHECK(message(std::string("\x7f\x45\x4c\x46\0\1\2", 7)) ==
        path + ": is not a text file; name a text file, saved as UTF-8\n");
  CHECK(message("target_C,minutes\n500,\xff\xfe\n") ==
        path + ":2: is not UTF-8 text; save the file as UTF-8 text\n");
  CHECK(message("target_C,minutes\n500,100\n400,-5\n") ==
        path + ":3:5: minutes -5: times run backwards; write how long the step takes\n");
  CHECK(message("target_C,minutes\n500,nan\n") ==
        path +
            ":2:5: \"nan\" in minutes is not a number; write the number alone, the header gives "
            "its unit\n");
  CHECK(message("target_C,rate_F_per_h,hold_min\n500,10,0\n") ==
        path +
            ":1:1: the header \"target_C,rate_F_per_h,hold_min\" mixes C and F; write target and "
            "rate in the same degrees\n");
  CHECK(message("target_C,minuts\n500,10\n") ==
        path +
            ":1:1: the header \"target_C,minuts\" is no form of a program; did you mean "
            "target_C,minutes?\n");
}

TEST_CASE("files: several problems of one program come at once, a line each, in order") {
  const TemporaryFolder folder;
  const std::string path =
      folder.file("p.csv", "target_C,minutes\n500,-1\n,30\n9999,10\n400,60C\n");
  const std::vector<std::string> lines = lines_of(refusal({"check", path, "--casting", "slab-50"}));
  REQUIRE(lines.size() == 4);
  CHECK(lines[0].starts_with(path + ":2:5: "));
  CHECK(lines[1].starts_with(path + ":3:1: "));
  CHECK(lines[2].starts_with(path + ":4:1: "));
  CHECK(lines[3].starts_with(path + ":5:5: "));
}

TEST_CASE("files: a glass whose points are swapped, bare or missing is refused") {
  const TemporaryFolder folder;
  const std::string path = folder / "own.glass";
  const auto message = [&](const std::string& text) {
    folder.file("own.glass", text);
    return refusal({"tail", "--glass", path, "--thickness", "75mm"});
  };
  CHECK(message("expansion = 9e-6 /K\nannealing_point = 480 C\nstrain_point = 516 C\n") ==
        path + ":3:16: strain point 516 C is not below annealing point 480 C (" + path +
            ":2:19); compare both with the data sheet; the two are often swapped\n");
  CHECK(message("expansion = 90\nannealing_point = 516 C\nstrain_point = 480 C\n") ==
        path + ":1:13: 90 has no unit; write 90e-7/K or 9.0e-6/K\n");
  CHECK(message("expansion = 9e-6 /K\nannealing_point = 516 C\nstrain_point = nan C\n") ==
        path +
            ":3:16: \"nan C\" does not start with a number; write a temperature such as 516C or "
            "960F\n");
  CHECK(message("annealing_point = 516 C\n") ==
        path + ": expansion is missing; add a line such as \"expansion = 9.0e-6 /K\"\n" + path +
            ": strain_point is missing; add a line such as \"strain_point = 480 C\"\n");
  CHECK(message("") == path + ": is empty; check that it was saved whole\n");
}

TEST_CASE("data folder: one that is not there is named, whatever the command") {
  const thickset::RunSettings nowhere{.environment = {{"THICKSET_DATA", "/nowhere"}}};
  const std::string message =
      "THICKSET_DATA: \"/nowhere\" is not a data folder: it has no glasses/ in it; name the folder "
      "that holds glasses/, or unset THICKSET_DATA\n";
  CHECK(refusal({"tail", "--casting", "slab-50"}, nowhere) == message);
  CHECK(refusal({"list"}, nowhere) == message);
}

TEST_CASE("output: what cannot be written leaves the folder as it was") {
  const TemporaryFolder folder;
  CHECK(refusal(tail_of_slab({"--out", "/nowhere/tail.csv"})) ==
        "/nowhere/tail.csv: cannot be written: there is no such folder; make the folder first, or "
        "choose another\n");
  CHECK(refusal(tail_of_slab({"--out", folder.path()})) ==
        folder.path() + ": is a folder; name a file in it\n");
  CHECK(folder.count() == 0);
  // A full disk: everything written to this device fails for want of room.
  CHECK(refusal(tail_of_slab({"--out", "/dev/full"})) ==
        "/dev/full: cannot be written: No space left on device; choose a folder you may write to, "
        "with room left\n");
  // A tail that is refused writes nothing, not even an empty file.
  CHECK(refusal(tail_of_slab({"--hold-at", "930C", "--out", folder / "tail.csv"})).find("930") !=
        std::string::npos);
  CHECK(folder.count() == 0);
}

TEST_CASE("hostile files: random bytes are answered, never crashed on") {
  constexpr int rounds = 40;
  constexpr std::size_t longest_file = 600;
  std::mt19937 random{20};  // NOLINT: a fixed seed, so that a failure can be run again
  const std::vector<std::string> seeds = {
      "target_C,rate_C_per_h,hold_min\n513,asap,300\n400,-10,0\n50,20,0\n",
      "expansion = 9.0e-6 /K\nannealing_point = 516 C\nstrain_point = 480 C\nconductivity = 0.9 + "
      "1e-3 T W/(m K) for 200..900 K\n",
      "title = x\nglass = soda-lime-float\nshape = block\nsize = 75x75x150mm\n",
      "title = x\nstep_form = target_minutes\ndegrees = C\nsteps = 7\nend = nothing\n",
      "title = x\nnatural_cooling = 800 C 870 C/h, 500 C 400 C/h, 100 C 27 C/h\nroom = 20 C\n"};
  const auto noise = [&](const std::string& seed) {
    std::string bytes = random() % 3 == 0 ? std::string{} : seed;
    if (bytes.empty()) {
      bytes.resize(random() % longest_file);
      for (char& c : bytes) c = static_cast<char>(random() % (random() % 2 == 0 ? 128 : 256));
      return bytes;
    }
    constexpr std::string_view spice = "0123456789.,-+eE=#[]/ \n\tCFKx\"%naif";
    const std::size_t changes = 1 + random() % 12;
    for (std::size_t i = 0; i < changes; ++i) {
      bytes[random() % bytes.size()] = spice[random() % spice.size()];
    }
    if (random() % 4 == 0) bytes.resize(random() % bytes.size() + 1);
    return bytes;
  };
  const TemporaryFolder folder;
  const std::string good = folder.file("good.csv", seeds[0]);
  for (int round = 0; round < rounds; ++round) {
    for (std::size_t kind = 0; kind < seeds.size(); ++kind) {
      const std::string file = folder.file("hostile", noise(seeds[kind]));
      const std::vector<Words> commands = {
          {"check", file, "--casting", "slab-50"},
          {"check", good, "--glass", file, "--thickness", "50mm"},
          {"check", good, "--casting", file},
          {"convert", good, "--controller", file, "--from", "800C"},
          {"check", good, "--casting", "slab-50", "--kiln", file}};
      const ProgramRun run = run_program(commands[kind], {.longest = std::chrono::seconds{60}});
      CAPTURE(round);
      CAPTURE(kind);
      CAPTURE(run.errors);
      CHECK(run.in_time);
      CHECK(run.exit_status >= 0);
      CHECK(run.exit_status <= 2);
      CHECK((run.exit_status == 2) == run.output.empty());
      CHECK((run.exit_status == 2) == !run.errors.empty());
    }
  }
}
