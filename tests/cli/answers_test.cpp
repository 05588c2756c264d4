#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <iterator>
#include <regex>
#include <string>
#include <vector>

#include "base/text.h"
#include "cli/read_answer.h"
#include "cli/run_program.h"
#include "cli/words.h"
#include "slow_build.h"
#include "temporary_folder.h"

using namespace thickset;

namespace {

constexpr std::size_t widest_line = 80;

std::vector<std::string> shipped(const std::string& kind) {
  std::vector<std::string> names;
  for (const auto& entry :
       std::filesystem::directory_iterator{std::string{THICKSET_SOURCE} + "/data/" + kind}) {
    names.push_back(entry.path().stem().string());
  }
  std::sort(names.begin(), names.end());
  return names;
}

/// All; in a slow build every eighth.
std::vector<std::string> some_of(const std::vector<std::string>& names) {
  constexpr std::size_t stride = slow_build ? 8 : 1;
  std::vector<std::string> some;
  for (std::size_t i = 0; i < names.size(); i += stride) some.push_back(names[i]);
  return some;
}

const std::string cooling_C =
    "target_C,rate_C_per_h,hold_min\n513,asap,30\n400,60,0\n300,30,0\n50,20,0\n";

/// The answer, of a run that had one; its words are looked at whatever they are about.
std::string answer(const Words& words) {
  const ProgramRun run = run_program(words);
  std::string line;
  for (const std::string& word : words) line += word + ' ';
  CAPTURE(line);
  CAPTURE(run.errors);
  CHECK(run.in_time);
  CHECK((run.exit_status == 0 || run.exit_status == 1));
  CHECK(run.errors.empty());
  CHECK(!run.output.empty());
  static const std::regex promises{"\\b(safe|proven|guaranteed)\\b", std::regex::icase};
  CHECK(!std::regex_search(run.output, promises));
  return run.output;
}

/// An answer in text form, its lines looked at.
std::string page(const Words& words) {
  const std::string text = answer(words);
  std::string too_wide;
  for (const std::string& line : lines_of(text)) {
    if (count_characters(line) > widest_line) too_wide += line + '\n';
  }
  CHECK(too_wide == "");
  return text;
}

/// The lines of a text in which a temperature of the other scale stands: what a glass rests on and
/// what it is called are in the units of their sources, what is to be keyed in the program's own.
std::string lines_in_C(const std::string& text) {
  static const std::regex in_C{"[0-9] ?(°C|C\\b|K\\b)"};
  std::string found;
  bool of_sources = false;
  for (const std::string& line : lines_of(text)) {
    if (line.empty()) of_sources = false;
    if (line.starts_with("Assumed, since") || line.starts_with("About this glass") ||
        line.starts_with("For: ") || line.starts_with("Look again at what was keyed")) {
      of_sources = true;
    }
    const std::string bare = std::regex_replace(line, std::regex{"e-6 /K"}, "");
    if (!of_sources && std::regex_search(bare, in_C)) found += line + '\n';
  }
  return found;
}

}  // namespace

TEST_CASE("text: no line of tail and hold is wider than a screen, for any casting and controller") {
  const Words ways[] = {{"--start", "2026-11-27 18:00"},
                        {"--degrees", "F", "--lengths", "inch"},
                        {"--hold-at", "560C", "--hold", "10min"}};
  std::size_t turn = 0;
  for (const std::string& casting : some_of(shipped("castings"))) {
    page({"hold", "--casting", casting, "--explain"});
    page(with({"tail", "--casting", casting}, ways[turn++ % std::size(ways)]));
  }
  for (const Words& way : ways) page(with({"tail", "--casting", "slab-50"}, way));
  for (const std::string& controller : some_of(shipped("controllers"))) {
    page({"tail", "--casting", "block-75x75x150", "--controller", controller});
    page({"tail", "--casting", "head-with-reservoir", "--controller", controller});
  }
  page({"tail", "--casting", "slab-50", "--grade", "1nm/cm", "--tension", "0.3MPa"});
  page({"tail", "--casting", "slab-50", "--steps", "2"});
}

TEST_CASE("text: no line of check and convert is wider than a screen" * doctest::skip(slow_build)) {
  const TemporaryFolder folder;
  const std::string program = folder.file("p.csv", cooling_C);
  for (const std::string& casting : shipped("castings")) {
    page({"check", program, "--casting", casting, "--start", "2026-11-27 18:00"});
  }
  for (const std::string& controller : shipped("controllers")) {
    page({"check", program, "--casting", "slab-50", "--controller", controller});
    page({"convert", program, "--controller", controller, "--from", "800C"});
  }
  page({"convert", program, "--to", "time", "--from", "800C"});
}

