#include <doctest/doctest.h>

#include <filesystem>
#include <set>
#include <string>

#include "tree/run_command.h"
#include "tree/source_tree.h"

using namespace source_tree;

TEST_CASE("the top level holds the listed files and folders and dotfiles, nothing else") {
  if (!std::filesystem::exists(root() / ".git")) {
    MESSAGE("not a git checkout: which files belong to the project is not known");
    return;
  }
  // safe.directory: the checkout may belong to another user than the one who runs the tests.
  const CommandResult listed = run_command("git -c 'safe.directory=*' ls-files", root());
  constexpr int no_such_program = 127;  // what a shell says
  if (listed.exit_status == no_such_program) {
    MESSAGE("no git here: which files belong to the project is not known");
    return;
  }
  CAPTURE(listed.output);
  REQUIRE(listed.exit_status == 0);

  const std::set<std::string> allowed{
      "CMakeLists.txt", "README.md", "DEVELOPERS.md", "lib", "cli", "data", "tests", "notes"};
  std::set<std::string> present;
  for (const std::string& line : lines_of(listed.output))
    present.insert(line.substr(0, line.find('/')));
  CHECK(present.contains("CMakeLists.txt"));
  for (const std::string& name : present) {
    CAPTURE(name);
    const bool belongs_here = name.starts_with('.') || allowed.contains(name);
    CHECK(belongs_here);
  }
}
