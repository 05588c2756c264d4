#include <algorithm>
#include <string>
#include <vector>

#include <doctest/doctest.h>

#include "cli/run_program.h"
#include "cli/words.h"
#include "temporary_folder.h"

// Where the models end, notes/validity.md: each border is said or refused just beyond it, and not
// just within.

using namespace thickset;

namespace {

/// One line of what was answered: line ends count as spaces.
std::string answer(const Words& words) {
  const ProgramRun run = run_program(words);
  CAPTURE(run.errors);
  CHECK(run.in_time);
  CHECK((run.exit_status == 0 || run.exit_status == 1));
  std::string text = run.output;
  std::replace(text.begin(), text.end(), '\n', ' ');
  std::string single;
  for (const char c : text) {
    if (c != ' ' || single.empty() || single.back() != ' ') single += c;
  }
  return single;
}

bool says(const Words& words, const std::string& part) {
  return answer(words).find(part) != std::string::npos;
}

/// The one line of a refusal.
std::string refusal(const Words& words) {
  const ProgramRun run = run_program(words);
  CHECK(run.exit_status == 2);
  CHECK(run.output.empty());
  CHECK(lines_of(run.errors).size() == 1);
  return run.errors;
}

const Words gentle = {"check", "data/programs/slab-50-gentle.csv"};
const Words casting_glass = {"--glass", "casting-soda-lime-9.0"};

Words thick(const Words& command, const std::string& thickness) {
  return with(command, with(casting_glass, {"--thickness", thickness}));
}

/// A casting of one shape of a glass that is the shipped casting glass with lines of its own.
class OwnGlass {
 public:
  Words of(const std::string& lines, const std::string& shape, const std::string& size) {
    folder_.file("own.glass",
                 "expansion = 9.0e-6 /K\nannealing_point = 513 C\nstrain_point = 465 C\n" + lines);
    const std::string casting = folder_.file(
        "own.casting", "glass = own.glass\nshape = " + shape + "\nsize = " + size + "\n");
    return {"--casting", casting};
  }

 private:
  TemporaryFolder folder_;
};

}  // namespace

TEST_CASE("borders: sizes outside 12 to 300 mm are said by every command, and not at them") {
  const Words now = {
      "now", "--air", "400C", "--plan", "data/programs/slab-50-gentle.csv", "--since-hold", "10h"};
  const std::string said = "is outside the 12 to 300 mm this was made for and checked on";
  for (const Words& command : {Words{"hold"}, gentle, now}) {
    CAPTURE(command.front());
    CHECK(says(thick(command, "11mm"), "11 mm " + said));
    CHECK_FALSE(says(thick(command, "12mm"), said));
  }
  for (const Words& command : {Words{"hold"}, gentle}) {
    CAPTURE(command.front());
    CHECK_FALSE(says(thick(command, "300mm"), said));
    CHECK(says(thick(command, "301mm"), "301 mm " + said));
  }
  CHECK(says(thick({"tail"}, "8mm"), "8 mm " + said));
  CHECK(says(thick({"rewarm", "--retardation", "60nm/cm"}, "8mm"), "8 mm " + said));
}

TEST_CASE("borders: sizes no casting has are refused, 3 and 1000 mm are not") {
  CHECK(refusal(thick(gentle, "2.9mm")).find("is outside 3..1000 mm") != std::string::npos);
  CHECK(refusal(thick(gentle, "1001mm")).find("is outside 3..1000 mm") != std::string::npos);
  answer(thick(gentle, "3mm"));
  answer(thick(gentle, "1000mm"));
}