TEST_CASE("text: with --degrees F and --lengths inch no C, K or mm is left in an answer") {
  const TemporaryFolder folder;
  const std::string program = folder.file("p.csv", cooling_C);
  const std::string cold = folder.file("cold.csv", "target_C,minutes\n520,60\n470,120\n30,60\n");
  const Words in_F = {"--degrees", "F", "--lengths", "inch"};
  const std::vector<Words> questions = {
      {"tail", "--glass", "lead-crystal-24", "--thickness", "3in"},
      {"tail", "--casting", "slab-50", "--hold-at", "1040F", "--hold", "10min"},
      {"tail", "--casting", "slab-50", "--hold-at", "890F"},
      {"tail", "--casting", "head-with-reservoir", "--from", "1500F"},
      {"hold", "--casting", "ball-90", "--explain"},
      {"hold", "--casting", "slab-50", "--hold-at", "890F"},
      {"check", program, "--casting", "slab-50"},
      {"check", cold, "--casting", "block-75x75x150"},
      {"check", cold, "--casting", "ball-90"}};
  static const std::regex in_mm{"[0-9] ?mm\\b"};
  for (Words words : questions) {
    words.insert(words.end(), in_F.begin(), in_F.end());
    const std::string text = page(words);
    CAPTURE(text);
    CHECK(lines_in_C(text) == "");
    CHECK(text.find("°F") != std::string::npos);
    if (words[1] != "--casting" && words[0] != "check") CHECK(!std::regex_search(text, in_mm));
  }
}

TEST_CASE("keys: tail, hold and check have their stable names, once each") {
  const TemporaryFolder folder;
  const std::string tail =
      answer({"tail", "--casting", "block-75x75x150", "--degrees", "F", "--format", "keys"});
  const auto tail_keys = keys_of(tail);
  CHECK(tail_keys.size() == lines_of(tail).size());
  for (const char* name : {"hold_temperature_C",
                           "hold_min",
                           "stage_1_to_C",
                           "stage_1_rate_C_per_h",
                           "stage_1_limit",
                           "stage_2_to_C",
                           "tail_h",
                           "steps_used",
                           "tenth_more_grade_saves_h",
                           "tenth_more_tension_saves_h",
                           "hour_of_hold_saves_h",
                           "least_h",
                           "step_1_max_difference_K",
                           "step_4_max_difference_K",
                           "residual_retardation_nm_per_cm",
                           "residual_mid_MPa",
                           "residual_surface_MPa",
                           "peak_tension_MPa",
                           "heat_balance_error",
                           "verdict"}) {
    CAPTURE(name);
    CHECK(tail_keys.count(name) == 1);
  }
  CHECK(tail_keys.at("verdict") == "within");

  // Where no tail keeps the limits nothing is priced, and none of it is said to be nothing.
  const auto cannot_keys = keys_of(answer(
      {"tail", "--casting", "slab-50", "--grade", "1nm/cm", "--steps", "2", "--format", "keys"}));
  CHECK(cannot_keys.at("can_be_keyed") == "no");
  CHECK(cannot_keys.count("tenth_more_grade_saves_h") == 0);
  CHECK(cannot_keys.count("hour_of_hold_saves_h") == 0);

  const auto hold_keys = keys_of(answer({"hold", "--casting", "slab-50", "--format", "keys"}));
  CHECK(hold_keys.count("hold_temperature_C") == 1);
  CHECK(hold_keys.count("hold_min") == 1);
  CHECK(hold_keys.at("hold_temperature_C") == "513");
  CHECK(hold_keys.count("hold_relaxing_estimate_min") == 1);
  CHECK(hold_keys.at("hold_short_by_min") == "0");

  const auto check_keys = keys_of(answer({"check",
                                          folder.file("p.csv", cooling_C),
                                          "--casting",
                                          "block-75x75x150",
                                          "--format",
                                          "keys"}));
  CHECK(check_keys.at("verdict") == "over");
  CHECK(check_keys.count("step_1_max_difference_K") == 1);
  CHECK(check_keys.count("residual_retardation_nm_per_cm") == 1);
}

