#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include <doctest/doctest.h>

#include "checking/example_casting.h"
#include "cli/read_answer.h"
#include "cli/run_program.h"
#include "slow_build.h"
#include "temporary_folder.h"

using namespace thickset;

namespace {

/// A shipped model as a casting.
struct Model {
  const char* name;
  const char* glass;
  const char* mould;  ///< or open
};
[[maybe_unused]] const std::vector<Model> models = {
    {"pyramid-with-foot", "casting-soda-lime-9.0", "plaster-silica 25mm"},
    {"bowl", "casting-soda-lime-9.6", "open"},
    {"head", "lead-crystal-24", "plaster-silica 25mm"}};

/// A box 40 x 50 x 60 as text, of twelve triangles; the last can be left out.
std::string box(bool closed) {
  const std::vector<std::vector<int>> corners = {{0, 0, 0},
                                                 {40, 0, 0},
                                                 {40, 50, 0},
                                                 {0, 50, 0},
                                                 {0, 0, 60},
                                                 {40, 0, 60},
                                                 {40, 50, 60},
                                                 {0, 50, 60}};
  const std::vector<std::vector<int>> triangles = {{0, 2, 1},
                                                   {0, 3, 2},
                                                   {4, 5, 6},
                                                   {4, 6, 7},
                                                   {0, 1, 5},
                                                   {0, 5, 4},
                                                   {1, 2, 6},
                                                   {1, 6, 5},
                                                   {2, 3, 7},
                                                   {2, 7, 6},
                                                   {3, 0, 4},
                                                   {3, 4, 7}};
  std::string text = "solid box\n";
  for (std::size_t i = 0; i < triangles.size() - (closed ? 0 : 1); ++i) {
    text += "facet normal 0 0 0\nouter loop\n";
    for (const int corner : triangles[i]) {
      const auto& at = corners[static_cast<std::size_t>(corner)];
      text += "vertex " + std::to_string(at[0]) + ' ' + std::to_string(at[1]) + ' ' +
              std::to_string(at[2]) + '\n';
    }
    text += "endloop\nendfacet\n";
  }
  return text + "endsolid box\n";
}

}  // namespace

// Unoptimised, a field on the default grid takes minutes.
#ifdef NDEBUG

TEST_CASE("mesh: the shipped models run through hold and tail, with what casters should know") {
  for (const Model& model : models) {
    CAPTURE(model.name);
    std::vector<std::string> words = {"hold",
                                      "--glass",
                                      model.glass,
                                      "--mesh",
                                      example::data_path("meshes/") + model.name + ".stl",
                                      "--mesh-unit",
                                      "mm",
                                      "--mould",
                                      model.mould};
    const ProgramRun hold = run_program(words);
    CHECK(hold.exit_status == 0);
    for (const char* const text :
         {"Thickness (largest ball that fits)", "glass to weigh out", "the hold", "nm/cm"}) {
      CAPTURE(text);
      CHECK(hold.output.find(text) != std::string::npos);
    }
    words.front() = "tail";
    words.insert(words.end(), {"--format", "keys"});
    const ProgramRun tail = run_program(words);
    CHECK(tail.exit_status == 0);
    const auto keys = keys_of(tail.output);
    CHECK(keys.at("can_be_keyed") == "yes");
    CHECK(keys.at("verdict") == "within");
    CHECK(std::stod(keys.at("solid_mass_kg")) > 0.5);
    CHECK(std::stod(keys.at("solid_ball_mm")) > 12.0);
  }
}

TEST_CASE("mesh: a box in a casting's file is planned for as the block that it is") {
  const TemporaryFolder folder;
  folder.file("box.stl", box(true));
  const std::string casting = folder.file("box.casting",
                                          "glass = reference-516-480\nshape = mesh\n"
                                          "mesh = box.stl\nmesh_unit = mm\n");
  const ProgramRun run = run_program({"hold", "--casting", casting, "--format", "keys"});
  CHECK(run.exit_status == 0);
  const auto keys = keys_of(run.output);
  constexpr double sides_tol = 1e-3;
  CHECK(std::abs(std::stod(keys.at("solid_volume_cm3")) - 120.0) <= 120.0 * sides_tol);
  CHECK(std::abs(std::stod(keys.at("solid_mass_kg")) - 0.300) <= 0.3 * sides_tol);
  CHECK(std::abs(std::stod(keys.at("solid_ball_mm")) - 40.0) <= 40.0 * sides_tol);
  const EquivalentSlabs block =
      equivalent_slabs(Block{Length::from_mm(40.0), Length::from_mm(50.0), Length::from_mm(60.0)});
  constexpr double thicker = 0.03;  // by what it may be off, on the cautious side
  const auto near = [&](const char* key, Length slab) {
    CAPTURE(key);
    const double ratio = std::stod(keys.at(key)) / slab.in_mm();
    CHECK(ratio >= 1.0 - 1e-3);
    CHECK(ratio <= 1.0 + thicker);
  };
  near("solid_slab_difference_mm", block.steady_difference);
  near("solid_slab_mode_mm", block.slowest_mode);
  near("solid_slab_tension_mm", block.permanent_tension);
}

