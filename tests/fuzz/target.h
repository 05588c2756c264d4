#pragma once

#include <span>
#include <stdexcept>
#include <string_view>

namespace thickset::fuzz {

/// What any bytes may be given to. Returns where they were read or refused with an Error as they
/// should be; anything it throws is a fault of ours.
struct Target {
  std::string_view name;  ///< as in targets.list
  void (*run)(std::string_view bytes);
};

/// One for each reader, and one for each command of the program.
std::span<const Target> reader_targets();
std::span<const Target> command_targets();

/// Whether a text may name a solid whose field is computed on a grid, which takes seconds: what
/// runs often leaves those out.
inline bool may_need_grid(std::string_view text) {
  for (const std::string_view kind : {"vessel", "dome", "cone", "wedge", "boss", "dumbbell"}) {
    if (text.find(kind) != text.npos) return true;
  }
  return false;
}

/// Fault of ours.
class Finding : public std::logic_error {
 public:
  using std::logic_error::logic_error;
};

inline void demand(bool holds, const char* what) {
  if (!holds) throw Finding{what};
}

}  // namespace thickset::fuzz
