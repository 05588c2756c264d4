#include "reporting/markup.h"

#include <vector>

#include "base/text.h"

namespace thickset {
namespace {

bool is_control(char c) {
  const auto code = static_cast<unsigned char>(c);
  return (code < 0x20 && c != '\n' && c != '\t') || code == 0x7f;
}

/// U+0080 to U+009F, U+FFFE and U+FFFF, which XML or HTML forbid or discourage.
bool is_forbidden(std::string_view character) {
  if (character.size() == 2) return character[0] == '\xC2' && character[1] < '\xA0';
  return character == "\xEF\xBF\xBE" || character == "\xEF\xBF\xBF";
}

struct TextBlock {
  bool item;  ///< of a list, else a paragraph
  std::string text;
};

/// A line that goes on with the one before is indented; only a list's items may begin anew.
std::vector<TextBlock> text_blocks_of(std::string_view text) {
  std::vector<TextBlock> blocks;
  while (!text.empty()) {
    const std::size_t end = text.find('\n');
    const std::string_view line = text.substr(0, end);
    text.remove_prefix(end == std::string_view::npos ? text.size() : end + 1);
    const std::string_view words = trimmed(line);
    if (words.empty()) continue;
    if (line.starts_with("- ")) {
      blocks.push_back({true, std::string{trimmed(words.substr(2))}});
    } else if (line.starts_with(' ') && !blocks.empty()) {
      blocks.back().text += ' ';
      blocks.back().text += words;
    } else {
      blocks.push_back({false, std::string{words}});
    }
  }
  return blocks;
}

}  // namespace

std::string escaped(std::string_view text) {
  std::string result;
  while (!text.empty()) {
    const std::size_t length = utf8_length_at(text, 0);
    const std::string_view character = text.substr(0, length == 0 ? 1 : length);
    text.remove_prefix(character.size());
    if (length == 0 || (length == 1 && is_control(character[0])) || is_forbidden(character)) {
      result += '?';
      continue;
    }
    switch (character[0]) {
      case '<': result += "&lt;"; break;
      case '>': result += "&gt;"; break;
      case '&': result += "&amp;"; break;
      case '"': result += "&quot;"; break;
      case '\'': result += "&#39;"; break;
      default: result += character;
    }
  }
  return result;
}

std::string prose(std::string_view text) {
  std::string html;
  bool in_list = false;
  for (const TextBlock& block : text_blocks_of(text)) {
    if (block.item != in_list) html += block.item ? "<ul>\n" : "</ul>\n";
    in_list = block.item;
    html +=
        (block.item ? "<li>" : "<p>") + escaped(block.text) + (block.item ? "</li>\n" : "</p>\n");
  }
  return in_list ? html + "</ul>\n" : html;
}

}  // namespace thickset
