#include <doctest/doctest.h>

#include <string>
#include <vector>

#include "message_of.h"
#include "sampling/sample_file.h"

using namespace thickset;

namespace {

Study study() {
  return {.title = "slab 50 mm; some glass; tail.csv; kiln: mine",
          .grade_nm_per_cm = 20.0,
          .tension_limit_MPa = 3.0,
          .bulk = Bulk::constant_ratio,
          .inputs = {{UncertainValue::thickness, 0.05, "+-5 %", "assumed", true},
                     {UncertainValue::sensor,
                      1.0,
                      "+-3.9 °C (7.0 °F) at 513 °C (955 °F)",
                      "type K, ASTM E230",
                      false}},
          .samples = 32,
          .as_given = {0, 1.0 / 3.0, 2.0 / 7.0, true}};
}

std::vector<Sample> samples(std::uint64_t first, std::uint64_t end) {
  std::vector<Sample> made;
  for (std::uint64_t i = first; i < end; ++i) {
    made.push_back({i, 1.0 / (3.0 + static_cast<double>(i)), 0.1 * static_cast<double>(i), i != 3});
  }
  return made;
}

StudyPart part(std::uint64_t first, std::uint64_t end, const std::string& name) {
  return read_samples(write_samples(study(), samples(first, end)), name);
}

bool says(const std::string& message, const std::string& what) {
  return message.find(what) != std::string::npos;
}

}  // namespace

TEST_CASE("sample files: all of a study comes back to the last bit") {
  const StudyPart read = part(0, 32, "all.csv");
  CHECK(write_samples(read.study, read.samples) == write_samples(study(), samples(0, 32)));
  CHECK(read.study.as_given.residual_nm_per_cm == 1.0 / 3.0);
  CHECK(read.samples[5].residual_nm_per_cm == 1.0 / 8.0);
  CHECK(!read.samples[3].relaxes);
  CHECK(read.study.inputs[1].range == "+-3.9 °C (7.0 °F) at 513 °C (955 °F)");
  CHECK(read.study.inputs[1].from == "type K, ASTM E230");
}

TEST_CASE("sample files: parts in any order are the whole") {
  const std::vector<StudyPart> parts{
      part(20, 32, "c.csv"), part(0, 11, "a.csv"), part(11, 20, "b.csv")};
  const StudyPart whole = gathered(parts);
  CHECK(write_samples(whole.study, whole.samples) == write_samples(study(), samples(0, 32)));
}

TEST_CASE("sample files: a part that is missing, there twice or of another study is refused") {
  const std::vector<StudyPart> missing{part(0, 11, "a.csv"), part(20, 32, "c.csv")};
  const std::string lacks = message_of([&] { gathered(missing); });
  CHECK(
      says(lacks, "9 of the 32 samples of its study are in no part, the first of them number 11"));
  const std::vector<StudyPart> twice{part(0, 20, "a.csv"), part(19, 32, "b.csv")};
  const std::string both = message_of([&] { gathered(twice); });
  CHECK(says(both, "b.csv: holds sample 19, which a.csv holds too"));
  Study other = study();
  other.as_given.residual_nm_per_cm += 1e-15;
  const std::vector<StudyPart> mixed{part(0, 20, "a.csv"),
                                     read_samples(write_samples(other, samples(20, 32)), "b.csv")};
  const std::string mixed_up = message_of([&] { gathered(mixed); });
  CHECK(says(mixed_up, "b.csv: is of another study than a.csv"));
}

TEST_CASE("sample files: what is no part is refused with its place") {
  const std::string good = write_samples(study(), samples(0, 4));
  const auto with = [&](const std::string& from, const std::string& to) {
    std::string text = good;
    text.replace(text.find(from), from.size(), to);
    return message_of([&] { read_samples(text, "x.csv"); });
  };
  CHECK(says(message_of([] { read_samples("target_C,minutes\n500,3\n", "x.csv"); }),
             "x.csv: is no part of a study"));
  CHECK(says(with("# samples = 32", "# samples = many"), "x.csv:6: \"many\" is no value of"));
  CHECK(says(with("constant-ratio", "stiff"), "\"stiff\" is no value of \"bulk\""));
  CHECK(says(with("tension_MPa,relaxes", "pull,relaxes"), "its header is not"));
  CHECK(says(with("\n3,", "\n99,"), "\"99\" is not the number of a sample of this study"));
  CHECK(says(with("0.25", "nan"), "\"nan\" is not a stress"));
  CHECK(says(with(",no\n", ",perhaps\n"), "\"perhaps\" is not yes or no"));
}
