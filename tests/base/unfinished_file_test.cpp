#include "base/unfinished_file.h"

#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>

#include <array>
#include <filesystem>
#include <string>

#include <doctest/doctest.h>

#include "base/text_file.h"
#include "temporary_folder.h"

using namespace thickset;

namespace {

/// The signal that ended a process; 0 where none did.
int ended_by(pid_t child) {
  int status = 0;
  ::waitpid(child, &status, 0);
  return WIFSIGNALED(status) ? WTERMSIG(status) : 0;
}

/// A process that has made an unfinished file of this path, with what its signals do set by
/// `prepare`, and waits; back when the file is there.
template <class Prepare>
pid_t process_writing(const std::string& path, const Prepare& prepare) {
  std::array<int, 2> ready{};
  REQUIRE(::pipe(ready.data()) == 0);
  const pid_t child = ::fork();
  REQUIRE(child >= 0);
  if (child == 0) {
    for (const int signal : {SIGINT, SIGTERM, SIGHUP}) ::signal(signal, SIG_DFL);  // not doctest's
    prepare();
    const UnfinishedFile unfinished{path};
    std::FILE* const file = std::fopen(path.c_str(), "w");
    std::fputs("half", file);
    std::fflush(file);
    if (::write(ready[1], "x", 1) != 1) ::_exit(1);
    ::alarm(60);  // not for ever, if no signal comes
    for (;;) ::pause();
  }
  char sign = 0;
  CHECK(::read(ready[0], &sign, 1) == 1);
  ::close(ready[0]);
  ::close(ready[1]);
  return child;
}

}  // namespace

TEST_CASE("unfinished file: a signal that ends the program removes it") {
  const TemporaryFolder folder;
  const std::string path = folder / "out.csv.part";
  for (const int signal : {SIGINT, SIGTERM, SIGHUP}) {
    CAPTURE(signal);
    const pid_t child = process_writing(path, remove_unfinished_files_on_signals);
    CHECK(std::filesystem::exists(path));
    ::kill(child, signal);
    CHECK(ended_by(child) == signal);
    CHECK(folder.count() == 0);
  }
}

TEST_CASE("unfinished file: without the handler the signal would leave it") {
  const TemporaryFolder folder;
  const std::string path = folder / "out.csv.part";
  const pid_t child = process_writing(path, [] {});
  ::kill(child, SIGTERM);
  CHECK(ended_by(child) == SIGTERM);
  CHECK(std::filesystem::exists(path));
}

TEST_CASE("unfinished file: a signal that was ignored stays so") {
  const TemporaryFolder folder;
  const pid_t child = process_writing(folder / "out.csv.part", [] {
    ::signal(SIGHUP, SIG_IGN);
    remove_unfinished_files_on_signals();
  });
  ::kill(child, SIGHUP);
  ::kill(child, SIGTERM);
  CHECK(ended_by(child) == SIGTERM);
}

TEST_CASE("unfinished file: one that was kept outlives its scope and a signal") {
  const TemporaryFolder folder;
  const std::string kept = folder.file("kept", "whole");
  {
    UnfinishedFile unfinished{kept};
    unfinished.keep();
  }
  CHECK(std::filesystem::exists(kept));
  const pid_t child = process_writing(folder / "other", [&] {
    UnfinishedFile{kept}.keep();
    remove_unfinished_files_on_signals();
  });
  ::kill(child, SIGINT);
  CHECK(ended_by(child) == SIGINT);
  CHECK(std::filesystem::exists(kept));
  CHECK(folder.count() == 1);
  { const UnfinishedFile unfinished{kept}; }
  CHECK(folder.count() == 0);
}
