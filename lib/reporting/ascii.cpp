#include "reporting/ascii.h"

#include <algorithm>

#include "base/text.h"

namespace thickset {
namespace {

constexpr std::string_view degree = "\u00B0";

/// U+00C0 to U+00FF without their accents, one sign for each.
constexpr std::string_view latin =
    "AAAAAAACEEEEIIIIDNOOOOOxOUUUUYTsaaaaaaaceeeeiiiidnooooo/ouuuuyty";
static_assert(latin.size() == 64);

/// Signs that have a likeness; they are one column wide both ways.
struct Likeness {
  std::string_view sign;
  char ascii;
};
constexpr Likeness likenesses[] = {{"\u00D7", 'x'},
                                   {"\u00B7", '*'},
                                   {"\u00B1", '+'},
                                   {"\u00B2", '2'},
                                   {"\u00B3", '3'},
                                   {"\u00B5", 'u'},
                                   {"\u03BC", 'u'},
                                   {"\u00A0", ' '},
                                   {"\u2009", ' '},
                                   {"\u202F", ' '},
                                   {"\u2010", '-'},
                                   {"\u2013", '-'},
                                   {"\u2014", '-'},
                                   {"\u2212", '-'},
                                   {"\u2018", '\''},
                                   {"\u2019", '\''},
                                   {"\u201C", '"'},
                                   {"\u201D", '"'},
                                   {"\u2033", '"'}};

char ascii_of(std::string_view sign) {
  const auto like = std::find_if(std::begin(likenesses),
                                 std::end(likenesses),
                                 [&](const Likeness& likeness) { return likeness.sign == sign; });
  if (like != std::end(likenesses)) return like->ascii;
  if (sign.size() == 2 && sign[0] == '\xC3') {
    return latin[static_cast<unsigned char>(sign[1]) - 0x80u];
  }
  return '?';
}

/// Makes up for a column that is left out at the end of `line`: one space more before the number
/// there, in a run of spaces as between the columns of a table.
void move_number_right(std::string& line) {
  constexpr std::string_view of_number = "0123456789.-+";
  const std::size_t space = line.find_last_not_of(' ');
  if (space == std::string::npos) return;
  const std::size_t before = line.find_last_not_of(of_number, space);
  if (before == std::string::npos || line[before] != ' ' || before == space) return;
  const bool in_table = before == 0 || line[before - 1] == ' ';
  if (in_table) line.insert(before, 1, ' ');
}

}  // namespace

std::string in_ascii(std::string_view text) {
  std::string result;
  std::string line;
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t length = std::max<std::size_t>(utf8_length_at(text, at), 1);
    const std::string_view sign = text.substr(at, length);
    at += length;
    if (sign == degree) {
      move_number_right(line);
    } else {
      line += length == 1 && static_cast<unsigned char>(sign[0]) < 0x80 ? sign[0] : ascii_of(sign);
    }
    if (sign == "\n") {
      result += line;
      line.clear();
    }
  }
  return result + line;
}

}  // namespace thickset
