#include <cmath>
#include <filesystem>
#include <map>
#include <string>
#include <vector>

#include <doctest/doctest.h>

#include "cli/read_answer.h"
#include "cli/run_program.h"
#include "cli/words.h"
#include "temporary_folder.h"

using namespace thickset;

namespace {

const Words gentle = {"data/programs/slab-50-gentle.csv", "--casting", "slab-50"};

Words sure(const Words& more) {
  return with(with({"sure"}, gentle), more);
}

double number(const std::map<std::string, std::string>& keys, const std::string& name) {
  return std::stod(keys.at(name));
}

bool says(const std::string& text, const std::string& what) {
  return text.find(what) != std::string::npos;
}

}  // namespace

TEST_CASE("sure: the answer is the same for any number of threads and gathered from any slices") {
  const TemporaryFolder folder;
  const ProgramRun whole = run_program(sure({"--samples", "96", "--threads", "1"}));
  CHECK(says(whole.output, "The one measurement worth making"));
  CHECK(run_program(sure({"--samples", "96", "--threads", "2"})).output == whole.output);
  Words gather = {"sure", "--gather"};
  for (const char* const part : {"2", "5", "1", "3", "4"}) {
    const std::string file = folder / (std::string{part} + ".csv");
    const ProgramRun run =
        run_program(sure({"--samples", "96", "--slice", std::string{part} + "/5", "--out", file}));
    CHECK(run.exit_status == 0);
    CHECK(run.output.empty());
    gather.push_back(file);
  }
  const ProgramRun gathered = run_program(gather);
  CHECK(gathered.output == whole.output);
  CHECK(gathered.exit_status == whole.exit_status);

  gather.erase(gather.begin() + 3);  // part 5
  const ProgramRun lacking = run_program(gather);
  CHECK(lacking.exit_status == 2);
  CHECK(says(lacking.errors, "of the 96 samples of its study are in no part"));
  CHECK(says(lacking.errors, "--slice"));
}

TEST_CASE("sure: chances fall with the limits, and the exit status follows what was asked for") {
  const auto keys_at = [](const Words& more) {
    return keys_of(run_program(sure(with({"--samples", "64", "--format", "keys"}, more))).output);
  };
  const auto loose = keys_at({"--grade", "100nm/cm"});
  const auto tight = keys_at({"--grade", "5nm/cm"});
  CHECK(number(loose, "chance_within_grade") == 1.0);
  CHECK(number(tight, "chance_within_grade") < number(loose, "chance_within_grade"));
  CHECK(number(loose, "retardation_95_percent_nm_per_cm") ==
        number(tight, "retardation_95_percent_nm_per_cm"));
  CHECK(number(loose, "retardation_5_percent_nm_per_cm") <
        number(loose, "retardation_95_percent_nm_per_cm"));
  CHECK(loose.count("mould_conductivity_range") == 0);
  CHECK(run_program(sure({"--samples", "64", "--grade", "100nm/cm", "--tension", "7MPa"}))
            .exit_status == 0);
  CHECK(run_program(sure({"--samples", "64", "--grade", "0.5nm/cm"})).exit_status == 1);
}

TEST_CASE("sure: what no measurement mends is not measured, and ranges are in C and in F") {
  const std::string hopeless = run_program(sure({"--samples", "64", "--grade", "1nm/cm"})).output;
  CHECK(says(hopeless, "No measurement mends this"));
  CHECK(!says(hopeless, "The one measurement worth making"));
  CHECK(says(hopeless, "annealing and strain point together: +-10 °C,"));
  const std::string in_F = run_program(sure({"--samples", "64", "--degrees", "F"})).output;
  CHECK(says(in_F, "annealing and strain point together: +-18 °F,"));
  CHECK(!says(in_F, "°C"));
}

TEST_CASE("sure: what a file says of its thickness narrows the band, and is named") {
  const TemporaryFolder folder;
  const auto band = [&](const std::string& line) {
    const std::string casting = folder.file(
        "my.casting", "glass = casting-soda-lime-9.0\nshape = slab\nsize = 50mm\n" + line + "\n");
    const ProgramRun run = run_program(
        {"sure", gentle.front(), "--casting", casting, "--samples", "64", "--format", "keys"});
    return keys_of(run.output);
  };
  const auto vague = band("thickness_uncertainty = 10 mm");
  const auto measured = band("thickness_uncertainty = 0.5 mm");
  CHECK(vague.at("thickness_range") == "+-20 %");
  CHECK(vague.at("thickness_range_from") == "the casting's file");
  CHECK(vague.at("matters_most") == "thickness");
  CHECK(measured.at("matters_most") != "thickness");
  CHECK(number(measured, "retardation_95_percent_nm_per_cm") <
        number(vague, "retardation_95_percent_nm_per_cm"));
}

TEST_CASE("sure: a log is sampled too, and every report has its line unless it is not wanted") {
  const ProgramRun log = run_program(
      {"sure", "data/logs/slab-50-good.csv", "--casting", "slab-50", "--samples", "32"});
  CHECK(says(log.output, "castings were drawn"));
  for (const Words& words : {with({"check"}, gentle),
                             Words{"check", "data/logs/slab-50-good.csv", "--casting", "slab-50"},
                             Words{"tail", "--casting", "slab-50"}}) {
    CAPTURE(words.front());
    CHECK(says(run_program(words).output, "How sure: "));
    CHECK(!says(run_program(with(words, {"--confidence", "off"})).output, "How sure: "));
    const auto keys = keys_of(run_program(with(words, {"--format", "keys"})).output);
    CHECK(keys.at("confidence_asked") == "0.9");
    CHECK(keys.at("samples") == "128");
  }
}

