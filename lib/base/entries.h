#pragma once

#include "base/place.h"

#include <string>
#include <string_view>
#include <vector>

namespace thickset {

/// One line "key = value  [source]  # comment" of a file; knows nothing of units.
struct Entry {
  std::string key;
  std::string value;
  std::string source;  ///< the text in square brackets, empty where there is none
  Place key_place;
  Place value_place;
};

/// All entries of a text, in order; keys may repeat, blank lines and comments are skipped.
///
/// Throws: Error with every line that is not of this form (no "=", empty key or value, a key that
/// is not made of a-z, 0-9 and "_", an open bracket without its end, a line over 1000 characters),
/// or when the text holds no entry at all.
std::vector<Entry> parse_entries(std::string_view text, const std::string& source_name);

/// parse_entries of a file's text. Throws: also what read_text_file throws.
std::vector<Entry> read_entries(const std::string& path);

/// The known name nearest to `name` by edit distance, or "" where none is near; for "did you mean".
std::string nearest_name(std::string_view name, const std::vector<std::string>& known);

}  // namespace thickset