TEST_CASE("limits: every report and its keys say where each limit came from") {
  const TemporaryFolder folder;
  const Words of = {"--casting", "slab-50", "--grade", "fine", "--tension", "ground"};
  const std::string program = folder.file("p.csv", cooling_C);
  for (Words words : {Words{"hold"}, Words{"tail"}, Words{"check", program}}) {
    words.insert(words.end(), of.begin(), of.end());
    CAPTURE(words.front());
    const std::string text = answer(words);
    CHECK(text.find("10 nm/cm (fine: below it an anneal is fine, ISO 10110-18)") !=
          std::string::npos);
    CHECK(text.find("4 MPa (ground all over, assumed)") != std::string::npos);
    words.insert(words.end(), {"--format", "keys"});
    const auto keys = keys_of(answer(words));
    CHECK(keys.at("grade_nm_per_cm") == "10");
    CHECK(keys.at("grade_reason") == "fine: below it an anneal is fine, ISO 10110-18");
    CHECK(keys.at("tension_limit_MPa") == "4");
    CHECK(keys.at("tension_reason") == "ground all over, assumed");
  }
  const auto by_default = keys_of(answer({"hold", "--casting", "slab-50", "--format", "keys"}));
  CHECK(by_default.at("grade_reason").ends_with("; default"));
  CHECK(by_default.at("tension_reason").ends_with("; default"));
}

TEST_CASE("heat-up: the tail's steps are numbered on from those of the heat-up") {
  const TemporaryFolder folder;
  // Three ramps, two with holds: three steps by rate, five rows by time.
  const std::string heat_up =
      folder.file("up.csv", "target_C,rate_C_per_h,hold_min\n200,50,60\n600,80,0\n800,asap,120\n");
  const std::string by_rate = answer(
      {"tail", "--casting", "slab-50", "--controller", "ten-steps-by-rate", "--heat-up", heat_up});
  CHECK(by_rate.find("steps 1-3 are your heat-up; key the tail as steps 4-8\n") !=
        std::string::npos);
  CHECK(by_rate.find("\n     4            key 9999") != std::string::npos);
  CHECK(by_rate.find("\n     1  ") == std::string::npos);
  CHECK(by_rate.find("8 of 10 steps used, 3 by your heat-up.") != std::string::npos);
  const std::string by_time = answer({"tail",
                                      "--casting",
                                      "slab-50",
                                      "--controller",
                                      "twelve-steps-by-time",
                                      "--heat-up",
                                      heat_up});
  CHECK(by_time.find("steps 1-5 are your heat-up; key the tail as steps 6-11\n") !=
        std::string::npos);
  CHECK(by_time.find("start setpoint") == std::string::npos);
  const std::string lines = answer(
      {"tail", "--casting", "slab-50", "--controller", "ramp-and-hold-lines", "--reserve", "5"});
  CHECK(lines.find("lines 1-5 are your heat-up; key the tail as lines 6-11\n") !=
        std::string::npos);
}

TEST_CASE("heat-up: a tail has only the steps that are left, and takes longer for it") {
  const auto tail = [](const char* reserved) {
    return keys_of(
        answer({"tail", "--casting", "slab-50", "--reserve", reserved, "--format", "keys"}));
  };
  const auto all = tail("0");
  const auto few = tail("8");
  CHECK(all.at("heat_up_steps") == "0");
  CHECK(few.at("heat_up_steps") == "8");
  CHECK(few.at("steps_used") == "2");
  CHECK(std::stod(few.at("tail_h")) > std::stod(all.at("tail_h")));
}

TEST_CASE("heat-up: what the notes say of a step has the number it is keyed as") {
  // Limits this wide leave the kiln behind in the last stage.
  const Words words = {"tail",
                       "--casting",
                       "slab-50",
                       "--hold",
                       "3min",
                       "--grade",
                       "1000nm/cm",
                       "--tension",
                       "7MPa"};
  const std::string alone = answer(words);
  Words after = words;
  after.insert(after.end(), {"--reserve", "4"});
  const std::string numbered = answer(after);
  const std::regex of_step{"step ([0-9]+)"};
  const auto numbers = [&](const std::string& text) {
    std::vector<int> found;
    const std::string notes = text.substr(std::min(text.find("\nNotes:\n"), text.size()));
    for (std::sregex_iterator i{notes.begin(), notes.end(), of_step}, end; i != end; ++i) {
      found.push_back(std::stoi((*i)[1]));
    }
    return found;
  };
  std::vector<int> wanted = numbers(alone);
  REQUIRE(!wanted.empty());
  for (int& number : wanted) number += 4;
  CHECK(numbers(numbered) == wanted);
}

TEST_CASE("settings: a controller that can be set in several ways is told which to take, and why" *
          doctest::skip(slow_build)) {
  const Words words = {"tail", "--casting", "slab-50", "--controller", "fifteen-steps-either-way"};
  const std::string text = answer(words);
  CHECK(text.find("The controller: set to ") != std::string::npos);
  for (const char* const name : {"C by rate", "C by time", "F by rate", "F by time"}) {
    CAPTURE(name);
    const std::string one_line = std::regex_replace(text, std::regex{"\n *"}, " ");
    CHECK(one_line.find(name) != std::string::npos);
  }
  Words keys = words;
  keys.insert(keys.end(), {"--degrees", "F", "--format", "keys"});
  CHECK(keys_of(answer(keys)).at("controller_setting").starts_with("F by "));
}

