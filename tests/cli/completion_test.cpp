#include <doctest/doctest.h>

#include <algorithm>
#include <cstdlib>

#include "base/text_file.h"
#include "cli/run_program.h"
#include "temporary_folder.h"

using namespace thickset;

namespace {

std::string script_of(const std::string& shell) {
  const ProgramRun run = run_program({"help", "completion", shell});
  CAPTURE(run.errors);
  REQUIRE(run.exit_status == 0);
  return run.output;
}

/// What bash offers for the last of these words, as readline would hand them to the function.
std::vector<std::string> offered(const std::vector<std::string>& words) {
  const TemporaryFolder folder;
  const std::string script = folder.file("thickset.bash", script_of("bash"));
  std::string line = "source '" + script + "'\nCOMP_WORDS=('" THICKSET_BINARY "'";
  for (const std::string& word : words) line += " '" + word + "'";
  line += ")\nCOMP_CWORD=" + std::to_string(words.size()) +
          "\n_thickset\nprintf '%s\\n' \"${COMPREPLY[@]}\"\n";
  const std::string run = folder.file("run", line);
  const std::string shown = folder / "shown";
  REQUIRE(std::system(("bash '" + run + "' >'" + shown + "' 2>&1").c_str()) == 0);
  return lines_of(read_bytes(shown, 1u << 20));
}

bool has(const std::vector<std::string>& all, const std::string& one) {
  return std::find(all.begin(), all.end(), one) != all.end();
}

bool bash_is_there() {
  return std::system("command -v bash >/dev/null 2>&1") == 0;
}

}  // namespace

TEST_CASE("cli: bash reads its completion script and completes what it should") {
  if (!bash_is_there()) {
    MESSAGE("no bash on this machine: not run");
    return;
  }
  const TemporaryFolder folder;
  const std::string script = folder.file("thickset.bash", script_of("bash"));
  CHECK(std::system(("bash -n '" + script + "'").c_str()) == 0);

  CHECK(offered({"ta"}) == std::vector<std::string>{"tail", "table"});
  CHECK(offered({"table", "--ro"}) == std::vector<std::string>{"--rows", "--room"});
  CHECK(has(offered({""}), "check"));
  CHECK(offered({"tail", "--heat"}) == std::vector<std::string>{"--heat-up"});
  CHECK(offered({"kiln", "--betw"}) == std::vector<std::string>{"--between"});
  CHECK_FALSE(has(offered({"hold", "--"}), "--between"));
  CHECK(has(offered({"tail", "--glass", ""}), "soda-lime-float"));
  CHECK(offered({"tail", "--glass", "soda-lime-f"}) == std::vector<std::string>{"soda-lime-float"});
  CHECK(offered({"tail", "--casting", "slab-50"}) == std::vector<std::string>{"slab-50"});
  CHECK(has(offered({"tail", "--kiln", ""}), "middling-brick"));
  CHECK(has(offered({"tail", "--controller", "=", "seven"}), "seven-steps-by-time"));
  CHECK(has(offered({"tail", "--controller", "="}), "ten-steps-by-rate"));
  CHECK(offered({"list", "kil"}) == std::vector<std::string>{"kilns"});
  CHECK(offered({"help", "completion", "z"}) == std::vector<std::string>{"zsh"});
  CHECK(offered({"help", "caut"}) == std::vector<std::string>{"cautions"});
}

TEST_CASE("cli: each shell's script knows each option that help shows") {
  for (const char* shell : {"bash", "zsh", "fish"}) {
    CAPTURE(shell);
    const std::string script = script_of(shell);
    const std::string dashes = std::string{shell} == "fish" ? "-l " : "--";
    for (const char* command :
         {"hold", "tail", "table", "check", "sure", "now", "rewarm", "kiln", "convert"}) {
      for (const std::string& line : lines_of(run_program({command, "--help"}).output)) {
        if (!line.starts_with("  --")) continue;
        const std::string option = line.substr(4, line.find(' ', 4) - 4);
        CAPTURE(option);
        CHECK(script.find(dashes + option) != script.npos);
      }
    }
  }
}

TEST_CASE("cli: a completion for no known shell is refused in one line") {
  for (const std::vector<std::string>& words :
       {std::vector<std::string>{"help", "completion"}, {"help", "completion", "csh"}}) {
    const ProgramRun run = run_program(words);
    CHECK(run.exit_status == 2);
    CHECK(run.output == "");
    CHECK(lines_of(run.errors).size() == 1);
    CHECK(run.errors.find("bash") != run.errors.npos);
  }
}
