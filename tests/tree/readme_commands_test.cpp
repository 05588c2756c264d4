#include "tree/readme_commands.h"
#include "slow_build.h"

#include <doctest/doctest.h>

#include <filesystem>
#include <string>
#include <vector>

#include "tree/run_command.h"
#include "tree/source_tree.h"

using Lines = std::vector<std::string>;

TEST_CASE("commands and their output are read from console blocks alone") {
  const Lines page{"text",
                   "```sh",
                   "$ not run",
                   "```",
                   "```console",
                   "$ thickset a",
                   "one",
                   "",
                   "$ thickset b",
                   "```",
                   "$ not in a block"};
  const auto commands = readme_commands(page);
  REQUIRE(commands.size() == 2);
  CHECK(commands[0].line == 6);
  CHECK(commands[0].command == "thickset a");
  CHECK(commands[0].output == Lines{"one", ""});
  CHECK(commands[1].command == "thickset b");
  CHECK(commands[1].output == Lines{});
}

TEST_CASE("output matches to the letter, but for lines left out") {
  CHECK(lines_match({"a", "b"}, {"a", "b"}));
  CHECK_FALSE(lines_match({"a", "b"}, {"a", "c"}));
  CHECK_FALSE(lines_match({"a"}, {"a", "b"}));
  CHECK_FALSE(lines_match({"a", "b"}, {"a"}));
  CHECK(lines_match({"a", "...", "d"}, {"a", "b", "c", "d"}));
  CHECK(lines_match({"a", "..."}, {"a"}));
  CHECK_FALSE(lines_match({"a", "...", "d"}, {"a", "b", "c"}));
  CHECK_FALSE(lines_match({"...", "b", "..."}, {"a", "c"}));
}

TEST_CASE("each page with commands shows at least one, and each prints what the page says") {
  const std::filesystem::path root = source_tree::root();
  std::vector<std::filesystem::path> pages{root / "README.md"};
  for (const auto& page : std::filesystem::directory_iterator{root / "notes" / "tutorial"}) {
    pages.push_back(page.path());
  }
  REQUIRE(pages.size() > 1);
  const std::string binary_folder = std::filesystem::path{THICKSET_BINARY}.parent_path().string();
  int turn = 0;
  for (const std::filesystem::path& page : pages) {
    CAPTURE(page.string());
    const auto commands = readme_commands(source_tree::lines_of(source_tree::text_of(page)));
    CHECK_FALSE(commands.empty());
    for (const ReadmeCommand& shown : commands) {
      if (slow_build && turn++ % 8 != 0) continue;
      CAPTURE(shown.line);
      CAPTURE(shown.command);
      REQUIRE(shown.command.starts_with("thickset "));
      CHECK(shown.output != Lines{"..."});  // shows nothing
      const CommandResult result = run_command(
          "unset THICKSET_DATA; PATH=" + shell_quoted(binary_folder) + ":$PATH; " + shown.command,
          root);
      CAPTURE(result.output);
      // 0 fine, 1 over a limit, 2 input to mend: all may be shown. Anything else is our own fault.
      CHECK(result.exit_status >= 0);
      CHECK(result.exit_status <= 2);
      CHECK(lines_match(shown.output, source_tree::lines_of(result.output)));
    }
  }
}