TEST_CASE("a mixed load: each casting's share is told, in words and in keys") {
  Words words = {"tail",
                 "--casting",
                 "slab-50",
                 "--with",
                 "rod-60,disc-200x40",
                 "--controller",
                 "twelve-steps-by-time"};
  const std::string text = answer(words);
  CHECK(text.find("- controller: ") == std::string::npos);
  CHECK(answer({"tail", "--casting", "slab-50", "--steps", "3"})
            .find("- controller: ten steps of rate") != std::string::npos);
  for (const char* const shape :
       {"- slab 50 mm", "- rod 60 mm", "- disc 200 x 40 mm", "it governs"}) {
    CAPTURE(shape);
    CHECK(text.find(shape) != std::string::npos);
  }
  words.insert(words.end(), {"--format", "keys"});
  const auto keys = keys_of(answer(words));
  const int governing = std::stoi(keys.at("governing_casting"));
  const char* const shapes[] = {"slab 50 mm", "rod 60 mm", "disc 200 x 40 mm"};
  CHECK(text.find("That is of the " + std::string{shapes[governing - 1]} +
                  ", of the castings in") != std::string::npos);
  CHECK(governing >= 1);
  CHECK(governing <= 3);
  const auto share_of = [&](int casting) {
    const std::string name = "casting_" + std::to_string(casting);
    CHECK(keys.at(name + "_verdict") == "within");
    return std::max(
        std::stod(keys.at(name + "_retardation_nm_per_cm")) / std::stod(keys.at("grade_nm_per_cm")),
        std::stod(keys.at(name + "_tension_MPa")) / std::stod(keys.at("tension_limit_MPa")));
  };
  for (int casting = 1; casting <= 3; ++casting) {
    CHECK(share_of(casting) <= 1.0);
    CHECK(share_of(casting) <= share_of(governing));
  }
}

TEST_CASE("csv: hold and check give a header and as many fields in each row") {
  const TemporaryFolder folder;
  const std::string program = folder.file("p.csv", cooling_C);
  for (const Words& words : {Words{"hold", "--casting", "slab-50", "--format", "csv"},
                             Words{"check", program, "--casting", "slab-50", "--format", "csv"}}) {
    const auto rows = rows_of(answer(words));
    REQUIRE(rows.size() >= 2);
    for (const auto& row : rows) CHECK(row.size() == rows.front().size());
  }
}

TEST_CASE("output: a file whose name ends in .csv is a program that check reads") {
  const TemporaryFolder folder;
  const std::string path = folder / "tail.csv";
  const ProgramRun tail = run_program({"tail", "--casting", "slab-50", "--out", path});
  CHECK(tail.exit_status == 0);
  CHECK(tail.output.empty());
  CHECK(run_program({"check", path, "--casting", "slab-50"}).exit_status == 0);
}

TEST_CASE("list: every kind and every name that ships is shown") {
  const std::string all = page({"list"});
  for (const std::string kind : {"glasses", "castings", "moulds", "kilns", "controllers"}) {
    const std::string of_kind = page({"list", kind});
    for (const std::string& name : shipped(kind)) {
      CAPTURE(name);
      CHECK(all.find(name) != std::string::npos);
      CHECK(of_kind.find(name) != std::string::npos);
      const std::string text = page({"list", name});
      CHECK(lines_of(text).size() > 3);
      // A casting has no temperatures; a controller is shown in its own degrees.
      if (kind != "glasses" && kind != "kilns") continue;
      CHECK(page({"list", name, "--degrees", "F"}).find("°F") != std::string::npos);
    }
  }
}

TEST_CASE("help: each command, the cautions and the version answer") {
  for (const std::string command : {"hold", "tail", "check", "convert", "list"}) {
    const std::string text = page({command, "--help"});
    CHECK(text.starts_with("thickset " + command));
    CHECK(text.find("Example: thickset " + command) != std::string::npos);
    CHECK(page({"help", command}) == text);
  }
  // What a program and a log look like stands where one is read.
  for (const std::string command : {"check", "now", "convert", "kiln"}) {
    CAPTURE(command);
    const std::string text = page({command, "--help"});
    CHECK((text.find("target_C,rate_C_per_h,hold_min") == text.npos) == (command == "kiln"));
    CHECK((text.find("clock,air_C") == text.npos) == (command == "convert"));
  }
  CHECK(page({"hold", "--help"}).find("target_C") == std::string::npos);
  const std::string overview = page({"help"});
  CHECK(page({"--help"}) == overview);
  CHECK(page({}) == overview);
  CHECK(page({"help", "cautions"}).find("over-temperature") != std::string::npos);
  CHECK(page({"--version"}).starts_with("thickset "));
}

