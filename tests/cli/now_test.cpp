#include <algorithm>
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

#include <doctest/doctest.h>

#include "base/text_file.h"
#include "cli/read_answer.h"
#include "cli/run_program.h"
#include "reporting/page/page_checks.h"
#include "temporary_folder.h"

using namespace thickset;

namespace {

const std::string plan = "data/programs/slab-50-gentle.csv";

ProgramRun now(std::vector<std::string> more) {
  std::vector<std::string> words = {"now", "--casting", "slab-50"};
  words.insert(words.end(), more.begin(), more.end());
  return run_program(words);
}

double number(const ProgramRun& run, const std::string& name) {
  return std::stod(keys_of(run.output).at(name));
}

bool says(const std::string& text, const std::string& what) {
  return text.find(what) != std::string::npos;
}

/// The first rows of a shipped log, as a file.
std::string beginning_of_log(const TemporaryFolder& folder, const std::string& log, int rows) {
  std::ifstream whole{std::string{THICKSET_SOURCE} + "/data/logs/" + log};
  const std::string path = folder.path() + "/log.csv";
  std::ofstream part{path};
  std::string line;
  for (int i = 0; i < rows && std::getline(whole, line); ++i) part << line << '\n';
  return path;
}

}  // namespace

TEST_CASE("now: after a power cut: what to do, what to key, why, and every caution") {
  const ProgramRun run =
      now({"--air", "401C", "--since-hold", "45min", "--off-for", "45min", "--plan", plan});
  CHECK(run.exit_status == 1);  // what has set will pull more than the limit, whatever is done
  CHECK(run.output.starts_with("Go back to the hold at no more than "));
  for (const char* said : {"to go on from here would leave",
                           "Key into the controller",
                           "start it now",
                           "off for the last 45 min",
                           "MPa comes as it evens out",
                           "It pulls more than the limit of 3 MPa",
                           "Certain already, unless it is heated again:",
                           "Elements off: in",
                           "never by the display alone",
                           "If you suspect a crack: do not reheat, do not open",
                           "After a power cut look to the supply first",
                           "an estimate, not a guarantee"}) {
    CAPTURE(said);
    CHECK(says(run.output, said));
  }
}

TEST_CASE("now: on its way as planned: go on") {
  const ProgramRun run = now({"--air", "445C", "--since-hold", "9.7h", "--plan", plan});
  CHECK(run.exit_status == 0);
  CHECK(run.output.starts_with("Go on: cool as below."));
  CHECK_FALSE(says(run.output, "evens out"));
  CHECK_FALSE(says(run.output, "It pulls more than"));
  CHECK_FALSE(says(run.output, "times the limit"));
}

TEST_CASE("now: a display at the next target does not say that the glass is") {
  const ProgramRun run = now({"--air",
                              "360C",
                              "--since-hold",
                              "21.9h",
                              "--plan",
                              plan,
                              "--until",
                              "362C",
                              "--format",
                              "keys"});
  CHECK(number(run, "slowest_C") > 362.0);
  CHECK(number(run, "slowest_lowest_C") < number(run, "slowest_C"));
  CHECK(number(run, "slowest_highest_C") > number(run, "slowest_C"));
  CHECK(number(run, "wait_as_advised_min") > 10.0);
}

TEST_CASE("now: from a log, with clock times; its faults are said; the rest reads back by check") {
  const TemporaryFolder folder;
  const std::string log = beginning_of_log(folder, "slab-50-power-cut.csv", 700);
  const std::string rest = folder.path() + "/rest.csv";
  const ProgramRun run = now({log, "--plan", plan});
  CHECK(run.exit_status == 0);
  CHECK(says(run.output, "Go on: cool as below."));
  CHECK(says(run.output, "times the limit"));  // what the cut pulled
  CHECK(says(run.output, "Mon "));
  CHECK(now({log, "--plan", plan, "--out", rest}).exit_status == 0);
  CHECK(run_program({"convert", rest}).exit_status == 0);
}

TEST_CASE("now: a log without a program: a tail is planned") {
  const TemporaryFolder folder;
  const std::string log = beginning_of_log(folder, "slab-50-good.csv", 200);
  const ProgramRun run = now({log});
  CHECK(says(run.output, "No program is given"));
  CHECK(run.exit_status == 0);
}

TEST_CASE("now: a log's readings thinned to hourly ones give the same advice") {
  const TemporaryFolder folder;
  const std::string log = beginning_of_log(folder, "slab-50-power-cut.csv", 700);
  std::ifstream whole{log};
  const std::string thin = folder.path() + "/thin.csv";
  {
    std::ofstream part{thin};
    std::string line, last;
    for (int i = 0; std::getline(whole, line); ++i) {
      const bool head = line.starts_with("#") || line.starts_with("date");
      if (head || i % 15 == 0) {
        part << line << '\n';
        last.clear();
      } else {
        last = line;
      }
    }
    if (!last.empty()) part << last << '\n';
  }
  const ProgramRun of_all = now({log, "--plan", plan, "--format", "keys"});
  const ProgramRun of_few = now({thin, "--plan", plan, "--format", "keys"});
  CHECK(keys_of(of_all.output).at("advice") == keys_of(of_few.output).at("advice"));
  CHECK(std::abs(number(of_all, "slowest_C") - number(of_few, "slowest_C")) < 3.0);
}

