// What the fuzzers begin with and what they have found, through the same targets: notes/fuzzing.md.

#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>
#include <initializer_list>
#include <map>
#include <sstream>
#include <string>
#include <vector>

#include "base/text_file.h"
#include "fuzz/command_line.h"
#include "fuzz/target.h"

using namespace thickset;
using namespace thickset::fuzz;

namespace {

namespace fs = std::filesystem;

const fs::path source = THICKSET_SOURCE;
const fs::path here = source / "tests" / "fuzz";

/// A line of targets.list.
struct Listed {
  std::string name, program;
  std::size_t longest_bytes;
  std::string dictionary;
  int runs;
  std::string shipped;
};

std::vector<Listed> listed() {
  std::vector<Listed> targets;
  std::istringstream lines{read_text_file((here / "targets.list").string())};
  for (std::string line; std::getline(lines, line);) {
    if (line.empty() || line.front() == '#') continue;
    std::istringstream words{line};
    Listed target;
    words >> target.name >> target.program >> target.longest_bytes >> target.dictionary >>
        target.runs >> target.shipped;
    CHECK_MESSAGE(!words.fail(), line);
    targets.push_back(target);
  }
  return targets;
}

std::vector<Target> all_targets() {
  std::vector<Target> targets{reader_targets().begin(), reader_targets().end()};
  targets.insert(targets.end(), command_targets().begin(), command_targets().end());
  return targets;
}

void add_files_of(const fs::path& folder, std::vector<fs::path>& files) {
  if (!fs::is_directory(folder)) return;
  for (const auto& entry : fs::directory_iterator{folder}) files.push_back(entry.path());
}

/// Seeds, found cases, and shipped files that are seeds, in a fixed order.
std::vector<fs::path> inputs_of(const Listed& target) {
  std::vector<fs::path> files;
  if (target.shipped != "-") add_files_of(source / fs::path{target.shipped}.parent_path(), files);
  add_files_of(here / "seeds" / target.name, files);
  add_files_of(here / "found" / target.name, files);
  std::sort(files.begin(), files.end());
  return files;
}

std::string finding(const Target& target, const fs::path& file) {
  try {
    target.run(read_bytes(file.string(), largest_text_bytes));
  } catch (const std::exception& error) {
    return error.what();
  }
  return {};
}

}  // namespace

TEST_CASE("fuzzing: every target is listed once, has a dictionary and something to begin with") {
  std::map<std::string, Listed> by_name;
  for (const Listed& target : listed()) {
    CAPTURE(target.name);
    CHECK(by_name.emplace(target.name, target).second);
    CHECK(fs::is_regular_file(here / (target.dictionary + ".dict")));
    CHECK(target.runs > 0);
    CHECK_FALSE(inputs_of(target).empty());
    for (const fs::path& file : inputs_of(target)) {
      CAPTURE(file.string());
      CHECK(fs::file_size(file) <= target.longest_bytes);
    }
  }
  CHECK(by_name.size() == all_targets().size());
  for (const Target& target : reader_targets()) {
    CHECK(by_name[std::string{target.name}].program == "readers");
  }
  for (const Target& target : command_targets()) {
    CHECK(by_name[std::string{target.name}].program == "commands");
  }
}

TEST_CASE("fuzzing: every seed and every case that was found is read or refused") {
  const std::vector<Target> targets = all_targets();
  for (const Listed& target : listed()) {
    const auto known = std::find_if(
        targets.begin(), targets.end(), [&](const Target& one) { return one.name == target.name; });
    REQUIRE(known != targets.end());
    for (const fs::path& file : inputs_of(target)) {
      CAPTURE(file.string());
      CHECK(finding(*known, file) == "");
    }
  }
}

TEST_CASE("fuzzing: a command line is taken from a text, with its files") {
  const CommandLine line = parse_command_line(
      "--from 800C \"--chart\" \"a b.svg\" \"\"\n--- a.casting\ntitle = a\nsize = 5 mm\n--- "
      "-\nx\n");
  CHECK(line.words == std::vector<std::string>{"--from", "800C", "--chart", "a b.svg", ""});
  REQUIRE(line.files.size() == 2);
  CHECK(line.files[0].name == "a.casting");
  CHECK(line.files[0].text == "title = a\nsize = 5 mm\n");
  CHECK(line.files[1].name == "-");
  CHECK(line.files[1].text == "x\n");
}

TEST_CASE("fuzzing: no word and no file of a command line leaves its folder") {
  const CommandLine line = parse_command_line(
      "/etc/passwd --out=/tmp/x ../a a/../../b ./c 5C/h \"1 W/(m2 K)/x\"\n--- ../../d\n--- /e/f\n");
  CHECK(line.words ==
        std::vector<std::string>{
            "etc/passwd", "--out=tmp/x", "..a", "a/....b", ".c", "5C/h", "1 W/(m2 K)/x"});
  REQUIRE(line.files.size() == 2);
  CHECK(line.files[0].name == "d");
  CHECK(line.files[1].name == "ef");
}

TEST_CASE("fuzzing: a command runs in this process as the program does, and leaves it as it was") {
  const fs::path before = fs::current_path();
  const CommandLine sag = parse_command_line("sag --touch 655C --thickness 6mm --drop 25mm");
  const CommandRun run = run_in_process(sag);
  CHECK(run.exit_status == 0);
  CHECK(run.output.find("annealing point") != std::string::npos);
  CHECK(run.errors == "");
  CHECK(run_in_process(sag).output == run.output);
  CHECK(fs::current_path() == before);

  const CommandRun written =
      run_in_process(parse_command_line("convert a.csv --to time --out b.csv\n--- a.csv\n"
                                        "target_C,rate_C_per_h,hold_min\n20,,0\n500,100,60\n"));
  CHECK(written.exit_status == 0);
  CHECK(written.files_left == std::vector<std::string>{"b.csv"});

  const CommandRun piped = run_in_process(parse_command_line(
      "convert - --to time\n--- -\ntarget_C,rate_C_per_h,hold_min\n20,,0\n500,100,60\n"));
  CHECK(piped.exit_status == 0);
  CHECK(piped.output.find("500") != std::string::npos);

  const CommandRun refused = run_in_process(parse_command_line("sag --touch 655"));
  CHECK(refused.exit_status == 2);
  CHECK(refused.output == "");
  CHECK(refused.errors.find("--touch: 655 has no unit") == 0);
}

TEST_CASE("fuzzing: what would be planned for long is told from what is thin or refused") {
  const auto is_long = [](const char* text) {
    return plans_long(parse_command_line(text), Length::from_mm(15.0), 6);
  };
  CHECK(is_long("tail --glass soda-lime-float --thickness 50mm"));
  CHECK(is_long("tail --glass soda-lime-float --thickness 5mm --steps 12"));
  CHECK(is_long("table --glass soda-lime-float --rows 5mm,50mm"));
  CHECK_FALSE(is_long("tail --glass soda-lime-float --thickness 5mm --steps 2"));
  CHECK_FALSE(is_long("table --glass soda-lime-float --rows 5mm,6mm"));
  CHECK_FALSE(is_long("tail --glass no-such-glass --thickness 50mm"));
}

TEST_CASE("fuzzing: targets find what is wrong") {
  CHECK_THROWS_AS(demand(false, "a fault"), Finding);
  CHECK_NOTHROW(demand(true, "a fault"));
}
