#pragma once

#include <map>
#include <string>
#include <vector>

#include "cli/run_program.h"

namespace thickset {

/// The "name = value" lines of a run with --format keys.
inline std::map<std::string, std::string> keys_of(const std::string& text) {
  std::map<std::string, std::string> keys;
  for (const std::string& line : lines_of(text)) {
    const std::size_t sign = line.find(" = ");
    if (sign != std::string::npos) keys[line.substr(0, sign)] = line.substr(sign + 3);
  }
  return keys;
}

/// The fields of one line of a comma-separated file without quotes.
inline std::vector<std::string> fields_of(const std::string& line) {
  std::vector<std::string> fields(1);
  for (const char c : line) {
    if (c == ',') {
      fields.emplace_back();
    } else {
      fields.back() += c;
    }
  }
  return fields;
}

/// A program file's header and rows, its comments left out.
inline std::vector<std::vector<std::string>> rows_of(const std::string& text) {
  std::vector<std::vector<std::string>> rows;
  for (const std::string& line : lines_of(text)) {
    if (!line.empty() && line.front() != '#') rows.push_back(fields_of(line));
  }
  return rows;
}

/// The rows as a file again.
inline std::string file_of(const std::vector<std::vector<std::string>>& rows) {
  std::string text;
  for (const std::vector<std::string>& row : rows) {
    for (std::size_t i = 0; i < row.size(); ++i) text += (i == 0 ? "" : ",") + row[i];
    text += '\n';
  }
  return text;
}

}  // namespace thickset
