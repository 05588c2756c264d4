#include "terminal.h"

#include <sys/ioctl.h>

#include <algorithm>
#include <cctype>
#include <cstdlib>
#include <string>
#include <string_view>

#include "progress_line.h"

namespace thickset::cli {
namespace {

/// "de_DE.UTF-8" and "C.utf8" are; "de_DE@euro" is not.
bool is_utf8(std::string_view locale) {
  const std::size_t point = locale.find('.');
  if (point == std::string_view::npos) return false;
  std::string letters;
  for (const char c : locale.substr(point + 1, locale.find('@') - point - 1)) {
    if (c != '-') letters += static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  }
  return letters == "utf8";
}

}  // namespace

Terminal described_terminal(bool is_one, int columns, int rows, const Environment& environment) {
  const auto set = [&](const char* name) {
    const char* const value = environment(name);
    return std::string_view{value != nullptr ? value : ""};
  };
  Terminal terminal{.is_one = is_one};
  if (columns > 0) terminal.columns = columns;
  if (rows > 0) terminal.rows = rows;
  std::string_view locale;
  for (const char* name : {"LC_ALL", "LC_CTYPE", "LANG"}) {
    if (locale.empty()) locale = set(name);
  }
  terminal.utf8 = is_utf8(locale);
  const std::string_view kind = set("TERM");
  terminal.colour = is_one && set("NO_COLOR").empty() && !kind.empty() && kind != "dumb";
  return terminal;
}

Terminal terminal_of(std::FILE* stream) {
  winsize size{};
  const bool is_one = is_terminal(stream);
  if (is_one) ::ioctl(fileno(stream), TIOCGWINSZ, &size);
  return described_terminal(
      is_one, size.ws_col, size.ws_row, [](const char* name) { return std::getenv(name); });
}

}  // namespace thickset::cli