#endif

TEST_CASE("mesh: what is wrong with the file or the options is said in one line, with status 2") {
  const TemporaryFolder folder;
  const std::string open = folder.file("open.stl", box(false));
  const std::string good = folder.file("good.stl", box(true));
  struct Row {
    std::vector<std::string> words;
    const char* message;
  };
  const std::vector<Row> rows = {
      {{"--mesh", open, "--mesh-unit", "mm"}, "open"},
      {{"--mesh", good}, "--mesh-unit"},
      {{"--mesh", good, "--mesh-unit", "furlong"}, "mm or inch"},
      {{"--mesh", good, "--mesh-unit", "mm", "--insulated", "underneath"}, "no side"},
      {{"--mesh", good, "--mesh-unit", "mm", "--insulated", "top,top"}, "twice"},
      {{"--mesh", good, "--mesh-unit", "mm", "--size", "40mm"}, "already"},
      {{"--insulated", "top", "--thickness", "50mm"}, "not of a slab"},
      {{"--mesh-unit", "mm", "--thickness", "50mm"}, "needs a --mesh"},
      {{"--mesh", folder / "absent.stl", "--mesh-unit", "mm"}, "absent.stl"}};
  for (const Row& row : rows) {
    CAPTURE(row.message);
    std::vector<std::string> words = {"hold", "--glass", "casting-soda-lime-9.0"};
    words.insert(words.end(), row.words.begin(), row.words.end());
    const ProgramRun run = run_program(words);
    CHECK(run.exit_status == 2);
    CHECK(run.output.empty());
    CHECK(run.errors.find(row.message) != std::string::npos);
  }
}

TEST_CASE("mesh: walls on chosen sides slow it down, and the page says what was assumed" *
          doctest::skip(slow_build)) {
  const TemporaryFolder folder;
  const std::string mesh = folder.file("box.stl", box(true));
  const std::vector<std::string> bare = {"hold",
                                         "--hold-at",
                                         "513C",
                                         "--glass",
                                         "casting-soda-lime-9.0",
                                         "--mesh",
                                         mesh,
                                         "--mesh-unit",
                                         "mm"};
  std::vector<std::string> open_top = bare;
  open_top.insert(open_top.end(), {"--mould", "plaster-silica 25mm", "--top", "open"});
  const ProgramRun page = run_program(open_top);
  CHECK(page.exit_status == 0);
  CHECK(page.errors.empty());
  std::string text;
  for (const std::string& line : lines_of(page.output)) {
    text += line.substr(std::min(line.find_first_not_of(' '), line.size())) + ' ';
  }
  for (const char* part :
       {"plaster-silica 25 mm; top open; held in shape",
        "Walls (plaster-silica 25 mm; top open; held in shape) are part of the field",
        "Held in shape, as taken,",
        "If what is assumed conducts half as well: ",
        "plaster-silica: 0.35 W/(m K)",
        "shrinking unlike, at undercuts and cores, is not computed"}) {
    CAPTURE(part);
    CHECK(text.find(part) != std::string::npos);
  }
  const auto keys = [](std::vector<std::string> words) {
    words.insert(words.end(), {"--format", "keys"});
    return keys_of(run_program(words).output);
  };
  const auto without = keys(bare);
  const auto with = keys(open_top);
  for (const char* name :
       {"solid_slab_difference_mm", "solid_slab_mode_mm", "solid_slab_tension_mm", "hold_min"}) {
    CAPTURE(name);
    CHECK(std::stod(with.at(name)) > 1.1 * std::stod(without.at(name)));
  }
  CHECK(std::stod(with.at("solid_slab_difference_at_half_conductivity_mm")) >
        std::stod(with.at("solid_slab_difference_mm")));
  // the same from a casting's file
  const std::string file =
      folder.file("box.casting",
                  "glass = casting-soda-lime-9.0\nshape = mesh\nmesh = " + mesh +
                      "\nmesh_unit = mm\nmould = plaster-silica 25 mm\n"
                      "top = open\n");
  const auto of_file = keys({"hold", "--hold-at", "513C", "--casting", file});
  CHECK(of_file.at("solid_slab_tension_mm") == with.at("solid_slab_tension_mm"));

  const auto refusal = [](const std::vector<std::string>& words) {
    const ProgramRun run = run_program(words);
    CHECK(run.exit_status == 2);
    return run.errors;
  };
  CHECK(refusal({"hold", "--casting", file, "--top", "insulated"})
            .find("the walls on the sides of this mesh are those of the casting's file") !=
        std::string::npos);
  CHECK(refusal({"hold", "--casting", file, "--mould-grips", "no"}).find("--mould-grips: ") == 0);
  CHECK(
      refusal({"hold", "--glass", "casting-soda-lime-9.0", "--thickness", "50mm", "--left", "open"})
          .find("--left: left, right, front and back are sides of a mesh") == 0);
}
