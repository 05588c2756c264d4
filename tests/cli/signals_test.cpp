#include <fcntl.h>
#include <poll.h>
#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>

#ifdef __linux__
#include <sys/inotify.h>
#endif

#include <array>
#include <chrono>
#include <cstdlib>
#include <filesystem>
#include <string>
#include <thread>
#include <vector>

#include <doctest/doctest.h>

#include "base/text_file.h"
#include "cli/run_program.h"
#include "temporary_folder.h"

using namespace thickset;

namespace {

using Words = std::vector<std::string>;

/// Starts the program with nobody listening; gives its process.
pid_t started(Words words) {
  words.insert(words.begin(), THICKSET_BINARY);
  std::vector<char*> arguments;
  for (std::string& word : words) arguments.push_back(word.data());
  arguments.push_back(nullptr);
  const pid_t child = ::fork();
  REQUIRE(child >= 0);
  if (child == 0) {
    const int nowhere = ::open("/dev/null", O_WRONLY);
    ::dup2(nowhere, STDOUT_FILENO);
    ::dup2(nowhere, STDERR_FILENO);
    ::execv(arguments[0], arguments.data());
    ::_exit(127);
  }
  return child;
}

int status_of(const std::string& shell_line) {
  return std::system(shell_line.c_str());
}

const std::string program = "'" THICKSET_BINARY "'";

}  // namespace

TEST_CASE("cli: interrupted while it plans, it ends by the signal and leaves files as they were") {
  const TemporaryFolder folder;
  const std::string out = folder.file("tail.csv", "old\n");
  for (const int signal : {SIGINT, SIGTERM}) {
    CAPTURE(signal);
    const pid_t child = started({"tail",
                                 "--casting",
                                 THICKSET_SOURCE "/data/castings/block-75x75x150.casting",
                                 "--steps",
                                 "auto",
                                 "--explain",
                                 "--out",
                                 out});
    std::this_thread::sleep_for(std::chrono::milliseconds{30});
    ::kill(child, signal);
    int status = 0;
    ::waitpid(child, &status, 0);
    CHECK(WIFSIGNALED(status));
    if (WIFSIGNALED(status)) CHECK(WTERMSIG(status) == signal);
    CHECK(read_text_file(out) == "old\n");
    CHECK(folder.count() == 1);
  }
}

#ifdef __linux__
TEST_CASE("cli: interrupted in the moment it begins to write, no half file is left") {
  // Whether the signal comes before the file is whole is up to the machine; neither way may leave a
  // temporary name, nor half of a file under its own.
  const TemporaryFolder folder;
  const std::string out = folder / "trace.csv";
  const Words words = {"check",
                       THICKSET_SOURCE "/data/programs/slab-50-gentle.csv",
                       "--casting",
                       THICKSET_SOURCE "/data/castings/slab-50.casting",
                       "--trace",
                       out};
  CHECK(run_program(words).exit_status == 0);
  const std::string whole = read_text_file(out);
  int interrupted = 0;
  for (int i = 0; i < 20; ++i) {
    std::filesystem::remove(out);
    const int watch = ::inotify_init1(IN_CLOEXEC);
    REQUIRE(watch >= 0);
    REQUIRE(::inotify_add_watch(watch, folder.path().c_str(), IN_CREATE) >= 0);
    const pid_t child = started(words);
    pollfd created{watch, POLLIN, 0};
    CHECK(::poll(&created, 1, 60'000) == 1);
    ::kill(child, i % 2 == 0 ? SIGINT : SIGTERM);
    int status = 0;
    ::waitpid(child, &status, 0);
    ::close(watch);
    if (WIFSIGNALED(status)) ++interrupted;
    if (!std::filesystem::exists(out)) {
      CHECK(folder.count() == 0);
      continue;
    }
    CHECK(folder.count() == 1);
    CHECK(read_text_file(out) == whole);
  }
  MESSAGE(interrupted, " of 20 runs were ended by the signal");
}
#endif

TEST_CASE("cli: a reader that goes away ends it quietly, with the exit status of its answer") {
  const TemporaryFolder folder;
  const std::string said = folder / "said";
  const std::string status = folder / "status";
  struct Case {
    std::string words;
    std::string status;
  };
  const std::vector<Case> cases = {
      {"check data/programs/slab-50-gentle.csv --casting slab-50", "0"},
      {"check data/programs/slab-50-hurried.csv --casting slab-50", "1"},
      {"help manual", "0"},
      {"list", "0"},
      {"convert data/programs/slab-50-gentle.csv --out /dev/stdout", "0"},
      {"check nothing.csv --casting slab-50", "2"}};
  for (const Case& of : cases) {
    CAPTURE(of.words);
    // true reads nothing; `sleep` lets it be gone before the first byte is written.
    const std::string line = "cd '" THICKSET_SOURCE "' && { sleep 0.1; " + program + " " +
                             of.words + " 2>'" + said + "'; echo $? >'" + status + "'; } | true";
    CHECK(status_of(line) == 0);
    CHECK(read_text_file(status) == of.status + "\n");
    if (of.status != "2") CHECK(read_bytes(said, 1000) == "");
  }
  CHECK(status_of("cd '" THICKSET_SOURCE "' && " + program + " help manual 2>'" + said +
                  "' | head -1 >/dev/null") == 0);
  CHECK(read_bytes(said, 1000) == "");
}

TEST_CASE("cli: errors told to nobody do not change the exit status") {
  const TemporaryFolder folder;
  const std::string status = folder / "status";
  CHECK(status_of("{ sleep 0.1; " + program + " check nothing.csv --casting slab-50; echo $? >'" +
                  status + "'; } 2>&1 | true") == 0);
  CHECK(read_text_file(status) == "2\n");
}

TEST_CASE("cli: a screen that takes nothing is an error, not a silent loss") {
  const TemporaryFolder folder;
  const std::string said = folder / "said";
  const int status = status_of(program + " help >/dev/full 2>'" + said + "'");
  CHECK(WEXITSTATUS(status) == 2);
  CHECK(read_text_file(said).starts_with("standard output: cannot be written: "));
}
