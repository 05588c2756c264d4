#include <cctype>
#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <string>
#include <vector>

#include <doctest/doctest.h>

#include "base/text_file.h"
#include "cli/run_program.h"
#include "reporting/page/page_checks.h"
#include "slow_build.h"
#include "temporary_folder.h"

using namespace thickset;
using page_checks::count;
using page_checks::fault_of_markup;

namespace {

const std::vector<std::string> check_of_slab = {"check",
                                                "data/programs/slab-50-gentle.csv",
                                                "--casting",
                                                "slab-50"};

ProgramRun run_with(std::vector<std::string> words, const std::vector<std::string>& more) {
  words.insert(words.end(), more.begin(), more.end());
  return run_program(words);
}

/// A picture's text cut into numbers and what is between them.
struct Pieces {
  std::vector<double> numbers;
  std::string others;
};
Pieces pieces_of(const std::string& text) {
  Pieces pieces;
  for (const char* at = text.c_str(); *at != '\0';) {
    const bool is_number = std::isdigit(static_cast<unsigned char>(*at)) != 0;
    if (!is_number) {
      pieces.others += *at++;
      continue;
    }
    char* end = nullptr;
    pieces.numbers.push_back(std::strtod(at, &end));
    at = end;
    pieces.others += '#';
  }
  return pieces;
}

}  // namespace

TEST_CASE("page and charts from the command line: files written whole, the report unchanged") {
  const TemporaryFolder folder;
  const ProgramRun plain = run_program(check_of_slab);
  const ProgramRun run =
      run_with(check_of_slab, {"--page", folder / "page.html", "--chart", folder / "chart.svg"});
  CHECK(run.exit_status == plain.exit_status);
  CHECK(run.output == plain.output);
  CHECK(run.errors == plain.errors);
  CHECK(folder.count() == 2);
  CHECK(fault_of_markup(read_text_file(folder / "page.html")) == "");
  const std::string chart = read_text_file(folder / "chart.svg");
  CHECK(fault_of_markup(chart) == "");
  CHECK(count(chart, "<title>Temperature of kiln, surface and core</title>") == 1);

  for (const auto& [kind, title] :
       {std::pair{"stress", "Tension and growing permanent stress"},
        std::pair{"section", "Through the thickness"},
        std::pair{"edge", "Predicted view between crossed polarisers"}}) {
    const std::string of_kind = kind;
    CAPTURE(of_kind);
    run_with(check_of_slab, {"--chart", folder / "one.svg", "--chart-of", kind});
    const std::string one = read_text_file(folder / "one.svg");
    CHECK(fault_of_markup(one) == "");
    CHECK(count(one, std::string{"<title>"} + title) == 1);
  }
}

TEST_CASE("page of a log from the command line") {
  const TemporaryFolder folder;
  const ProgramRun run = run_program({"check",
                                      "data/logs/slab-50-too-fast.csv",
                                      "--casting",
                                      "slab-50",
                                      "--page",
                                      folder / "page.html"});
  CHECK(run.exit_status == 1);
  CHECK(fault_of_markup(read_text_file(folder / "page.html")) == "");
}

TEST_CASE("page options that cannot be meant are refused in one line, and nothing is written") {
  const TemporaryFolder folder;
  struct Refusal {
    std::vector<std::string> more;
    const char* says;
  };
  const std::string svg = folder / "c.svg";
  const std::vector<Refusal> refusals = {
      {{"--chart-of", "stress"},
       "--chart-of: there is no --chart to draw; add --chart FILE.svg, or leave it out\n"},
      {{"--chart", svg, "--chart-of", "rates"},
       "--chart-of: the rates are drawn of a tail that is planned; use it with tail, or write "
       "temperature, stress, section or edge\n"},
      {{"--chart", svg, "--chart-of", "pie"},
       "--chart-of: \"pie\" is not known; write one of: temperature, stress, section, edge, "
       "rates\n"},
      {{"--path", "60mm"},
       "--path: nothing shows what light does on its way; add --page FILE.html or --chart FILE.svg "
       "--chart-of edge, or leave it out\n"},
      {{"--page", folder / "p.html", "--path", "0.2mm"},
       "--path: 0.2 mm is outside 1 to 5000 mm; give the glass that the light passes, such as "
       "60mm\n"},
      {{"--page", folder / "p.html", "--path", "60"}, "--path"},
      {{"--page", svg, "--chart", svg},
       "--chart: the page is written to the same file; give each a name of its own\n"},
      {{"--page", folder / "p.txt"},
       "p.txt\" is no name of a page; a page is HTML: end the name in .html\n"},
      {{"--chart", folder / "c.png"},
       "c.png\" is no name of a chart; a chart is SVG, which a browser shows: end the name in "
       ".svg\n"},
      {{"--page", ""}, "--page: nothing was given; write a value after it\n"},
      {{"--page", folder / "none/p.html"}, "none"}};
  for (const Refusal& refusal : refusals) {
    CAPTURE(refusal.says);
    const ProgramRun run = run_with(check_of_slab, refusal.more);
    CHECK(run.exit_status == 2);
    CHECK(run.output.empty());
    CHECK(count(run.errors, refusal.says) == 1);
    CHECK(count(run.errors, "\n") == 1);
  }
  CHECK(folder.count() == 0);
  const ProgramRun ball =
      run_program({"tail", "--casting", "ball-90", "--chart", svg, "--chart-of", "edge"});
  CHECK(ball.exit_status == 2);
  CHECK(ball.errors ==
        "--chart-of: a rod or a ball has no view along its faces; write temperature, stress or "
        "section\n");
}

// The pictures of the notes are what the commands beside them draw: the same words and lines, to a
// tenth of a pixel and its rounding.
TEST_CASE("pictures of the notes are as the program draws them now") {
  constexpr double rounding_px = 0.11;
  struct Picture {
    const char* file;
    std::vector<std::string> words;
  };
  const std::vector<Picture> pictures = {
      {"notes/planning_75mm.svg",
       {"tail",
        "--glass",
        "casting-soda-lime-9.0",
        "--thickness",
        "75mm",
        "--kiln",
        "small-fibre",
        "--controller",
        "ten-steps-by-rate",
        "--chart-of",
        "rates"}},
      {"notes/pictures/temperature.svg",
       {"tail", "--casting", "block-75x75x150", "--controller", "seven-steps-by-time"}},
      {"notes/pictures/stress.svg",
       {"tail",
        "--casting",
        "block-75x75x150",
        "--controller",
        "seven-steps-by-time",
        "--chart-of",
        "stress"}},
      {"notes/pictures/hours.svg",
       {"table", "--glass", "casting-soda-lime-9.0", "--kiln", "small-fibre"}}};
  const TemporaryFolder folder;
  for (const Picture& picture : pictures) {
    if (slow_build && &picture != &pictures.front()) continue;
    CAPTURE(picture.file);
    const std::string drawn = folder / "drawn.svg";
    run_with(picture.words, {"--chart", drawn});
    const Pieces now = pieces_of(read_text_file(drawn));
    const Pieces kept =
        pieces_of(read_text_file(std::string{THICKSET_SOURCE} + "/" + picture.file));
    CHECK(now.others == kept.others);
    REQUIRE(now.numbers.size() == kept.numbers.size());
    double farthest = 0.0;
    for (std::size_t i = 0; i < now.numbers.size(); ++i) {
      farthest = std::max(farthest, std::abs(now.numbers[i] - kept.numbers[i]));
    }
    CHECK(farthest <= rounding_px);
  }
}
