// Numbers are read and written with a point, and without marks between thousands, whatever the
// locale of the process: a program that uses the library may have set any.

#include <clocale>
#include <cstddef>
#include <locale>
#include <sstream>
#include <string>
#include <vector>

#include <doctest/doctest.h>

#include "fuzz/command_line.h"
#include "geometry/read_stl.h"
#include "schedule/notation.h"
#include "schedule/read_log.h"
#include "units/read_quantity.h"

using namespace thickset;
using fuzz::CommandLine;
using fuzz::CommandRun;
using fuzz::parse_command_line;
using fuzz::run_in_process;

namespace {

/// 1.234.567,5
class Commas : public std::numpunct<char> {
  char do_decimal_point() const override { return ','; }
  char do_thousands_sep() const override { return '.'; }
  std::string do_grouping() const override { return "\3"; }
};

/// The locale of the process has decimal commas while this lives: of C++ always, of C where one
/// such locale is installed.
class CommaLocale {
 public:
  CommaLocale() : before_{std::locale::global(std::locale{std::locale::classic(), new Commas})} {
    for (const char* name : {"de_DE.UTF-8", "de_DE.utf8", "fr_FR.UTF-8", "nl_NL.UTF-8", "de_DE"}) {
      of_C_too_ = of_C_too_ || std::setlocale(LC_ALL, name) != nullptr;
    }
  }
  CommaLocale(const CommaLocale&) = delete;
  CommaLocale& operator=(const CommaLocale&) = delete;
  ~CommaLocale() {
    std::locale::global(before_);
    std::setlocale(LC_ALL, "C");
  }
  bool of_C_too() const { return of_C_too_; }

 private:
  std::locale before_;
  bool of_C_too_ = false;
};

std::string answer(const char* text) {
  const CommandRun run = run_in_process(parse_command_line(text));
  return run.output + "\n" + run.errors;
}

}  // namespace

TEST_CASE("locale: the one with commas is in force, or the tests below say nothing") {
  const CommaLocale commas;
  std::ostringstream text;
  text << 1234567.5;
  CHECK(text.str() == "1,23457e+06");
  double read = 0.0;
  std::istringstream{"1,5"} >> read;
  CHECK(read == 1.5);
  if (!commas.of_C_too()) MESSAGE("no locale of C with commas is installed: C++'s alone is tested");
}

TEST_CASE("locale: quantities are read with a point under a comma locale") {
  const CommaLocale commas;
  CHECK(read_length("1234.5mm", {}).in_mm() == doctest::Approx(1234.5).epsilon(1e-14));
  CHECK(read_temperature("516.5C", {}).in_C() == doctest::Approx(516.5).epsilon(1e-14));
  CHECK(read_number("1.5e3", {}) == 1500.0);
  CHECK(read_whole_number("1234", {}) == 1234);
  CHECK(in_s(read_duration("36:30", {})) == 131400.0);
  CHECK_THROWS(read_number("1,5", {}));
  CHECK_THROWS(read_whole_number("1.234", {}));
}

TEST_CASE("locale: files are read with a point under a comma locale") {
  const CommaLocale commas;
  const Program program =
      parse_program("target_C,rate_C_per_h,hold_min\n20,,0\n513.5,1234.5,1.5\n", "a");
  CHECK(program.steps[0].target.in_C() == doctest::Approx(513.5).epsilon(1e-14));
  CHECK(write_program(program).find("513.5,1234.5,1.5") != std::string::npos);
  const FiringLog log = parse_log("hours,air_C\n0,1000.5\n0.5,900.25\n", "a");
  CHECK(log.time_s[1] == 1800.0);
  CHECK(log.T_K[1] == doctest::Approx(1173.4).epsilon(1e-14));
  const TriangleSoup soup = parse_stl(
      "solid a\nfacet normal 0 0 1\nouter loop\nvertex 1.5 0 0\nvertex 1000.25 1 0\n"
      "vertex 0 1e3 0\nendloop\nendfacet\nendsolid a\n",
      "a");
  CHECK(soup.corners[0].x() == 1.5);
  CHECK(soup.corners[1].x() == 1000.25);
}

TEST_CASE("locale: commands answer to the letter the same under a comma locale") {
  const std::vector<const char*> lines = {
      "hold --glass soda-lime-float --thickness 12.5mm",
      "hold --glass lead-crystal-24 --thickness .5in --format keys --lengths inch --degrees F",
      "check a.csv --glass soda-lime-float --thickness 6mm\n--- a.csv\n"
      "target_C,rate_C_per_h,hold_min\n20,,0\n549.5,1200.5,30.5\n460,60,0\n35,1000,0\n",
      "convert a.csv --to time --degrees F\n--- a.csv\n"
      "target_C,rate_C_per_h,hold_min\n20,,0\n549.5,0.5,1030.5\n460,60,0\n",
      "reading --turn 34.5deg --path 1060mm --glass soda-lime-float",
      "sag --touch 655.5C --thickness 6.25mm --drop 25mm --format csv",
      "list casting-soda-lime-9.0",
      "help manual",
  };
  std::vector<std::string> usual;
  for (const char* line : lines) usual.push_back(answer(line));
  const CommaLocale commas;
  for (std::size_t i = 0; i < lines.size(); ++i) {
    CAPTURE(lines[i]);
    CHECK(usual[i].find_first_of("0123456789") != std::string::npos);
    CHECK(answer(lines[i]) == usual[i]);
  }
}
