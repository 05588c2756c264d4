#include "base/csv.h"

#include <algorithm>

#include <fmt/format.h>

#include "base/problems.h"
#include "base/text.h"
#include "base/text_file.h"

namespace thickset {

namespace {

// Far above any program or log, and small enough for the memory of a small machine.
constexpr std::size_t longest_csv_line = 10'000;
constexpr std::size_t most_fields = 2'000'000;
constexpr std::string_view spaces = " \r";

/// Reads the fields of one line from left to right.
class FieldReader {
 public:
  FieldReader(std::string_view line, char separator, const std::string& source_name, int number)
      : line_{line}, separator_{separator}, source_name_{source_name}, number_{number} {}

  std::vector<CsvField> all() {
    std::vector<CsvField> fields{next()};
    while (at_ < line_.size()) {
      ++at_;  // the separator
      fields.push_back(next());
    }
    return fields;
  }

 private:
  Place place_of(std::size_t at) const {
    return {source_name_, number_, static_cast<int>(count_characters(line_.substr(0, at)) + 1)};
  }

  CsvField next() {
    const std::size_t first = after_spaces(at_);
    if (first < line_.size() && line_[first] == '"') return next_quoted(first);
    const std::size_t end = std::min(line_.find(separator_, at_), line_.size());
    CsvField field{std::string{trimmed(line_.substr(at_, end - at_))},
                   place_of(std::min(first, end))};
    at_ = end;
    return field;
  }

  CsvField next_quoted(std::size_t open) {
    CsvField field{"", place_of(open)};
    std::size_t at = open + 1;
    for (; at < line_.size(); ++at) {
      if (line_[at] != '"') {
        field.text += line_[at];
      } else if (line_.substr(at).starts_with("\"\"")) {
        field.text += line_[at++];
      } else {
        break;
      }
    }
    if (at == line_.size()) {
      throw Error{field.place, "a quote is not closed", "end the field with \" on the same line"};
    }
    const std::size_t after = after_spaces(at + 1);
    if (after < line_.size() && line_[after] != separator_) {
      throw Error{place_of(after),
                  "text after a closing quote",
                  "put a separator there, or write a quote inside a field twice"};
    }
    at_ = after;
    field.text = trimmed(field.text);
    return field;
  }

  std::size_t after_spaces(std::size_t at) const {
    while (at < line_.size() &&
           (spaces.find(line_[at]) != spaces.npos || (line_[at] == '\t' && separator_ != '\t'))) {
      ++at;
    }
    return at;
  }

  std::string_view line_;
  char separator_;
  const std::string& source_name_;
  int number_;
  std::size_t at_ = 0;
};

/// As logs are read: the first of these that the header has.
char separator_of(std::string_view header) {
  for (const char separator : {';', '\t'}) {
    if (header.find(separator) != header.npos) return separator;
  }
  return ',';
}

}  // namespace

CsvTable parse_csv(std::string_view text, const std::string& source_name) {
  CsvTable table;
  Problems problems;
  int number = 0;
  std::size_t fields_kept = 0;
  while (!text.empty()) {
    const std::size_t end = std::min(text.find('\n'), text.size());
    const std::string_view line = text.substr(0, end);
    const Place place{source_name, ++number};
    text.remove_prefix(std::min(end + 1, text.size()));
    if (line.size() > longest_csv_line) {
      problems.add(place,
                   fmt::format("a line of over {} characters", longest_csv_line),
                   "this does not look like a comma-separated file");
      continue;
    }
    const std::string_view content = trimmed(line);
    if (content.empty() || content.front() == '#') continue;
    try {
      if (table.header.empty()) table.separator = separator_of(line);
      std::vector<CsvField> fields = FieldReader{line, table.separator, source_name, number}.all();
      if (table.header.empty()) {
        table.header = std::move(fields);
        continue;
      }
      if (fields.size() != table.header.size()) {
        const bool few = fields.size() < table.header.size();
        throw Error{place,
                    fmt::format("{} {}, the header has {}",
                                fields.size(),
                                fields.size() == 1 ? "field" : "fields",
                                table.header.size()),
                    few ? "fill in what is missing, or save the file whole"
                    : table.separator == ','
                        ? "remove a comma, or put quotes around a field with a comma in it"
                        : "remove a separator, or put quotes around a field that holds one"};
      }
      fields_kept += fields.size();
      if (fields_kept > most_fields) {
        problems.add(place, fmt::format("more than {} fields", most_fields), "thin the file out");
        break;
      }
      table.rows.push_back(std::move(fields));
    } catch (const Error& error) {
      problems.add(error);
      if (table.header.empty()) break;  // without a header no row can be judged
    }
  }
  if (problems.empty() && table.header.empty()) {
    problems.add(Place{source_name},
                 "holds no header",
                 "the first line names the columns, separated by commas");
  }
  if (problems.empty() && table.rows.empty()) {
    problems.add(Place{source_name}, "holds a header and no row", "check that it was saved whole");
  }
  problems.throw_if_any();
  return table;
}

CsvTable read_csv(const std::string& path) {
  return parse_csv(read_text_file(path), path);
}

}  // namespace thickset
