#pragma once

#include "base/place.h"

#include <string>
#include <string_view>
#include <vector>

namespace thickset {

/// One line "key = value  [source] locator  # comment" of a file; knows nothing of units.
///
/// The value ends at the first "[", and everything from a "#" on is a comment.
struct Entry {
  std::string key;
  std::string value;
  std::string source;   ///< the text in square brackets, empty where there is none
  std::string locator;  ///< what follows them: "table 4" of "[KEY] table 4"
  Place key_place;
  Place value_place;
};

/// All entries of a text, in order; keys may repeat, blank lines and comments are skipped.
///
/// Throws: Error with every line that is not of this form (no "=", empty key or value, a key that
/// is not made of a-z, 0-9 and "_", an open bracket without its end, a line over 1000 characters),
/// or when the text holds no entry at all.
std::vector<Entry> parse_entries(std::string_view text, const std::string& source_name);

/// No file of entries is larger: glasses, castings, moulds, kilns, controllers.
inline constexpr std::size_t largest_entries_bytes = 1u << 20;

/// parse_entries of a file's text. Throws: also what read_text_file throws.
std::vector<Entry> read_entries(const std::string& path);

/// The known name nearest to `name` by edit distance, or "" where none is near; for "did you mean".
/// Near is up to two changed letters, or a third of the name where that is more; else up to three
/// that begin with all of it, "a or b".
std::string nearest_name(std::string_view name, const std::vector<std::string>& known);

}  // namespace thickset