TEST_CASE("now: the display alone: inside, opening, and what it cannot tell") {
  const ProgramRun run = now({"--air", "80C"});
  CHECK(run.exit_status == 0);
  CHECK(says(run.output, "What stress is in it cannot be told"));
  CHECK_FALSE(says(run.output, "Certain already"));
  const ProgramRun in_mould =
      now({"--air", "80C", "--mould", "plaster-silica 25mm", "--format", "keys"});
  CHECK(number(in_mould, "open_in_mould_draught_pulls_MPa") <
        number(in_mould, "open_bare_draught_pulls_MPa"));
  CHECK(number(in_mould, "open_bare_still_air_pulls_MPa") <
        number(in_mould, "open_bare_draught_pulls_MPa"));
  CHECK(now({"--air", "80C", "--format", "csv"}).exit_status == 2);
}

TEST_CASE("now: in F") {
  const ProgramRun run = now({"--air",
                              "833F",
                              "--since-hold",
                              "9.7h",
                              "--plan",
                              plan,
                              "--degrees",
                              "F",
                              "--until",
                              "840F"});
  CHECK(run.exit_status == 0);
  CHECK(says(run.output, "°F"));
  CHECK_FALSE(says(run.output, "°C"));
}

TEST_CASE("now: what was typed does not go together") {
  struct Row {
    std::vector<std::string> words;
    const char* said;
  };
  const Row rows[] = {
      {{}, "needs a log, or what the display shows"},
      {{"--air", "430"}, "430 has no unit"},
      {{"--air", "430C", "--plan", plan}, "--since-hold: it is not given"},
      {{"--air", "430C", "--since-hold", "2h"}, "--plan: it is not given"},
      {{"--air", "430C", "--off-for", "2h"}, "without a program it says nothing"},
      {{"--air", "430C", "--since-hold", "2h", "--since-start", "3h", "--plan", plan},
       "--since-hold is given as well"},
      {{"--air", "2000C"}, "outside -20 to 1300 °C"},
      {{"--air", "30C", "--since-hold", "10min", "--plan", plan}, "colder than this kiln falls"},
      {{"data/logs/slab-50-good.csv", "--air", "400C"}, "the log tells it already"},
      {{"--air", "10C"}, "is not above the room"},
      {{"--air", "430C", "--until", "20C"}, "--until: no glass gets as cold as the room"},
      {{"--air", "370C", "--since-hold", "1min", "--off-for", "1min", "--plan", plan},
       "by itself this kiln takes 1 h 21 min from 513 °C to 370 °C"},
      {{"--air", "430C", "--sensor", "air_C"}, "there is no log"}};
  for (const Row& row : rows) {
    CAPTURE(row.said);
    const ProgramRun run = now(row.words);
    CHECK(run.exit_status == 2);
    CHECK(run.output.empty());
    CHECK(says(run.errors, row.said));
  }
}

TEST_CASE("now: the first line names the hold that is left, however hot the kiln is") {
  const ProgramRun above = now({"--air", "530C", "--since-start", "2h", "--plan", plan});
  CHECK(above.output.starts_with("Go on: bring it to 513 °C, hold there for 2 h 20 min"));
  const ProgramRun at_it = now({"--air", "515C", "--since-start", "2h", "--plan", plan});
  CHECK(at_it.output.starts_with("Go on: hold for 2 h 20 min more"));
  // One that was cut is what is wrong with going on.
  const ProgramRun cut = now({"--air", "482C", "--since-start", "2h", "--plan", plan});
  CHECK(says(cut.output, "hold too short"));
  CHECK(says(cut.output, "the hold so far has not relaxed the glass"));
}

TEST_CASE("now: a program for another glass is refused whatever else is known") {
  for (const char* known : {"--since-hold", "--since-start"}) {
    const ProgramRun run =
        run_program({"now", "--casting", "ball-90", "--air", "430C", known, "12h", "--plan", plan});
    CHECK(run.exit_status == 2);
    CHECK(says(run.errors, "no hold that could anneal this glass, 340 °C to 500 °C"));
    CHECK(says(run.errors, "name a program made for this glass"));
  }
}

