#pragma once

#include "base/place.h"

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace thickset {

/// The text of a log, row by row, without a copy: its separator is the one its header uses (comma,
/// semicolon or tab), lines that begin with "#" and blank lines are skipped, fields may stand in
/// quotes (not across lines).
class LogRows {
 public:
  /// The text must outlive this. Throws: Error where there is no header, or one of over 64 columns.
  LogRows(std::string_view text, const std::string& source_name);

  const std::vector<std::string_view>& header() const { return header_; }
  char separator() const { return separator_; }

  /// Goes to the next row; false at the end. Throws: Error for a row with an open quote, text after
  /// a closing one, or of over 10 000 characters.
  bool next();

  /// Of this row: its fields without spaces and quotes around them, trailing empty ones left out;
  /// views of the text.
  const std::vector<std::string_view>& fields() const { return fields_; }
  int line() const { return line_; }
  Place place() const { return {source_name_, line_}; }
  /// Whether this is the last line of a text that does not end in a line break.
  bool may_be_cut_short() const { return cut_; }
  /// Bytes still to come.
  std::size_t left() const { return text_.size(); }

 private:
  std::optional<std::string_view> next_line();
  void split(std::string_view line);

  std::string_view text_;
  const std::string& source_name_;
  char separator_ = ',';
  int line_ = 0;
  bool cut_ = false;
  std::vector<std::string_view> header_, fields_;
};

/// A number of a log: a decimal point, or a decimal comma where commas do not separate the fields;
/// no sign for thousands. nullopt where it is none, or not finite.
std::optional<double> parse_log_number(std::string_view text, bool comma_is_decimal);

/// Whether a field says that there is no reading: empty, or "OPEN", "NaN", "n/a", "---" and the
/// like, in capitals or not.
bool says_no_reading(std::string_view text);

}  // namespace thickset
