#include "base/entries.h"

#include <random>
#include <string>

#include <doctest/doctest.h>

#include "message_of.h"
#include "temporary_folder.h"

using namespace thickset;

namespace {

std::string parsing(std::string_view text) {
  return message_of([&] { parse_entries(text, "a.glass"); });
}

}  // namespace

TEST_CASE("entries: key, value, source, locator and comment are told apart, with their places") {
  const auto entries = parse_entries(
      "# a glass\n"
      "\n"
      "name = Crown, clear\n"
      "  density\t=  2500 kg/m3   [KEY] p. 2  # at room temperature\r\n"
      "density = 2.5 g/cm3[OTHER]\n",
      "a.glass");
  REQUIRE(entries.size() == 3);
  CHECK(entries[0].key == "name");
  CHECK(entries[0].value == "Crown, clear");
  CHECK(entries[0].source.empty());
  CHECK(entries[1].key == "density");
  CHECK(entries[1].value == "2500 kg/m3");
  CHECK(entries[1].source == "KEY");
  CHECK(entries[1].locator == "p. 2");
  CHECK(to_string(entries[1].key_place) == "a.glass:4:3");
  CHECK(to_string(entries[1].value_place) == "a.glass:4:14");
  CHECK(entries[2].value == "2.5 g/cm3");
  CHECK(entries[2].source == "OTHER");
}

TEST_CASE("entries: a value may hold an equals sign, and keys may repeat") {
  const auto entries = parse_entries("note = a=b\nnote = c", "f");
  REQUIRE(entries.size() == 2);
  CHECK(entries[0].value == "a=b");
  CHECK(entries[1].value == "c");
}

TEST_CASE("entries: columns count characters, not bytes") {
  CHECK(parsing("a = 5 \u00B0C [K") ==
        "a.glass:1:10: [ without its ]; close the bracket around the source");
}

TEST_CASE("entries: every bad line is reported, once each, with its place") {
  CHECK(parsing("density 2500\n"
                "= 5\n"
                "Density = 5\n"
                "a b = 5\n"
                "good = 5\n"
                "empty =  # 5\n"
                "sourced = [K]\n"
                "\u00B0 = 5\n"
                "open = 5 mm [K\n") ==
        "a.glass:1: no = in \"density 2500\"; write key = value, or # before a comment\n"
        "a.glass:2: no key before the =; write key = value\n"
        "a.glass:3:1: \"Density\" is not a key; a key is made of a-z, 0-9 and _\n"
        "a.glass:4:1: \"a b\" is not a key; a key is made of a-z, 0-9 and _\n"
        "a.glass:6:8: empty has no value; write the value after the =\n"
        "a.glass:7:10: sourced has no value; write the value after the =\n"
        "a.glass:8:1: \"\u00B0\" is not a key; a key is made of a-z, 0-9 and _\n"
        "a.glass:9:13: [ without its ]; close the bracket around the source");
}

TEST_CASE("entries: a line is at most 1000 characters") {
  CHECK(parse_entries("a = " + std::string(996, 'x'), "f").size() == 1);
  CHECK(parsing("a = " + std::string(997, 'x')) ==
        "a.glass:1: a line of over 1000 characters; this does not look like a file of key = value "
        "lines");
}

TEST_CASE("entries: a text without any is refused") {
  for (const char* text : {"", "\n\n", "# only a comment\n"}) {
    CHECK(parsing(text) == "a.glass: holds no entry; write lines of the form key = value");
  }
}

TEST_CASE("entries: are read from files") {
  const TemporaryFolder folder;
  CHECK(read_entries(folder.file("a.glass", "a = 1\r\nb = 2")).size() == 2);
  const std::string missing = folder / "none";
  CHECK(message_of([&] { read_entries(missing); }) ==
        missing + ": no such file; check the name and the folder");
}

TEST_CASE("entries: the nearest name is found within two letters or a third of the name") {
  const std::vector<std::string> known{"annealing_point", "strain_point", "density"};
  CHECK(nearest_name("anealing_point", known) == "annealing_point");
  CHECK(nearest_name("strain-point", known) == "strain_point");
  CHECK(nearest_name("densty", known) == "density");
  CHECK(nearest_name("annealed", known) == "");  // too many letters away
  CHECK(nearest_name("annealing", known) == "annealing_point");
  CHECK(nearest_name("plaster", {"air", "plaster-sand", "plaster-silica"}) ==
        "plaster-sand or plaster-silica");
  CHECK(nearest_name("slab", {"slab-1234", "slab-2345", "slab-3456", "slab-4567"}) == "");
  CHECK(nearest_name("viscosity", known) == "");
  CHECK(nearest_name("", known) == "");
  CHECK(nearest_name("x", {"ab", "y"}) == "");
  CHECK(nearest_name(std::string(100'000, 'a'), known) == "");
}

TEST_CASE("entries: random bytes are an error or entries, never a crash") {
  std::mt19937 random{1};
  constexpr std::string_view likely = "a_9=[]# \t\n\r\xC2\xB0\xFF";
  int refused = 0;
  for (int i = 0; i < 20'000; ++i) {
    std::string text(random() % 40, ' ');
    for (char& c : text) c = likely[random() % likely.size()];
    if (parsing(text) != "no error") ++refused;
  }
  CHECK(refused > 0);
  CHECK(refused < 20'000);
}