TEST_CASE("borders: a law of k or c_p used beyond its range is said with both ranges") {
  OwnGlass own;
  const std::string k = "conductivity = table 20 C 1.0, 400 C 1.2 W/(m K)\n";
  const std::string c = "heat_capacity = table 20 C 800, 900 C 1200 J/(kg K)\n";
  CHECK(says(with(gentle, own.of(k + c, "slab", "50mm")),
             "its conductivity is known from 20 °C to 400 °C: the value at the end of that range "
             "is used beyond it"));
  CHECK_FALSE(says(with(gentle, own.of(k + c, "slab", "50mm")), "its heat capacity is known"));
  CHECK_FALSE(says(with(gentle, own.of(c, "slab", "50mm")), "its conductivity is known"));
}

TEST_CASE("borders: Poisson's ratio beyond the tables of a shape is said, of a slab it is not") {
  OwnGlass own;
  const std::string said = "is outside the 0.20 to 0.25 for which the permanent tension";
  const auto of = [&](const std::string& ratio, const std::string& shape, const std::string& size) {
    return with(gentle, own.of("poisson_ratio = " + ratio + "\n", shape, size));
  };
  CHECK(says(of("0.26", "block", "75x75x150mm"), "Poisson's ratio 0.26 " + said));
  CHECK(says(of("0.19", "disc", "200x40mm"), "Poisson's ratio 0.19 " + said));
  CHECK(says(of("0.26", "bar", "60x90mm"), said));
  CHECK(says(of("0.26", "prism", "80mm"), said));
  CHECK_FALSE(says(of("0.25", "block", "75x75x150mm"), said));
  CHECK_FALSE(says(of("0.20", "block", "75x75x150mm"), said));
  CHECK_FALSE(says(of("0.26", "slab", "50mm"), said));
  CHECK_FALSE(says(of("0.26", "rod", "50mm"), said));
  CHECK_FALSE(says(of("0.26", "ball", "50mm"), said));
}

TEST_CASE("borders: glass of other families is told that soda-lime stands in for it") {
  const auto hold_of = [](const std::string& glass) {
    return Words{"hold", "--glass", glass, "--thickness", "50mm"};
  };
  const std::string stand_in = "taken from soda-lime glass are a stand-in far from home";
  const std::string phases = "can part into two phases and stiffen by powers of ten";
  for (const std::string glass : {"lead-crystal-24", "barium-zinc-crystal", "borosilicate-3.3"}) {
    CAPTURE(glass);
    CHECK(says(hold_of(glass), stand_in));
  }
  CHECK_FALSE(says(hold_of("casting-soda-lime-9.0"), stand_in));
  CHECK(says(hold_of("borosilicate-3.3"), phases));
  CHECK_FALSE(says(hold_of("lead-crystal-24"), phases));
}

TEST_CASE("borders: a wall too thin for a grid over its vessel is refused with what would do") {
  const Words vessel = with(gentle, with(casting_glass, {"--shape", "vessel", "--inside", "open"}));
  const std::string line = refusal(with(vessel, {"--size", "400x300x3x3mm"}));
  CHECK(line.find("a part 3 mm thick is too thin for a grid") != std::string::npos);
  CHECK(line.find("mm or thicker") != std::string::npos);
}

TEST_CASE("borders: rates no kiln has are refused in a line, very fast ones are computed") {
  const TemporaryFolder folder;
  const auto program = [&](const std::string& rate) {
    return folder.file(
        "p.csv", "target_C,rate_C_per_h,hold_min\n513,asap,180\n360," + rate + ",0\n35,20,0\n");
  };
  const Words of_slab = with(casting_glass, {"--thickness", "50mm"});
  CHECK(refusal(with({"check", program("10000")}, of_slab)).find("is above 9999; write asap") !=
        std::string::npos);
  CHECK(says(with({"check", program("9999")}, of_slab), "Over the limits"));
}

TEST_CASE("borders: a gap of air wider than 50 mm is refused, 50 mm is not") {
  const auto mould = [](const std::string& gap) {
    return with(with({"hold"}, casting_glass),
                {"--thickness", "50mm", "--mould", "air " + gap + ", plaster-silica 25mm"});
  };
  CHECK(refusal(mould("51mm")).find("50 mm") != std::string::npos);
  answer(mould("50mm"));
}
