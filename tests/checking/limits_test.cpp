#include "checking/limits.h"

#include <doctest/doctest.h>

#include "message_of.h"

using namespace thickset;

namespace {

const Place grade_place{.source = "--grade"};
const Place tension_place{.source = "--tension"};

std::string grade_refusal(const char* text) {
  return message_of([&] { read_grade(text, grade_place); });
}

std::string tension_refusal(const char* text) {
  return message_of([&] { read_tension(text, tension_place); });
}

}  // namespace

// [ISO10110-18]: more than 20 nm/cm is a coarse anneal, less than 10 a fine one (read in a page
// that quotes it); 5 nm/cm for precision optics is from memory.
TEST_CASE("grade: the words of the standard stand for its figures, and say so") {
  struct Row {
    const char* word;
    double nm_per_cm;
  };
  for (const Row& row : {Row{"coarse", 20.0}, Row{"fine", 10.0}, Row{"precision", 5.0}}) {
    CAPTURE(row.word);
    const Limit<Retardation> grade = read_grade(row.word, grade_place);
    CHECK(grade.value.in_nm_per_cm() == row.nm_per_cm);
    CHECK(grade.reason.starts_with(row.word));
    CHECK(grade.reason.find("ISO 10110-18") != std::string::npos);
  }
}

TEST_CASE("grade: a number is as typed") {
  const Limit<Retardation> grade = read_grade("15 nm/cm", grade_place);
  CHECK(grade.value.in_nm_per_cm() == 15.0);
  CHECK(grade.reason == "as typed");
}

TEST_CASE("grade: unknown words are answered with the known ones, numbers keep their range") {
  const std::string known =
      "--grade: \"medium\" is not known; write coarse, fine, precision, or nm/cm such as 20nm/cm";
  CHECK(grade_refusal("medium") == known);
  CHECK(grade_refusal("Fine").find("write coarse, fine, precision") != std::string::npos);
  CHECK(grade_refusal("inf nm/cm").find("is not known") != std::string::npos);
  CHECK(grade_refusal("20").find("20 has no unit") != std::string::npos);
  CHECK(grade_refusal("0.4nm/cm").find("0.4 nm/cm is outside 0.5 to 1000 nm/cm") !=
        std::string::npos);
  CHECK(grade_refusal("1001nm/cm").find("is outside") != std::string::npos);
  CHECK(grade_refusal("") != "no error");
}

TEST_CASE("tension: the state of the surface is a limit, called assumed") {
  const Limit<Stress> raw = read_tension("raw", tension_place);
  const Limit<Stress> ground = read_tension("ground", tension_place);
  CHECK(raw.value.in_MPa() == doctest::Approx(3.0));
  CHECK(ground.value.in_MPa() == doctest::Approx(4.0));
  CHECK(raw.reason.find("assumed") != std::string::npos);
  CHECK(ground.reason.find("assumed") != std::string::npos);
}

// [SHAND58], from memory: long-load working stress of annealed glass 1000 psi = 6.9 MPa.
// [EN16612], factors from memory: 0.29 x 45 / 1.8 = 7.25 MPa, float glass under permanent load.
TEST_CASE("tension: a number up to what annealed glass carries for long, with what it asks for") {
  CHECK(read_tension("2.5MPa", tension_place).reason == "as typed");
  CHECK(read_tension("3MPa", tension_place).reason == "as typed");
  CHECK(read_tension("3.5MPa", tension_place).reason.find("more than raw") != std::string::npos);
  const Limit<Stress> most = read_tension("7MPa", tension_place);
  CHECK(most.value.in_MPa() == doctest::Approx(7.0));
  CHECK(most.reason.find("flaw-free faces without re-entrant corners") != std::string::npos);
  constexpr double float_permanent_MPa = 0.29 * 45.0 / 1.8;
  CHECK(most.value.in_MPa() < float_permanent_MPa);
  CHECK(tension_refusal("7.1MPa").find("is outside 0.2 to 7 MPa") != std::string::npos);
  CHECK(tension_refusal("0.1MPa").find("is outside 0.2 to 7 MPa") != std::string::npos);
}

TEST_CASE("tension: unknown words are answered with the known ones") {
  CHECK(tension_refusal("polished") ==
        "--tension: \"polished\" is not known; write raw (3 MPa), ground (4 MPa), or a stress such "
        "as 3MPa");
  CHECK(tension_refusal("3").find("3 has no unit") != std::string::npos);
}

TEST_CASE("limits: the defaults are the words coarse and raw") {
  const Limits limits;
  const Limit<Retardation> coarse = read_grade("coarse", grade_place);
  const Limit<Stress> raw = read_tension("raw", tension_place);
  CHECK(limits.grade == coarse.value);
  CHECK(limits.tension == raw.value);
  CHECK(limits.grade_reason == coarse.reason + "; default");
  CHECK(limits.tension_reason == raw.reason + "; default");
}
