#pragma once

#include "base/place.h"

#include <cstddef>
#include <string_view>

namespace thickset {

/// A piece of a value in a file that knows where it stands; read from its front, piece by piece.
///
/// Holds no text of its own: the text it was made of must outlive it.
class Stretch {
 public:
  Stretch(std::string_view text, const Place& place);

  std::string_view text() const { return text_; }
  const Place& place() const { return place_; }
  bool empty() const { return text_.empty(); }
  bool starts_with(std::string_view start) const { return text_.substr(0, start.size()) == start; }

  /// Drops `count` bytes and the spaces after them.
  void skip(std::size_t count);

  /// The first `count` bytes; drops them and the spaces after them.
  Stretch take(std::size_t count);

  /// The number it begins with, of digits and a point, without a sign; drops it and the spaces
  /// after it. Throws: Error with this `mend` where there is none, or that it is out of range.
  double take_number(std::string_view mend);

  /// Throws: Error at this place.
  [[noreturn]] void refuse(std::string_view what, std::string_view mend) const;

 private:
  void trim();

  std::string_view text_;
  Place place_;
};

inline bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

}  // namespace thickset
