#include <string>
#include <vector>

#include <doctest/doctest.h>

#include "cli/read_answer.h"
#include "cli/run_program.h"
#include "temporary_folder.h"

using namespace thickset;

namespace {

std::vector<std::string> words_for(const std::vector<std::string>& shape) {
  std::vector<std::string> words = {"hold", "--glass", "casting-soda-lime-9.0", "--shape"};
  words.insert(words.end(), shape.begin(), shape.end());
  return words;
}

}  // namespace

// Unoptimised, a field on the default grid takes minutes.
#ifdef NDEBUG

TEST_CASE("shapes: hold says of solids by their measures what casters should know") {
  const std::vector<std::vector<std::string>> shapes = {
      {"dome", "--size", "120x60mm", "--insulated", "bottom"},
      {"wedge", "--size", "200x120x60x20mm", "--insulated", "bottom"},
      {"dumbbell", "--size", "80x60x40x20mm"}};
  for (const std::vector<std::string>& shape : shapes) {
    CAPTURE(shape.front());
    const ProgramRun hold = run_program(words_for(shape));
    CHECK(hold.exit_status == 0);
    CHECK(hold.output.find("glass to weigh out") != std::string::npos);
    CHECK(hold.output.find("largest ball that fits") != std::string::npos);
    CHECK((hold.output.find("slab of") != std::string::npos) == (shape.front() == "wedge"));
  }
}

TEST_CASE("shapes: tail plans for solids by their measures, in a mould") {
  const std::vector<std::vector<std::string>> shapes = {
      {"vessel", "--size", "120x100x25x30mm", "--inside", "core"},
      {"cone", "--size", "4x6in"},
      {"boss", "--size", "160x40x80x40mm"}};
  for (const std::vector<std::string>& shape : shapes) {
    CAPTURE(shape.front());
    std::vector<std::string> tail = words_for(shape);
    tail.front() = "tail";
    tail.insert(tail.end(), {"--mould", "plaster-silica 25mm", "--format", "keys"});
    const ProgramRun run = run_program(tail);
    CHECK(run.exit_status == 0);
    const auto keys = keys_of(run.output);
    CHECK(keys.at("verdict") == "within");
    CHECK(std::stod(keys.at("solid_ball_mm")) > 12.0);
    CHECK(std::stod(keys.at("solid_mass_kg")) > 0.1);
  }
}

TEST_CASE("shapes: a casting's file gives what the options give") {
  const TemporaryFolder folder;
  const std::string file = folder.file("cup.casting",
                                       "glass = casting-soda-lime-9.0\nshape = vessel\n"
                                       "size = 120x100x25x30mm\ninside = core\n"
                                       "insulated = bottom\n");
  const ProgramRun by_file = run_program({"hold", "--casting", file, "--format", "keys"});
  std::vector<std::string> words =
      words_for({"vessel", "--size", "120x100x25x30mm", "--inside", "core"});
  words.insert(words.end(), {"--insulated", "bottom", "--format", "keys"});
  const ProgramRun by_options = run_program(words);
  CHECK(by_file.exit_status == 0);
  CHECK(by_file.output == by_options.output);
}

#endif

TEST_CASE("shapes: a tube is planned for, in a mould against a core") {
  const ProgramRun tube =
      run_program(words_for({"tube", "--size", "120x15mm", "--inside", "core"}));
  CHECK(tube.exit_status == 0);
  CHECK(tube.output.find("tube 120, wall 15 mm, inside against a core") != std::string::npos);
  std::vector<std::string> words = words_for({"tube", "--size", "120x15mm", "--inside", "core"});
  words.insert(words.end(), {"--mould", "plaster-silica 25mm"});
  CHECK(run_program(words).exit_status == 0);
}

TEST_CASE("shapes: what is wrong with the measures is said in one line, with status 2") {
  const TemporaryFolder folder;
  struct Row {
    std::vector<std::string> words;
    const char* message;
  };
  const std::vector<Row> rows = {
      {{"vessel", "--size", "200x250x15x20mm"}, "--inside: the inside of a vessel is not said"},
      {{"vessel", "--inside", "core"}, "--size: vessel has no size"},
      {{"vessel", "--size", "200x250x120x20mm", "--inside", "core"}, "leaves no hollow"},
      {{"tube", "--thickness", "15mm", "--inside", "core"}, "--size"},
      {{"dome", "--size", "120x80mm"}, "half a ball"},
      {{"wedge", "--size", "200x100x20x60mm"}, "thin end"},
      {{"boss", "--size", "100x30x120x30mm"}, "does not stand on"},
      {{"dumbbell", "--size", "80x60x70x20mm"}, "wider than the lump"},
      {{"cone", "--size", "80x80mm", "--insulated", "left"}, "its bottom alone"},
      {{"cone", "--size", "80x80mm", "--inside", "open"}, "is solid"},
      {{"bowl", "--size", "80x80mm"}, "say vessel"},
      {{"tube", "--size", "120x15mm", "--inside", "open", "--mould", "plaster-silica 25mm"},
       "say core for the inside"}};
  for (const Row& row : rows) {
    CAPTURE(row.message);
    const ProgramRun run = run_program(words_for(row.words));
    CHECK(run.exit_status == 2);
    CHECK(run.output.empty());
    CHECK(run.errors.find(row.message) != std::string::npos);
  }
  const std::string file = folder.file("cup.casting",
                                       "glass = casting-soda-lime-9.0\nshape = vessel\n"
                                       "size = 120x100x25x30mm\n");
  const ProgramRun run = run_program({"hold", "--casting", file});
  CHECK(run.exit_status == 2);
  CHECK(run.errors.find("the inside of a vessel is not said") != std::string::npos);
}
