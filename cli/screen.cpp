#include "screen.h"

#include <cerrno>
#include <csignal>
#include <cstring>

#include <fmt/format.h>

#include "base/error.h"

namespace thickset::cli {

void print_to_screen(std::string_view text) {
  const bool all = std::fwrite(text.data(), 1, text.size(), stdout) == text.size();
  if ((all && std::fflush(stdout) == 0) || errno == EPIPE) return;
  throw Error{{.source = "standard output"},
              fmt::format("cannot be written: {}", std::strerror(errno)),
              "make room where it goes to, or write to a file with --out"};
}

void print_error(std::string_view text) {
  std::fwrite(text.data(), 1, text.size(), stderr);
}

void outlive_closed_pipes() {
  std::signal(SIGPIPE, SIG_IGN);
}

}  // namespace thickset::cli