TEST_CASE("sure: --explain shows what each input changes alone") {
  const ProgramRun run = run_program(sure({"--samples", "32", "--explain"}));
  CHECK(says(run.output, "one input alone, at its ends"));
  // Stress goes with the expansion: 3 % of it.
  std::string expansion;
  for (const std::string& line : lines_of(run.output)) {
    if (line.starts_with("expansion of the glass")) expansion = line;  // the last is that table's
  }
  CHECK(says(expansion, "-3 %     +3 %"));
}

TEST_CASE("tail --confidence: as keyed, that many stay within each limit, at the price of time") {
  const TemporaryFolder folder;
  const std::string file = folder / "tail.csv";
  const Words words = {"tail", "--casting", "slab-50"};
  const auto usual = keys_of(run_program(with(words, {"--format", "keys"})).output);
  const ProgramRun run = run_program(with(words, {"--confidence", "0.9", "--format", "keys"}));
  CHECK(run.exit_status == 0);
  const auto planned = keys_of(run.output);
  CHECK(planned.at("confidence_reached") == "yes");
  CHECK(planned.at("samples") == "1024");
  CHECK(number(planned, "chance_within_grade") >= 0.9);
  CHECK(number(planned, "chance_within_tension") >= 0.9);
  CHECK(number(usual, "chance_within_limits") < 0.8);
  CHECK(number(planned, "tail_h") > number(usual, "tail_h"));
  CHECK(number(planned, "aimed_at_nm_per_cm") < number(planned, "grade_nm_per_cm"));
  CHECK(number(planned, "residual_retardation_nm_per_cm") <
        number(usual, "residual_retardation_nm_per_cm"));

  CHECK(run_program(with(words, {"--confidence", "0.9", "--out", file})).exit_status == 0);
  const ProgramRun judged = run_program(
      {"sure", file, "--casting", "slab-50", "--confidence", "0.9", "--format", "keys"});
  CHECK(judged.exit_status == 0);
  const auto chances = keys_of(judged.output);
  // The tail was judged by other castings than those it was fitted to, which `sure` begins with.
  constexpr double by_other_castings = 0.03;
  for (const char* chance : {"chance_within_grade", "chance_within_tension"}) {
    CHECK(std::abs(number(chances, chance) - number(planned, chance)) <= by_other_castings);
  }
}

TEST_CASE("tail --confidence: where no tail is that sure, the best found is said first") {
  const ProgramRun run = run_program({"tail",
                                      "--casting",
                                      "slab-50",
                                      "--stage-ends",
                                      "363C,280C",
                                      "--rates",
                                      "7C/h,18C/h,48C/h",
                                      "--confidence",
                                      "0.95"});
  CHECK(run.exit_status == 1);
  CHECK(run.output.starts_with("No tail was found that stays within each limit for 95 of 100"));
  CHECK(!says(run.output, "Planned for"));
}

TEST_CASE("sure: what does not go is refused with what to write") {
  const auto refused = [](const Words& words, const std::string& what) {
    const ProgramRun run = run_program(words);
    CAPTURE(run.errors);
    CHECK(run.exit_status == 2);
    CHECK(run.output.empty());
    CHECK(says(run.errors, what));
    CHECK(lines_of(run.errors).size() <= 2);
  };
  refused({"sure"}, "sure needs a program file or a log");
  refused(sure({"--confidence", "95"}), "write it as a share: 0.95");
  refused(sure({"--confidence", "1"}), "1 is outside 0.5 to 0.999");
  refused(sure({"--confidence", "off"}), "sure is about nothing else");
  refused(sure({"--samples", "8"}), "8 is outside 32 to 100000000");
  refused(sure({"--threads", "0"}), "0 is outside 1 to 1024");
  refused(sure({"--slice", "3/40"}), "the part has no file to go to");
  refused(sure({"--slice", "41/40", "--out", "x.csv"}), "there is no part 41 of 40");
  refused(sure({"--slice", "3", "--out", "x.csv"}), "\"3\" is no part of a number of parts");
  refused(sure({"--slice", "1/40", "--samples", "32", "--out", "x.csv"}), "leave some empty");
  refused(sure({"--slice", "1/4", "--explain", "--out", "x.csv"}), "a part is samples alone");
  refused({"sure", "--gather"}, "--gather needs the parts");
  refused({"sure", "--gather", gentle.front()}, "is no part of a study");
  refused({"sure", "--gather", gentle.front(), "--samples", "64"}, "the parts hold that already");
  refused(sure({"--sensor", "air_C"}), "is a program, not a log");
  const TemporaryFolder folder;
  const std::string record = folder / "firing.txt";
  CHECK(run_program(with(with({"check"}, gentle), {"--record", record})).exit_status == 0);
  refused({"sure", record}, "is a record of a firing");
  CHECK(!std::filesystem::exists(std::string{THICKSET_SOURCE} + "/x.csv"));
}
