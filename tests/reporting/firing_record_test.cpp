#include "reporting/firing_record.h"

#include <random>
#include <string>

#include <doctest/doctest.h>

#include "base/error.h"
#include "message_of.h"

using namespace thickset;

namespace {

FiringRecord example() {
  return {
      .written = "Fri 2026-11-27 18:00 UTC",
      .program = "thickset 0.1.0",
      .command = "check",
      .operand = "my tail = mine.csv",
      .options = {{"casting", "[slab]"}, {"room", "20 C"}},
      .files = {{"casting", "[slab]", "/home/x/# here/slab", "title = a\n\n  # b\n| c\n[end]\n"},
                {"input", "my tail = mine.csv", "-", "a,b\n1,2\n"}},
      .outcome = {{"verdict", "within"}},
      .for_people = {"Key this", "", "[file]"}};
}

}  // namespace

TEST_CASE("firing record: what is written comes back, whatever stands in the files") {
  const FiringRecord record = example();
  const std::string text = write_record(record);
  CHECK(looks_like_record(text));
  CHECK_FALSE(looks_like_record("target_C,minutes\n"));
  const FiringRecord again = parse_record(text, "r");
  CHECK(again.written == record.written);
  CHECK(again.program == record.program);
  CHECK(again.command == record.command);
  CHECK(again.operand == record.operand);
  REQUIRE(again.options.size() == 2);
  CHECK(again.options[0].name == "casting");
  CHECK(again.options[0].value == "[slab]");
  REQUIRE(again.files.size() == 2);
  CHECK(again.files[0].text == record.files[0].text);
  CHECK(again.files[0].read_from == record.files[0].read_from);
  CHECK(again.files[1].name == record.files[1].name);
  CHECK(again.files[1].text == record.files[1].text);
  REQUIRE(again.outcome.size() == 1);
  CHECK(again.outcome[0].value == "within");
}

TEST_CASE("firing record: a name that would break its line is refused") {
  FiringRecord record = example();
  record.files[0].name = "a\n[options]\nout = x";
  const std::string said = message_of([&] { write_record(record); });
  CHECK(said.starts_with("--record: name "));
  CHECK(said.find('\n') == said.npos);
}

TEST_CASE("firing record: no change of its bytes does more than be refused") {
  const std::string text = write_record(example());
  std::mt19937 random{7};
  int refused = 0;
  for (int i = 0; i < 3000; ++i) {
    std::string changed = text;
    for (int j = 0; j < 3; ++j) {
      const std::size_t at = random() % changed.size();
      switch (random() % 3) {
        case 0: changed[at] = static_cast<char>(random() % 256); break;
        case 1: changed.erase(at, 1 + random() % 20); break;
        default: changed.insert(at, 1, "\n[|=#]"[random() % 6]); break;
      }
      if (changed.empty()) break;
    }
    if (message_of([&] { parse_record(changed, "r"); }) != "no error") ++refused;
  }
  CHECK(refused > 100);
  CHECK(refused < 3000);
  parse_record(text, "r");
}
