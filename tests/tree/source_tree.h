#pragma once

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <sstream>
#include <string>
#include <string_view>
#include <vector>

/// The source tree as text, for the tests that hold it to its own rules.
namespace source_tree {

inline const std::filesystem::path& root() {
  static const std::filesystem::path path{THICKSET_SOURCE};
  return path;
}

inline std::string text_of(const std::filesystem::path& file) {
  std::ifstream in{file, std::ios::binary};
  return {std::istreambuf_iterator<char>{in}, std::istreambuf_iterator<char>{}};
}

inline std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> lines;
  std::istringstream in{text};
  for (std::string line; std::getline(in, line);) lines.push_back(line);
  return lines;
}

/// Files below `folder` (relative to the root), with paths relative to the root, sorted.
inline std::vector<std::string> files_below(const std::string& folder) {
  std::vector<std::string> files;
  if (!std::filesystem::is_directory(root() / folder)) return files;
  for (const auto& entry : std::filesystem::recursive_directory_iterator{root() / folder})
    if (entry.is_regular_file())
      files.push_back(entry.path().lexically_relative(root()).generic_string());
  std::sort(files.begin(), files.end());
  return files;
}

inline bool is_code(std::string_view file) {
  return file.ends_with(".h") || file.ends_with(".cpp");
}

inline std::vector<std::string> code_below(const std::string& folder) {
  std::vector<std::string> files = files_below(folder);
  std::erase_if(files, [](const std::string& file) { return !is_code(file); });
  return files;
}

/// What a line includes, with its quotes or angle brackets; empty when it includes nothing.
inline std::string included_by(std::string_view line) {
  constexpr std::string_view blanks = " \t";
  const auto skip_blanks = [&] {
    line.remove_prefix(std::min(line.find_first_not_of(blanks), line.size()));
  };
  skip_blanks();
  if (!line.starts_with('#')) return {};
  line.remove_prefix(1);
  skip_blanks();
  constexpr std::string_view word = "include";
  if (!line.starts_with(word)) return {};
  line.remove_prefix(word.size());
  skip_blanks();
  if (line.empty()) return {};
  const auto end = line.find(line.front() == '<' ? '>' : '"', 1);
  return end == std::string_view::npos ? std::string{} : std::string{line.substr(0, end + 1)};
}

inline std::vector<std::string> includes_of(const std::string& file) {
  std::vector<std::string> includes;
  for (const std::string& line : lines_of(text_of(root() / file)))
    if (const std::string included = included_by(line); !included.empty())
      includes.push_back(included);
  return includes;
}

}  // namespace source_tree
