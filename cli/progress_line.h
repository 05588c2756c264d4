#pragma once

#include <chrono>
#include <cstdio>
#include <string>

namespace thickset::cli {

/// One line on a terminal that says what a computation of over a second is at; it is wiped away in
/// the end. Where the answer goes to a file or another program, nothing is written.
class ProgressLine {
 public:
  using Clock = std::chrono::steady_clock;

  /// In: to, where the line is written; it must outlive this. shown: whether that is a terminal.
  ProgressLine(std::FILE* to, bool shown, Clock::duration silent_for = std::chrono::seconds{1});
  ~ProgressLine();
  ProgressLine(const ProgressLine&) = delete;
  ProgressLine& operator=(const ProgressLine&) = delete;

  void say(const std::string& what);

 private:
  void wipe();

  std::FILE* to_;
  bool shown_;
  Clock::time_point speaks_from_;
  std::size_t written_ = 0;  ///< characters that stand there
};

/// Whether a person looks at this stream.
bool is_terminal(std::FILE* stream);

}  // namespace thickset::cli