TEST_CASE("cautions: no report leaves them out") {
  const TemporaryFolder folder;
  const std::string program = folder.file("p.csv", cooling_C);
  for (const Words& words : {Words{"hold", "--casting", "slab-50"},
                             Words{"tail", "--casting", "slab-50"},
                             Words{"check", program, "--casting", "slab-50"}}) {
    CHECK(page(words).find("This is an estimate, not a guarantee.") != std::string::npos);
  }
}

TEST_CASE("tail: a fixed hold that is too short is said first, and by how much") {
  const Words words = {"tail", "--casting", "slab-50", "--hold", "20min"};
  const std::string text = page(words);
  CHECK(run_program(words).exit_status == 1);
  CHECK(text.starts_with("Not recommended: the hold you fixed is "));
  CHECK(text.find("- the hold that you fixed is too short: 20 min, ") != std::string::npos);
  Words as_program = words;
  as_program.insert(as_program.end(), {"--format", "csv"});
  CHECK(answer(as_program).find("# not recommended: the hold as fixed is ") != std::string::npos);
  Words with_keys = words;
  with_keys.insert(with_keys.end(), {"--format", "keys"});
  const auto keys = keys_of(answer(with_keys));
  CHECK(keys.at("hold_min") == "20");
  CHECK(keys.at("hold_margin_min") == "0");
  const double needed_min = std::stod(keys.at("hold_arriving_min")) +
                            std::stod(keys.at("hold_evening_min")) +
                            std::stod(keys.at("hold_relaxing_min"));
  const double short_by_min = std::stod(keys.at("hold_short_by_min"));
  CHECK(short_by_min > 60.0);
  constexpr double printed_digits_min = 0.01;
  CHECK(std::abs(needed_min - 20.0 - short_by_min) <= printed_digits_min);
}

TEST_CASE("tail: in a cold room the last target is the lowest that the controller takes" *
          doctest::skip(slow_build)) {
  for (const auto& row : {std::pair{"ten-steps-by-rate", "0"}, {"ten-steps-by-rate-F", "32"}}) {
    const std::string controller = row.first;
    const std::string last = row.second;
    CAPTURE(controller);
    const Words words = {"tail", "--casting", "slab-50", "--room=-18C", "--controller", controller};
    Words as_program = words;
    as_program.insert(as_program.end(), {"--format", "csv"});
    const ProgramRun run = run_program(as_program);
    CHECK(run.exit_status == 0);
    CHECK(rows_of(run.output).back().front() == last);
    CHECK(page(words).find("No tail for this controller") == std::string::npos);
  }
}

TEST_CASE("tail: the smallest tension that can be asked for is taken") {
  CHECK(page({"tail", "--casting", "slab-50", "--tension", "0.2MPa"}).find("0.2 MPa") !=
        std::string::npos);
}

TEST_CASE("check: says what the surface of a bar counts over its slab, and why with --explain") {
  const TemporaryFolder folder;
  const std::string program = folder.file("cooling.csv", cooling_C);
  const std::string line = "its surface counted at 1.17 times that of the slab for it";
  const std::string why = "the most it pulls over that slab at any moment";
  const Words bar = {"check", program, "--casting", "bar-60x90"};
  CHECK(answer(bar).find(line) != std::string::npos);
  CHECK(answer(bar).find(why) == std::string::npos);
  Words explained = bar;
  explained.push_back("--explain");
  const std::string text = std::regex_replace(answer(explained), std::regex{"\\n *"}, " ");
  CHECK(text.find(why) != std::string::npos);
  CHECK(text.find("keeps as much as this shape does") != std::string::npos);
  CHECK(text.find("Safety factor on that stress: 1.00.") != std::string::npos);
  const std::string plate = answer({"check",
                                    program,
                                    "--glass",
                                    "casting-soda-lime-9.0",
                                    "--shape",
                                    "block",
                                    "--size",
                                    "30x200x200mm",
                                    "--explain"});
  CHECK(plate.find("Safety factor on the stress of the centre: 1.1") != std::string::npos);
  CHECK(answer({"check", program, "--casting", "slab-50"}).find("counted at") == std::string::npos);
}
