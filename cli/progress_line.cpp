#include "progress_line.h"

#include <unistd.h>

#include <fmt/format.h>

namespace thickset::cli {

ProgressLine::ProgressLine(std::FILE* to, bool shown, Clock::duration silent_for)
    : to_{to}, shown_{shown}, speaks_from_{Clock::now() + silent_for} {}

ProgressLine::~ProgressLine() {
  wipe();
}

void ProgressLine::say(const std::string& what) {
  if (!shown_ || Clock::now() < speaks_from_) return;
  wipe();
  std::fputs(what.c_str(), to_);
  std::fflush(to_);
  written_ = what.size();
}

void ProgressLine::wipe() {
  if (written_ == 0) return;
  std::fputs(fmt::format("\r{:{}}\r", "", written_).c_str(), to_);
  std::fflush(to_);
  written_ = 0;
}

bool is_terminal(std::FILE* stream) {
  return isatty(fileno(stream)) == 1;
}

}  // namespace thickset::cli