TEST_CASE("now: a log of a heating: on with what leads to the hold, where it is known") {
  const TemporaryFolder folder;
  const std::string log = folder.path() + "/heating.csv";
  std::ofstream{log} << "hours,air_C\n0,20\n1,120\n2,220\n3,300\n";
  const std::string melt = folder.path() + "/melt.csv";
  std::ofstream{melt}
      << "target_C,rate_C_per_h,hold_min\n680,100,60\n513,asap,180\n360,7,0\n35,28,0\n";
  const ProgramRun unknown = now({log});
  CHECK(unknown.exit_status == 2);
  CHECK(says(unknown.errors, "the log has not come to an anneal hold yet"));
  const ProgramRun known = now({log, "--plan", melt});
  CHECK(known.exit_status == 0);
  CHECK(known.output.starts_with("Go on: the anneal hold is still to come"));
  CHECK(says(known.output, "680 °C     60 min"));
  CHECK_FALSE(says(known.output, "Certain already"));
  // Without the melt a whole piece is heated, and at the kiln's own pace that is too fast.
  const ProgramRun whole = now({log, "--plan", plan});
  CHECK(whole.exit_status == 1);
  CHECK(whole.output.starts_with("The rest of the program does not keep the limits. Go on"));
  CHECK(says(whole.output, "rewarm` finds rates"));
}

TEST_CASE("now: every line fits 80 columns, with clock times as well") {
  const std::vector<std::vector<std::string>> calls = {
      {"data/logs/slab-50-good.csv", "--at", "20h"},
      {"data/logs/slab-50-power-cut.csv", "--at", "736min", "--plan", plan, "--until", "100C"},
      {"--air", "401C", "--since-hold", "45min", "--off-for", "45min", "--plan", plan},
      {"--air", "80C", "--until", "40C"}};
  for (const std::vector<std::string>& call : calls) {
    std::istringstream lines{now(call).output};
    for (std::string line; std::getline(lines, line);) {
      CAPTURE(line);
      // Bytes that go on with a character take no column.
      const auto columns =
          std::count_if(line.begin(), line.end(), [](char c) { return (c & 0xC0) != 0x80; });
      CHECK(columns <= 80);
    }
  }
}

TEST_CASE("now: looking back into a log") {
  const std::string log = "data/logs/slab-50-power-cut.csv";
  const ProgramRun then = now({log, "--at", "736min", "--plan", plan});
  CHECK(then.output.starts_with("Go back to the hold"));
  CHECK(says(then.output, "over anyway"));
  CHECK_FALSE(says(now({log, "--at", "10h", "--plan", plan}).output, "no reading for"));
  const ProgramRun late = now({log, "--at", "1000h", "--plan", plan});
  CHECK(late.exit_status == 2);
  CHECK(says(late.errors, "--at: the log ends before, "));
  const ProgramRun early = now({log, "--at", "0h", "--plan", plan});
  CHECK(early.exit_status == 2);
  CHECK(says(early.errors, "the log has 1 reading until then"));
  CHECK(now({"--air", "80C", "--at", "2h"}).exit_status == 2);
}

TEST_CASE("now: between hourly readings it is said how old the last one is, near the top") {
  const TemporaryFolder folder;
  const std::string log =
      folder.file("log.csv", "hours,air_C\n0,800\n1,600\n2,513\n5,513\n9,480\n10,475\n");
  const ProgramRun run = now({log, "--at", "7h"});
  CHECK(run.exit_status != 2);
  const std::size_t said = run.output.find("the last reading until then is 2 h old");
  CHECK(said < run.output.find("Key into"));
  CHECK_FALSE(says(run.output, "lines 5 to 6"));
  CHECK_FALSE(says(now({log, "--at", "5h"}).output, "old: all"));
}

TEST_CASE("now: glass in a kiln that is held never gets cooler than the kiln") {
  const ProgramRun run = now({"--air", "430C", "--until", "150F"});
  CHECK(says(run.output, "the kiln held where it is          never: the kiln shows 430 °C"));
}

TEST_CASE("now and rewarm: a page to print; none for the display alone") {
  const TemporaryFolder folder;
  const std::string page = folder.path() + "/now.html";
  CHECK(now({"data/logs/slab-50-power-cut.csv", "--at", "736min", "--plan", plan, "--page", page})
            .exit_status == 1);
  const std::string html = read_text_file(page);
  CHECK(page_checks::fault_of_markup(html) == "");
  for (const char* said :
       {"Go back to the hold", "back to the hold", "Sat 06:16", "What can be done"}) {
    CAPTURE(said);
    CHECK(says(html, said));
  }
  const std::string again = folder.path() + "/again.html";
  CHECK(run_program({"rewarm", "--casting", "slab-50", "--retardation", "60nm/cm", "--page", again})
            .exit_status == 0);
  CHECK(page_checks::fault_of_markup(read_text_file(again)) == "");
  CHECK(says(read_text_file(again), "Heat at "));
  const ProgramRun alone = now({"--air", "80C", "--page", folder.path() + "/none.html"});
  CHECK(alone.exit_status == 2);
  CHECK(says(alone.errors, "gives no firing to draw"));
}
