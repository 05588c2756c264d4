#include <doctest/doctest.h>

#include <algorithm>
#include <cstddef>
#include <filesystem>
#include <initializer_list>
#include <iterator>
#include <string>
#include <string_view>

#include "tree/source_tree.h"

using namespace source_tree;

namespace {

// A folder of lib/ includes itself and the folders before it. One line of folders has no cycles.
constexpr std::string_view folder_order[] = {"base",
                                             "units",
                                             "numerics",
                                             "material",
                                             "glass",
                                             "geometry",
                                             "schedule",
                                             "kiln",
                                             "conduction",
                                             "relaxation",
                                             "stress",
                                             "simulation",
                                             "checking",
                                             "sampling",
                                             "planning",
                                             "reporting"};
constexpr std::ptrdiff_t unknown = -1;

std::ptrdiff_t rank(std::string_view folder) {
  const auto found = std::find(std::begin(folder_order), std::end(folder_order), folder);
  return found == std::end(folder_order) ? unknown : found - std::begin(folder_order);
}

/// "units" of "units/length.h".
std::string first_folder(const std::string& path) {
  return path.substr(0, path.find('/'));
}

/// Why a file of folder `from` may not include `included`; empty when it may.
std::string objection(const std::string& from, const std::string& included) {
  if (included.starts_with('<')) {
    if (included == "<iostream>") return "no printing in lib/";
    return {};
  }
  const std::string path = included.substr(1, included.size() - 2);
  const std::string to = first_folder(path);
  if (rank(to) == unknown) return path + " is not below a folder of lib/";
  if (rank(to) > rank(from)) return from + " comes before " + to;
  if (!std::filesystem::is_regular_file(root() / "lib" / path)) return path + " is not there";
  return {};
}

bool starts_with_any(std::string_view text, std::initializer_list<std::string_view> starts) {
  return std::any_of(starts.begin(), starts.end(), [&](std::string_view start) {
    return text.starts_with(start);
  });
}

}  // namespace

TEST_CASE("an include is recognised however it is spaced") {
  CHECK(included_by("#include \"units/length.h\"") == "\"units/length.h\"");
  CHECK(included_by("  #  include <vector>  // why") == "<vector>");
  CHECK(included_by("// #include <vector>") == "");
  CHECK(included_by("#include") == "");
  CHECK(included_by("#include <vector") == "");
  CHECK(included_by("") == "");
}

TEST_CASE("an include that points down, out of the library or at a missing file is objected to") {
  CHECK(objection("units", "\"base/error.h\"") == "");
  CHECK(objection("base", "\"base/error.h\"") == "");
  CHECK(objection("base", "<vector>") == "");
  CHECK(objection("base", "\"units/length.h\"") == "base comes before units");
  CHECK(objection("base", "\"error.h\"") == "error.h is not below a folder of lib/");
  CHECK(objection("units", "\"base/no_such_header.h\"") == "base/no_such_header.h is not there");
  CHECK(objection("base", "<iostream>") == "no printing in lib/");
}

TEST_CASE("every folder of lib/ has its place in the order") {
  REQUIRE_FALSE(code_below("lib").empty());
  for (const std::string& file : code_below("lib")) {
    CAPTURE(file);
    CHECK(rank(first_folder(file.substr(std::string_view{"lib/"}.size()))) != unknown);
  }
}

TEST_CASE("includes in lib/ point only to the same folder or one above it in the order") {
  for (const std::string& file : code_below("lib")) {
    const std::string folder = first_folder(file.substr(std::string_view{"lib/"}.size()));
    for (const std::string& included : includes_of(file)) {
      CAPTURE(file);
      CAPTURE(included);
      CHECK(objection(folder, included) == "");
    }
  }
}

TEST_CASE("every source in lib/ includes its own header first, so that it compiles on its own") {
  for (const std::string& file : code_below("lib")) {
    if (!file.ends_with(".cpp")) continue;
    const std::string own = file.substr(4, file.size() - 4 - 4) + ".h";
    if (!std::filesystem::is_regular_file(root() / "lib" / own)) continue;
    CAPTURE(file);
    const auto includes = includes_of(file);
    REQUIRE_FALSE(includes.empty());
    CHECK(includes.front() == '"' + own + '"');
  }
}

TEST_CASE("nothing in lib/ prints") {
  for (const std::string& file : code_below("lib")) {
    CAPTURE(file);
    const std::string text = text_of(root() / file);
    for (const char* word : {"std::cout",
                             "std::cerr",
                             "std::clog",
                             "stdout",
                             "stderr",
                             "std::puts",
                             "std::printf",
                             "fmt::print(\""}) {
      CAPTURE(word);
      CHECK(text.find(word) == std::string::npos);
    }
  }
}

TEST_CASE("Boost.Program_options is included in cli/ alone") {
  for (const char* folder : {"lib", "tests"})
    for (const std::string& file : code_below(folder))
      for (const std::string& included : includes_of(file)) {
        CAPTURE(file);
        CHECK_FALSE(
            starts_with_any(included, {"<boost/program_options", "\"boost/program_options"}));
      }
}
