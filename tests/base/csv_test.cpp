#include "base/csv.h"

#include <random>
#include <string>

#include <doctest/doctest.h>

#include "message_of.h"
#include "temporary_folder.h"

using namespace thickset;

namespace {

std::string parsing(std::string_view text) {
  return message_of([&] { parse_csv(text, "p.csv"); });
}

}  // namespace

TEST_CASE("csv: fields lose their spaces and quotes and keep their places") {
  const CsvTable table = parse_csv(
      "# a program\n"
      "target_C, minutes ,note\n"
      "\n"
      "  516,90,\"soak, then \"\"rest\"\"\"\n"
      "25 , \" 60 \" ,3\"\r\n"
      "1,,\n",
      "p.csv");
  REQUIRE(table.header.size() == 3);
  CHECK(table.header[1].text == "minutes");
  CHECK(to_string(table.header[1].place) == "p.csv:2:11");
  REQUIRE(table.rows.size() == 3);
  CHECK(table.rows[0][0].text == "516");
  CHECK(to_string(table.rows[0][0].place) == "p.csv:4:3");
  CHECK(table.rows[0][2].text == "soak, then \"rest\"");
  CHECK(to_string(table.rows[0][2].place) == "p.csv:4:10");
  CHECK(table.rows[1][1].text == "60");
  CHECK(table.rows[1][2].text == "3\"");
  CHECK(table.rows[2][1].text.empty());
  CHECK(table.rows[2][2].text.empty());
}

TEST_CASE("csv: every bad row is reported with its place") {
  CHECK(parsing("a,b\n"
                "1\n"
                "1,2\n"
                "1,2,\n"
                "1,\"2\n"
                "\"1\"x,2\n") ==
        "p.csv:2: 1 field, the header has 2; fill in what is missing, or save the file whole\n"
        "p.csv:4: 3 fields, the header has 2; remove a comma, or put quotes around a field with a "
        "comma in it\n"
        "p.csv:5:3: a quote is not closed; end the field with \" on the same line\n"
        "p.csv:6:4: text after a closing quote; put a separator there, or write a quote inside a "
        "field "
        "twice");
}

TEST_CASE("csv: a text without header or rows is refused") {
  CHECK(parsing("# nothing\n") ==
        "p.csv: holds no header; the first line names the columns, separated by commas");
  CHECK(parsing("a,b\n") == "p.csv: holds a header and no row; check that it was saved whole");
}

TEST_CASE("csv: semicolons and tabs separate fields where the header has them") {
  for (const char* text : {"a;b\n1,5; 2\n", "a\tb\n1,5\t 2\n"}) {
    const CsvTable table = parse_csv(text, "p.csv");
    REQUIRE(table.header.size() == 2);
    REQUIRE(table.rows.size() == 1);
    CHECK(table.rows[0][0].text == "1,5");
    CHECK(table.rows[0][1].text == "2");
  }
  CHECK(
      parsing("a;b\n1;2;3\n") ==
      "p.csv:2: 3 fields, the header has 2; remove a separator, or put quotes around a field that "
      "holds one");
}

TEST_CASE("csv: one column is a table too") {
  CHECK(parse_csv("a\n1\n2", "f").rows.size() == 2);
}

TEST_CASE("csv: absurd sizes are refused") {
  CHECK(parsing("a\n" + std::string(10'001, '1') + "\n") ==
        "p.csv:2: a line of over 10000 characters; this does not look like a comma-separated file");
  std::string many = std::string(1000, ',') + "\n";
  for (int i = 0; i < 11; ++i) many += many;  // 2048 lines of 1001 fields, one of them the header
  CHECK(parsing(many).ends_with(": more than 2000000 fields; thin the file out"));
}

TEST_CASE("csv: is read from files") {
  const TemporaryFolder folder;
  CHECK(read_csv(folder.file("p.csv",
                             "\xEF\xBB\xBF"
                             "a,b\r\n1,2\r\n"))
            .header[0]
            .text == "a");
  const std::string cut = folder.file("cut.csv", "a,b\r\n1,2\r\n1");
  CHECK(message_of([&] { read_csv(cut); }).starts_with(cut + ":3: 1 field, the header has 2"));
}

TEST_CASE("csv: random bytes are an error or a table, never a crash") {
  std::mt19937 random{1};
  constexpr std::string_view likely = "ab,,\"\"\n\n# ;\t\r\xC2\xB0\xFF";
  int refused = 0;
  for (int i = 0; i < 20'000; ++i) {
    std::string text(random() % 40, ' ');
    for (char& c : text) c = likely[random() % likely.size()];
    if (parsing(text) != "no error") ++refused;
  }
  CHECK(refused > 0);
  CHECK(refused < 20'000);
}
