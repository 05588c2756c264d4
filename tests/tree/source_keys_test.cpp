#include <doctest/doctest.h>

#include <cctype>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "tree/source_tree.h"

using namespace source_tree;

namespace {

bool is_upper(char c) {
  return c >= 'A' && c <= 'Z';
}
bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

/// A key of a source: capitals, digits and hyphens, a capital first, a digit somewhere, at least
/// three characters; one small letter may end it ([CJ59], [EN572-1], [ASTM-C336], [GN70a]).
bool is_key(std::string_view word) {
  if (word.size() > 3 && word.back() >= 'a' && word.back() <= 'z') word.remove_suffix(1);
  if (word.size() < 3 || !is_upper(word.front())) return false;
  bool has_digit = false;
  for (const char c : word) {
    if (!is_upper(c) && !is_digit(c) && c != '-') return false;
    has_digit = has_digit || is_digit(c);
  }
  return has_digit;
}

/// Keys in square brackets. A bracket right behind a name or another bracket is an index, not a
/// key.
std::vector<std::string> keys_in(std::string_view line) {
  std::vector<std::string> keys;
  for (std::size_t open = line.find('['); open != std::string_view::npos;
       open = line.find('[', open + 1)) {
    const std::size_t close = line.find(']', open);
    if (close == std::string_view::npos) break;
    const std::string_view word = line.substr(open + 1, close - open - 1);
    const char before = open == 0 ? ' ' : line[open - 1];
    const bool is_index = std::isalnum(static_cast<unsigned char>(before)) != 0 || before == '_' ||
                          before == ')' || before == ']';
    if (!is_index && is_key(word)) keys.emplace_back(word);
  }
  return keys;
}

/// Keys that notes/sources.md explains: those its list items "- [KEY] reference" begin with.
std::multiset<std::string> explained_keys() {
  std::multiset<std::string> keys;
  for (const std::string& line : lines_of(text_of(root() / "notes/sources.md"))) {
    if (!line.starts_with("- [")) continue;
    const std::size_t close = line.find(']');
    const bool has_reference = close != std::string::npos && line.size() > close + 2;
    if (has_reference) keys.insert(line.substr(3, close - 3));
  }
  return keys;
}

}  // namespace

TEST_CASE("a key is told from an index, a placeholder and other brackets") {
  using Keys = std::vector<std::string>;
  CHECK(keys_in("// [CJ59] Appendix IV, then [EN572-1] and [GN70a].") ==
        Keys{"CJ59", "EN572-1", "GN70a"});
  CHECK(keys_in("density = 2500 kg/m3  [ASTM-C336] p. 2") == Keys{"ASTM-C336"});
  CHECK(keys_in("key = value unit [KEY]") == Keys{});
  CHECK(keys_in("T_K[N1] = a[B2][C33];") == Keys{});
  CHECK(keys_in("[0, 1] [MPa] [a12] [CJ59 p. 3] [K2]") == Keys{});
  CHECK(keys_in("[CJ59") == Keys{});
}

TEST_CASE(
    "every source key used in lib/, cli/, data/ and tests/ is explained in notes/sources.md") {
  const auto explained = explained_keys();
  REQUIRE_FALSE(explained.empty());
  for (const char* folder : {"lib", "cli", "data", "tests"})
    for (const std::string& file : files_below(folder)) {
      if (file == "tests/tree/source_keys_test.cpp") continue;  // holds made-up keys
      int line_number = 0;
      for (const std::string& line : lines_of(text_of(root() / file))) {
        ++line_number;
        for (const std::string& key : keys_in(line)) {
          CAPTURE(file);
          CAPTURE(line_number);
          CAPTURE(key);
          CHECK(explained.contains(key));
        }
      }
    }
}

TEST_CASE("notes/sources.md explains each key once, and each is one that the checks recognise") {
  const auto explained = explained_keys();
  for (const std::string& key : explained) {
    CAPTURE(key);
    CHECK(explained.count(key) == 1);
    CHECK(is_key(key));
  }
}
