#pragma once

#include "base/error.h"

#include <cstddef>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace thickset {

/// Collects the problems of one input, so that a user sees all of them at once. Of an input that is
/// wrong throughout, the first 40 are kept and the rest counted.
class Problems {
 public:
  void add(const Error& error) { add_line(error.what()); }
  void add(const Place& where, std::string_view what, std::string_view mend) {
    add_line(error_line(where, what, mend));
  }

  /// Runs `read` and gives its result; on an Error collects it and gives `otherwise`.
  template <class Read, class T>
  T collect(Read&& read, T otherwise) {
    try {
      return std::forward<Read>(read)();
    } catch (const Error& error) {
      add(error);
      return otherwise;
    }
  }

  /// The same of what gives nothing.
  template <class Check>
  void collect(Check&& check) {
    try {
      std::forward<Check>(check)();
    } catch (const Error& error) {
      add(error);
    }
  }

  bool empty() const { return lines_.empty(); }

  /// Throws one Error with a line for each problem, in the order they were found; does nothing
  /// where there are none.
  void throw_if_any() const;

 private:
  static constexpr std::size_t most_kept = 40;

  void add_line(std::string line) {
    if (lines_.size() < most_kept) {
      lines_.push_back(std::move(line));
    } else {
      ++not_kept_;
    }
  }

  std::vector<std::string> lines_;
  std::size_t not_kept_ = 0;
};

}  // namespace thickset
