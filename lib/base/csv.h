#pragma once

#include "base/place.h"

#include <string>
#include <string_view>
#include <vector>

namespace thickset {

/// One field of a comma-separated file, with spaces around it and its quotes removed.
struct CsvField {
  std::string text;
  Place place;
};

/// A header and rows that have as many fields as the header.
struct CsvTable {
  char separator = ',';
  std::vector<CsvField> header;
  std::vector<std::vector<CsvField>> rows;
};

/// Fields separated as the header's are: by semicolons or tabs where it has one, else by commas;
/// "quoted" where they hold a separator (RFC 4180, without line breaks
/// inside quotes); lines that start with "#" and blank lines are skipped. A quote inside a field
/// that does not start with one is a plain sign: 3" is three inches.
///
/// Throws: Error with every row that has too few or too many fields, an open quote or text after a
/// closing one, or over 10 000 characters; or when the text has no header or no row, or holds more
/// than two million fields.
CsvTable parse_csv(std::string_view text, const std::string& source_name);

/// parse_csv of a file's text. Throws: also what read_text_file throws.
CsvTable read_csv(const std::string& path);

}  // namespace thickset
