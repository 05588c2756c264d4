#include <doctest/doctest.h>

#include <algorithm>

#include "base/text_file.h"
#include "cli/run_program.h"
#include "temporary_folder.h"

using namespace thickset;

TEST_CASE("cli: files of the user's own are found by name and come first in the list") {
  const TemporaryFolder home;
  const std::string kiln =
      read_text_file(std::string{THICKSET_SOURCE} + "/data/kilns/middling-brick.kiln");
  home.file("data/thickset/kilns/zz-own.kiln", kiln);
  home.file("data/thickset/kilns/middling-brick.kiln", "broken\n");
  home.file(".local/share/thickset/kilns/zz-at-home.kiln", kiln);
  const auto names = [&](const std::string& data_home) {
    return lines_of(
        run_program({"help", "completion", "kilns"},
                    {.environment = {{"HOME", home.path()}, {"XDG_DATA_HOME", data_home}}})
            .output);
  };
  const std::vector<std::string> own = names(home / "data");
  REQUIRE(own.size() > 2);
  CHECK(own[0] == "middling-brick");
  CHECK(own[1] == "zz-own");
  CHECK(std::count(own.begin(), own.end(), "middling-brick") == 1);
  // A relative or empty XDG_DATA_HOME counts as unset.
  for (const char* ignored : {"", "data"}) {
    CAPTURE(ignored);
    CHECK(names(ignored).front() == "zz-at-home");
  }
  const RunSettings settings{
      .environment = {{"HOME", home.path()}, {"XDG_DATA_HOME", home / "data"}}};
  CHECK(run_program({"list", "zz-own"}, settings).exit_status == 0);
  CHECK(run_program({"list", "zz-own"}, settings).errors.empty());
  // The user's own file is the one that is read, so what is wrong with it is told.
  const ProgramRun broken = run_program({"list", "middling-brick"}, settings);
  CHECK(broken.exit_status == 2);
  CHECK(broken.errors.find(home / "data/thickset/kilns/middling-brick.kiln") != broken.errors.npos);
  // A command that uses it says that it is not the shipped one.
  const ProgramRun used = run_program({"hold", "--casting", "slab-50"}, settings);
  CHECK(used.exit_status == 2);
  CHECK(used.errors.find("your own file, in place of the shipped one") != used.errors.npos);
}
