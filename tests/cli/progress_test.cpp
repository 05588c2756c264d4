#include <pty.h>
#include <sys/wait.h>
#include <unistd.h>

#include <array>
#include <cstdlib>
#include <optional>
#include <string>
#include <vector>

#include <doctest/doctest.h>

#include "slow_build.h"

namespace {

/// All that the program writes to a terminal, its answer sent elsewhere; nullopt where this machine
/// gives no terminal.
std::optional<std::string> seen_on_a_terminal(std::vector<std::string> words) {
  words.insert(words.begin(), THICKSET_BINARY);
  std::vector<char*> arguments;
  for (std::string& word : words) arguments.push_back(word.data());
  arguments.push_back(nullptr);
  int terminal = -1;
  const pid_t child = forkpty(&terminal, nullptr, nullptr, nullptr);
  if (child < 0) {
    MESSAGE("no terminal can be opened here: not tested");
    return std::nullopt;
  }
  if (child == 0) {
    setenv("THICKSET_DATA", THICKSET_SOURCE "/data", 1);
    execv(arguments.front(), arguments.data());
    _exit(127);
  }
  std::string seen;
  std::array<char, 4096> piece{};
  for (;;) {  // ends with an error when the other side is closed
    const ssize_t got = read(terminal, piece.data(), piece.size());
    if (got <= 0) break;
    seen.append(piece.data(), static_cast<std::size_t>(got));
  }
  close(terminal);
  int status = 0;
  waitpid(child, &status, 0);
  CHECK(WIFEXITED(status));
  CHECK(WEXITSTATUS(status) == 0);
  return seen;
}

}  // namespace

TEST_CASE("progress: a plan of over a second says on a terminal what it is at, and wipes it away") {
  // Four settings are planned for.
  const std::optional<std::string> seen = seen_on_a_terminal({"tail",
                                                              "--casting",
                                                              "block-75x75x150",
                                                              "--controller",
                                                              "fifteen-steps-either-way",
                                                              "--out",
                                                              "/dev/null"});
  if (!seen) return;
  CHECK(seen->find("whole numbers") != std::string::npos);
  CHECK(seen->back() == '\r');
}

TEST_CASE("progress: a table says which row it is at" * doctest::skip(slow_build)) {
  const std::optional<std::string> seen = seen_on_a_terminal({"table",
                                                              "--glass",
                                                              "casting-soda-lime-9.0",
                                                              "--controller",
                                                              "ten-steps-by-rate",
                                                              "--rows",
                                                              "170mm,180mm,190mm,200mm,210mm",
                                                              "--out",
                                                              "/dev/null"});
  if (!seen) return;
  CHECK(seen->find("row 5 of 5: ") != std::string::npos);
  CHECK(seen->back() == '\r');
}

TEST_CASE("progress: what is quick says nothing") {
  CHECK(seen_on_a_terminal({"hold", "--casting", "slab-50", "--out", "/dev/null"}).value_or("") ==
        "");
}
