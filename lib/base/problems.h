#pragma once

#include "base/error.h"

#include <string>
#include <utility>
#include <vector>

namespace thickset {

/// Collects the problems of one input, so that a user sees all of them at once.
class Problems {
 public:
  void add(const Error& error) { lines_.emplace_back(error.what()); }
  void add(const Place& where, std::string_view what, std::string_view mend) {
    lines_.push_back(error_line(where, what, mend));
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

  bool empty() const { return lines_.empty(); }

  /// Throws one Error with a line for each problem, in the order they were found; does nothing
  /// where there are none.
  void throw_if_any() const;

 private:
  std::vector<std::string> lines_;
};

}  // namespace thickset
