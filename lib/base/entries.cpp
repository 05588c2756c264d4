#include "base/entries.h"

#include <algorithm>
#include <numeric>

#include <fmt/format.h>

#include "base/problems.h"
#include "base/text.h"
#include "base/text_file.h"

namespace thickset {

namespace {

constexpr std::size_t longest_line = 1000;

bool is_key(std::string_view text) {
  return std::all_of(text.begin(), text.end(), [](char c) {
    return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '_';
  });
}

/// One line of a text; gives the place of any piece of it.
struct Line {
  std::string_view text;
  const std::string& source_name;
  int number;

  Place place() const { return {source_name, number}; }
  Place place_of(std::string_view piece) const {
    const auto before = static_cast<std::size_t>(piece.data() - text.data());
    return {source_name, number, static_cast<int>(count_characters(text.substr(0, before)) + 1)};
  }
};

/// "value [source] locator" taken apart; the value ends at the first bracket.
void read_value(const Line& line, std::string_view right, Entry& entry) {
  const std::size_t open = right.find('[');
  const std::string_view value = trimmed(right.substr(0, open));
  if (value.empty()) {
    throw Error{line.place_of(right),
                fmt::format("{} has no value", entry.key),
                "write the value after the ="};
  }
  entry.value = value;
  entry.value_place = line.place_of(value);
  if (open == right.npos) return;
  const std::size_t close = right.find(']', open);
  if (close == right.npos) {
    throw Error{line.place_of(right.substr(open)),
                "[ without its ]",
                "close the bracket around the source"};
  }
  entry.source = trimmed(right.substr(open + 1, close - open - 1));
  entry.locator = trimmed(right.substr(close + 1));
}

Entry read_entry(const Line& line) {
  const std::string_view text = line.text.substr(0, line.text.find('#'));
  const std::size_t equals = text.find('=');
  if (equals == text.npos) {
    throw Error{line.place(),
                fmt::format("no = in {}", in_quotes(trimmed(text))),
                "write key = value, or # before a comment"};
  }
  const std::string_view key = trimmed(text.substr(0, equals));
  if (key.empty()) throw Error{line.place(), "no key before the =", "write key = value"};
  if (!is_key(key)) {
    throw Error{line.place_of(key),
                fmt::format("{} is not a key", in_quotes(key)),
                "a key is made of a-z, 0-9 and _"};
  }
  Entry entry;
  entry.key = key;
  entry.key_place = line.place_of(key);
  read_value(line, text.substr(equals + 1), entry);
  return entry;
}

std::size_t edit_distance(std::string_view a, std::string_view b) {
  std::vector<std::size_t> row(b.size() + 1);
  std::iota(row.begin(), row.end(), std::size_t{0});
  for (std::size_t i = 0; i < a.size(); ++i) {
    std::size_t diagonal = row[0];
    row[0] = i + 1;
    for (std::size_t j = 0; j < b.size(); ++j) {
      const std::size_t replaced = diagonal + (a[i] == b[j] ? 0 : 1);
      diagonal = row[j + 1];
      row[j + 1] = std::min({replaced, row[j] + 1, diagonal + 1});
    }
  }
  return row.back();
}

}  // namespace

std::vector<Entry> parse_entries(std::string_view text, const std::string& source_name) {
  std::vector<Entry> entries;
  Problems problems;
  int number = 0;
  while (!text.empty()) {
    const std::size_t end = std::min(text.find('\n'), text.size());
    const Line line{text.substr(0, end), source_name, ++number};
    text.remove_prefix(std::min(end + 1, text.size()));
    if (line.text.size() > longest_line && count_characters(line.text) > longest_line) {
      problems.add(line.place(),
                   fmt::format("a line of over {} characters", longest_line),
                   "this does not look like a file of key = value lines");
      continue;
    }
    const std::string_view content = trimmed(line.text);
    if (content.empty() || content.front() == '#') continue;
    try {
      entries.push_back(read_entry(line));
    } catch (const Error& error) {
      problems.add(error);
    }
  }
  if (entries.empty() && problems.empty()) {
    problems.add(Place{source_name}, "holds no entry", "write lines of the form key = value");
  }
  problems.throw_if_any();
  return entries;
}

std::vector<Entry> read_entries(const std::string& path) {
  return parse_entries(read_text_file(path, largest_entries_bytes), path);
}

std::string nearest_name(std::string_view name, const std::vector<std::string>& known) {
  constexpr std::size_t longest_name = 200;
  if (name.empty() || name.size() > longest_name) return "";
  std::size_t allowed = std::max<std::size_t>(2, name.size() / 3);
  // A name of one or two letters would else be near to anything as short.
  allowed = std::min(allowed, name.size() - 1);
  std::string nearest;
  std::size_t least = allowed + 1;
  for (const std::string& candidate : known) {
    const std::size_t distance = edit_distance(name, candidate);
    if (distance >= least) continue;
    least = distance;
    nearest = candidate;
  }
  if (!nearest.empty()) return nearest;
  // "plaster" for "plaster-silica": what begins so, where that is a few at most.
  constexpr std::size_t fewest_letters = 3;
  constexpr int most_named = 3;
  int named = 0;
  for (const std::string& candidate : known) {
    if (name.size() < fewest_letters || !candidate.starts_with(name)) continue;
    if (++named > most_named) return "";
    nearest += (nearest.empty() ? "" : " or ") + candidate;
  }
  return nearest;
}

}  // namespace thickset
