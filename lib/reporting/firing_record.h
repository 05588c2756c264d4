#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace thickset {

/// One firing in one text, for a person and for the program, in twenty years: what was asked, every
/// file it was asked of, what came out. The form is that of notes/data_formats.md#records.
struct FiringRecord {
  struct Line {
    std::string name, value;
    int number = 0;  ///< of the line in the text, from 1; 0: not read from one
  };
  /// A file that was read, whole.
  struct File {
    std::string kind;       ///< glass, casting, mould, kiln, controller or input (program, log)
    std::string name;       ///< as it was asked for
    std::string read_from;  ///< where it was found
    std::string text;
  };
  std::string written;  ///< when: "Fri 2026-11-27 18:00 UTC"
  std::string program;  ///< by what: "thickset 0.1.0"
  std::string command;  ///< that answers it again: check or now
  std::string operand;  ///< of that; empty: none
  std::vector<Line> options;
  std::vector<File> files;
  std::vector<Line> outcome;
  std::vector<std::string> for_people;  ///< lines that are not read back
};

/// Whether the first line is that of a record.
bool looks_like_record(std::string_view text);

/// Throws: Error where a name or a value has a line break or another control character.
std::string write_record(const FiringRecord& record);

/// Throws: Error with each line that is not of the form, or where the record is of a later form, or
/// cut short.
FiringRecord parse_record(std::string_view text, const std::string& source);

}  // namespace thickset
