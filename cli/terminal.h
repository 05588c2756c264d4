#pragma once

#include <cstdio>
#include <functional>

namespace thickset::cli {

/// What is on the other end of a stream.
struct Terminal {
  bool is_one = false;  ///< else a file or a pipe
  int columns = 80, rows = 24;
  bool utf8 = true;  ///< by the locale, of a file or a pipe as well
  bool colour = false;
};

/// A variable of the environment by its name, nullptr where it is not set.
using Environment = std::function<const char*(const char*)>;

/// In: is_one, and its size; zero where that is not known.
///
/// The locale is the first of LC_ALL, LC_CTYPE and LANG that is set and not empty, as POSIX.1-2017
/// 8.2 has it; none is "C", which is not UTF-8. No colour where NO_COLOR is set and not empty
/// (no-color.org), or TERM is unset, empty or "dumb".
Terminal described_terminal(bool is_one, int columns, int rows, const Environment& environment);

/// The terminal of a stream, with the environment of this process.
Terminal terminal_of(std::FILE* stream);

}  // namespace thickset::cli
