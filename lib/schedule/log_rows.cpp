#include "schedule/log_rows.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>

#include <fmt/format.h>

#include "base/error.h"
#include "base/text.h"

namespace thickset {
namespace {

constexpr std::size_t longest_line = 10'000;
constexpr std::size_t most_columns = 64;
constexpr std::string_view spaces = " \r";

std::string_view without_spaces(std::string_view text, bool tabs_too) {
  const auto is_space = [&](char sign) {
    return spaces.find(sign) != spaces.npos || (tabs_too && sign == '\t');
  };
  while (!text.empty() && is_space(text.front())) text.remove_prefix(1);
  while (!text.empty() && is_space(text.back())) text.remove_suffix(1);
  return text;
}

}  // namespace

LogRows::LogRows(std::string_view text, const std::string& source_name)
    : text_{text}, source_name_{source_name} {
  const std::optional<std::string_view> line = next_line();
  if (!line) {
    throw Error{Place{source_name},
                "holds no header",
                "the first line names the columns, such as time,air_C"};
  }
  for (const char separator : {';', '\t', ','}) {
    if (line->find(separator) == line->npos) continue;
    separator_ = separator;
    break;
  }
  split(*line);
  if (fields_.size() > most_columns) {
    throw Error{place(), fmt::format("more than {} columns", most_columns), "leave some out"};
  }
  header_ = fields_;
  fields_.clear();
  fields_.reserve(most_columns);
}

std::optional<std::string_view> LogRows::next_line() {
  while (!text_.empty()) {
    const std::size_t end = std::min(text_.find('\n'), text_.size());
    cut_ = end == text_.size();
    const std::string_view line = text_.substr(0, end);
    text_.remove_prefix(std::min(end + 1, text_.size()));
    ++line_;
    if (line.size() > longest_line) {
      throw Error{place(),
                  fmt::format("a line of over {} characters", longest_line),
                  "this does not look like a log: one reading a line"};
    }
    const std::string_view content = without_spaces(line, true);
    if (!content.empty() && content.front() != '#') return line;
  }
  return std::nullopt;
}

bool LogRows::next() {
  const std::optional<std::string_view> line = next_line();
  if (!line) return false;
  split(*line);
  return true;
}

void LogRows::split(std::string_view line) {
  fields_.clear();
  const bool tabs_too = separator_ != '\t';
  for (std::size_t at = 0;; ++at) {
    std::size_t first = at;
    while (first < line.size() && (line[first] == ' ' || (tabs_too && line[first] == '\t'))) {
      ++first;
    }
    if (first < line.size() && line[first] == '"') {
      std::size_t close = line.find('"', first + 1);
      while (close != line.npos && line.substr(close).starts_with("\"\"")) {
        close = line.find('"', close + 2);
      }
      if (close == line.npos) {
        throw Error{place(), "a quote is not closed", "end the field with \" on the same line"};
      }
      fields_.push_back(without_spaces(line.substr(first + 1, close - first - 1), true));
      at = std::min(line.find(separator_, close), line.size());
      if (!without_spaces(line.substr(close + 1, at - close - 1), tabs_too).empty()) {
        throw Error{place(),
                    "text after a closing quote",
                    "put a separator there, or write a quote inside a field twice"};
      }
    } else {
      at = std::min(line.find(separator_, first), line.size());
      // `first` may stand on the separator itself, where the field is empty.
      fields_.push_back(without_spaces(line.substr(first, at - first), tabs_too));
    }
    if (at >= line.size()) break;
    if (fields_.size() > most_columns) break;  // too many whatever follows
  }
  while (!fields_.empty() && fields_.back().empty()) fields_.pop_back();
}

std::optional<double> parse_log_number(std::string_view text, bool comma_is_decimal) {
  constexpr std::size_t longest = 64;
  if (text.empty() || text.size() > longest) return std::nullopt;
  std::array<char, longest> plain{};
  std::copy(text.begin(), text.end(), plain.begin());
  if (comma_is_decimal) {
    const std::size_t comma = text.find(',');
    if (comma != text.npos) {
      if (text.find('.') != text.npos || text.find(',', comma + 1) != text.npos) {
        return std::nullopt;
      }
      plain[comma] = '.';
    }
  }
  const char* const end = plain.data() + text.size();
  const char* const begin = plain.data() + (plain[0] == '+' ? 1 : 0);
  double value = 0.0;
  const auto [stop, fault] = std::from_chars(begin, end, value);
  if (fault != std::errc{} || stop != end || !std::isfinite(value)) return std::nullopt;
  return value;
}

bool says_no_reading(std::string_view text) {
  constexpr std::string_view words[] = {
      "open", "nan",  "null",  "none", "n/a", "na", "#n/a", "err",  "error",   "fault",
      "fail", "over", "under", "ovr",  "udr", "ol", "inf",  "-inf", "missing", "?"};
  constexpr std::size_t longest = 8;
  if (text.empty()) return true;
  if (text.find_first_not_of('-') == text.npos || text.find_first_not_of('*') == text.npos) {
    return true;
  }
  if (text.size() > longest) return false;
  std::array<char, longest> small{};
  std::transform(text.begin(), text.end(), small.begin(), [](char sign) {
    return sign >= 'A' && sign <= 'Z' ? static_cast<char>(sign - 'A' + 'a') : sign;
  });
  const std::string_view lower{small.data(), text.size()};
  return std::find(std::begin(words), std::end(words), lower) != std::end(words);
}

}  // namespace thickset
