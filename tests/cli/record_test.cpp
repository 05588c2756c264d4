#include <filesystem>
#include <string>
#include <vector>

#include <doctest/doctest.h>

#include "base/text.h"
#include "base/text_file.h"
#include "cli/read_answer.h"
#include "cli/run_program.h"
#include "cli/words.h"
#include "temporary_folder.h"

using namespace thickset;

namespace {

bool has(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

/// No data but what a record brings: a folder that counts as data and has none.
RunSettings without_data(const TemporaryFolder& folder) {
  std::filesystem::create_directories(folder / "none/glasses");
  return {.folder = folder.path(),
          .environment = {{"THICKSET_DATA", folder / "none"},
                          {"XDG_DATA_HOME", folder / "none"},
                          {"HOME", folder / "none"}}};
}

const std::string same = "the main numbers are the same.";

std::string with_spaces_for_breaks(std::string text) {
  for (std::size_t at; (at = text.find("\n  ")) != std::string::npos;) text.replace(at, 3, " ");
  return text;
}

/// Lines of two answers in keys that both have, and that differ.
Words differing(const std::string& one, const std::string& other) {
  Words names;
  const auto theirs = keys_of(other);
  for (const auto& [name, value] : keys_of(one)) {
    const auto found = theirs.find(name);
    if (found != theirs.end() && found->second != value) names.push_back(name);
  }
  return names;
}

}  // namespace

TEST_CASE("cli: a record gives the same answer again, with all data files gone") {
  const std::vector<Words> runs = {
      {"check", "data/programs/slab-50-gentle.csv", "--casting", "slab-50"},
      {"check", "data/programs/slab-50-hurried.csv", "--casting", "slab-50", "--degrees", "F"},
      {"check",        "data/programs/slab-50-gentle.csv",
       "--glass",      "soda-lime-float",
       "--thickness",  "2in",
       "--mould",      "plaster-silica 25mm",
       "--grade",      "fine",
       "--tension",    "ground",
       "--room",       "50F",
       "--from",       "780C",
       "--bulk",       "elastic",
       "--kiln",       "middling-brick",
       "--controller", "ten-steps-by-rate"},
      {"check", "data/logs/slab-50-good.csv", "--casting", "slab-50"},
      {"check",
       "data/logs/slab-50-too-fast.csv",
       "--casting",
       "slab-50",
       "--plan",
       "data/programs/slab-50-gentle.csv"},
      {"now",
       "data/logs/slab-50-power-cut.csv",
       "--at",
       "736min",
       "--casting",
       "slab-50",
       "--plan",
       "data/programs/slab-50-gentle.csv"},
      {"now",
       "--air",
       "401C",
       "--since-hold",
       "3h",
       "--off-for",
       "45min",
       "--plan",
       "data/programs/slab-50-gentle.csv",
       "--casting",
       "slab-50"}};
  for (const Words& words : runs) {
    const TemporaryFolder folder;
    CAPTURE(words[0]);
    CAPTURE(words[1]);
    const std::string file = folder / "firing.record";
    const ProgramRun first = run_program(with(words, {"--record", file, "--format", "keys"}));
    REQUIRE(first.errors == "");
    const RunSettings nowhere = without_data(folder);
    const ProgramRun again = run_program({"check", file, "--format", "keys"}, nowhere);
    CHECK(again.errors == "");
    CHECK(again.exit_status == first.exit_status);
    CHECK(keys_of(again.output).size() == keys_of(first.output).size());
    for (const std::string& name : differing(first.output, again.output)) {
      CAPTURE(name);
      // Why a limit is what it is may be said otherwise; no number may.
      CHECK(name.ends_with("_reason"));
    }
    const ProgramRun report = run_program({"check", file}, nowhere);
    CHECK(has(with_spaces_for_breaks(report.output), same));
  }
}

TEST_CASE("cli: the record of a tail is checked to the tail's numbers") {
  for (const Words& more : {Words{},
                            Words{"--degrees", "F", "--hold-at", "510C"},
                            Words{"--controller", "seven-steps-by-time", "--steps", "5"}}) {
    const TemporaryFolder folder;
    const std::string file = folder / "firing.record";
    const ProgramRun first = run_program(with(
        with({"tail", "--casting", "slab-50", "--record", file, "--format", "keys"}, more), {}));
    REQUIRE(first.errors == "");
    const ProgramRun again = run_program({"check", file, "--format", "keys"}, without_data(folder));
    CHECK(again.errors == "");
    CHECK(again.exit_status == first.exit_status);
    for (const char* name : {"verdict",
                             "residual_retardation_nm_per_cm",
                             "peak_tension_MPa",
                             "program_h",
                             "open_after_h"}) {
      CAPTURE(name);
      CHECK(keys_of(again.output).at(name) == keys_of(first.output).at(name));
    }
    const ProgramRun report = run_program({"check", file}, without_data(folder));
    CHECK(has(with_spaces_for_breaks(report.output), same));
  }
}

TEST_CASE(
    "cli: a record is text for people too: what was asked, the files, the steps, the outcome") {
  const TemporaryFolder folder;
  const std::string file = folder / "firing.record";
  run_program({"tail", "--casting", "slab-50", "--record", file});
  const std::string text = read_text_file(file);
  CHECK(text.starts_with("thickset record 1\n"));
  CHECK(text.ends_with("\n[end]\n"));
  for (const char* part : {"\nwritten = ",
                           " UTC\n",
                           "\nprogram = thickset 0.1.0\n",
                           "\ncasting = slab-50\n",
                           "\nfrom = 800 C\n",
                           "\nroom = 20 C\n",
                           "\ngrade = 20 nm/cm\n",
                           "\ntension = 3 MPa\n",
                           "\nkind = glass\n",
                           "\nkind = kiln\n",
                           "\nkind = controller\n",
                           "\n| annealing_point",
                           "\n| target_C,rate_C_per_h,hold_min\n",
                           "\nverdict = within\n",
                           "\n# Key into the controller",
                           "\n# - conductivity: "}) {
    CAPTURE(part);
    CHECK(has(text, part));
  }
}

TEST_CASE("cli: a record says when its numbers no longer come out") {
  const TemporaryFolder folder;
  const std::string file = folder / "firing.record";
  run_program(
      {"check", "data/programs/slab-50-gentle.csv", "--casting", "slab-50", "--record", file});
  std::string text = read_text_file(file);
  const std::size_t at = text.find("\nverdict = within");
  REQUIRE(at != text.npos);
  text.replace(at, 17, "\nverdict = over");
  const ProgramRun run = run_program({"check", folder.file("changed", text)});
  CHECK(run.exit_status == 0);
  CHECK_FALSE(has(run.output, same));
  CHECK(has(run.output, "verdict: recorded over, now within"));
}

TEST_CASE("cli: output is asked for anew beside a record, what is computed is not") {
  const TemporaryFolder folder;
  const std::string file = folder / "firing.record";
  run_program({"check",
               "data/programs/slab-50-gentle.csv",
               "--casting",
               "slab-50",
               "--degrees",
               "C",
               "--record",
               file});
  CHECK(has(run_program({"check", file, "--degrees", "F"}).output, "\u00b0F"));
  CHECK(run_program({"check", file, "--page", folder / "page.html"}).exit_status == 0);
  CHECK(std::filesystem::exists(folder / "page.html"));
  const ProgramRun copied = run_program({"check", file, "--record", folder / "again"});
  CHECK(copied.exit_status == 0);
  CHECK(run_program({"check", folder / "again"}).exit_status == 0);
  for (const Words& words : {Words{"--casting", "slab-50"}, {"--grade", "fine"}, {"--plan", "x"}}) {
    const ProgramRun run = run_program(with({"check", file}, words));
    CHECK(run.exit_status == 2);
    CHECK(lines_of(run.errors).size() == 1);
    CHECK(has(run.errors, "the record tells it already"));
  }
}

TEST_CASE("cli: a record from standard input, of a program from standard input") {
  const TemporaryFolder folder;
  const std::string file = folder / "firing.record";
  const std::string program = read_text_file(THICKSET_SOURCE "/data/programs/slab-50-gentle.csv");
  const ProgramRun first =
      run_program({"check", "-", "--casting", "slab-50", "--record", file, "--format", "keys"},
                  {.input = program});
  REQUIRE(first.exit_status == 0);
  const ProgramRun again =
      run_program({"check", "-", "--format", "keys"}, {.input = read_text_file(file)});
  CHECK(again.errors == "");
  CHECK(has(again.output, "verdict = within"));
  CHECK(keys_of(again.output).size() == keys_of(first.output).size());
}

TEST_CASE("cli: what cannot be recorded is refused before anything is computed") {
  const TemporaryFolder folder;
  const std::string file = folder / "firing.record";
  for (const Words& words : {Words{"tail", "--casting", "slab-50", "--with", "block-75x75x150"},
                             Words{"tail",
                                   "--glass",
                                   "soda-lime-float",
                                   "--mesh",
                                   "data/meshes/bowl.stl",
                                   "--mesh-unit",
                                   "mm"}}) {
    const ProgramRun run = run_program(with(words, {"--record", file}));
    CHECK(run.exit_status == 2);
    CHECK(run.output == "");
    CHECK(run.errors.starts_with("--record: "));
    CHECK(lines_of(run.errors).size() == 1);
    CHECK_FALSE(std::filesystem::exists(file));
  }
  CHECK(run_program({"tail", "--casting", "slab-50", "--record", "-"}).exit_status == 2);
  CHECK(
      run_program({"tail", "--casting", "slab-50", "--record", file, "--out", file}).exit_status ==
      2);
}

TEST_CASE("cli: a record that was changed or cut is refused with its line") {
  const TemporaryFolder folder;
  const std::string file = folder / "firing.record";
  run_program(
      {"check", "data/programs/slab-50-gentle.csv", "--casting", "slab-50", "--record", file});
  const std::string text = read_text_file(file);
  const auto refusal = [&](const std::string& changed) {
    const ProgramRun run = run_program({"check", folder.file("changed", changed)});
    CHECK(run.exit_status == 2);
    CHECK(run.output == "");
    return run.errors;
  };
  const auto changed = [&](const std::string& what, const std::string& to) {
    std::string copy = text;
    const std::size_t at = copy.find(what);
    REQUIRE(at != copy.npos);
    return copy.replace(at, what.size(), to);
  };
  CHECK(has(refusal(changed("record 1", "record 2")), "changed:1: the record is of form \"2\""));
  CHECK(has(refusal(text.substr(0, text.size() / 2)), "it was cut short"));
  CHECK(has(refusal(changed("command = check", "command = tail")), "not check or now"));
  CHECK(has(refusal(changed("kind = glass", "kind = glasss")), "is not whole"));
  CHECK(has(refusal(changed("kind = kiln", "kind = mould")), "holds no kiln"));
  CHECK(has(refusal(changed("[outcome]", "[outcom]")), "there is no section"));
  CHECK(has(refusal(changed("\nroom = 20 C\n", "\nroom 20 C\n")), "is not of the form"));
  CHECK(has(refusal(changed("\nroom = 20 C\n", "\nroom = 900 C\n")),
            "--room: 900 °C (1652 °F) is outside"));
  CHECK(has(refusal(changed("\nroom = 20 C\n", "\nroom = 20 C\nroom = 21 C\n")), "stands twice"));
  // Nothing in a record writes a file or names one to read.
  CHECK(has(refusal(changed("\nroom = 20 C\n", "\nout = /tmp/x\n")), "is no option of a record"));
  CHECK(has(refusal(changed("\nroom = 20 C\n", "\nmesh = x.stl\n")), "is no option of a record"));
  CHECK(has(refusal(changed("\ncasting = slab-50\n", "\ncasting = /etc/passwd\n")),
            "holds no casting called"));
  CHECK(has(refusal(text + "casting = x\n"), "a line after [end]"));
  for (std::size_t cut = 18; cut + 10 < text.size(); cut += 97) refusal(text.substr(0, cut));
}
