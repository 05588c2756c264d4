#include "base/text.h"

#include <algorithm>
#include <cassert>

namespace thickset {

namespace {

unsigned byte_at(std::string_view text, std::size_t at) {
  return static_cast<unsigned char>(text[at]);
}

bool is_control(std::string_view character) {
  const unsigned first = byte_at(character, 0);
  if (first < 0x20 || first == 0x7F) return true;
  // U+0080 to U+009F, the second set of control characters.
  return character.size() == 2 && first == 0xC2 && byte_at(character, 1) < 0xA0;
}

}  // namespace

std::size_t utf8_length_at(std::string_view text, std::size_t at) {
  assert(at < text.size());
  const unsigned first = byte_at(text, at);
  if (first < 0x80) return 1;
  if (first < 0xC2 || first > 0xF4) return 0;
  const std::size_t length = first < 0xE0 ? 2 : first < 0xF0 ? 3 : 4;
  if (text.size() - at < length) return 0;
  for (std::size_t i = 1; i < length; ++i) {
    if ((byte_at(text, at + i) & 0xC0) != 0x80) return 0;
  }
  const unsigned second = byte_at(text, at + 1);
  const bool overlong = (first == 0xE0 && second < 0xA0) || (first == 0xF0 && second < 0x90);
  const bool surrogate = first == 0xED && second > 0x9F;
  const bool beyond_last = first == 0xF4 && second > 0x8F;
  return overlong || surrogate || beyond_last ? 0 : length;
}

std::size_t first_not_utf8(std::string_view text) {
  std::size_t at = 0;
  while (at < text.size()) {
    const std::size_t length = utf8_length_at(text, at);
    if (length == 0) return at;
    at += length;
  }
  return std::string_view::npos;
}

std::size_t count_characters(std::string_view text) {
  std::size_t count = 0;
  for (std::size_t at = 0; at < text.size(); ++count) {
    at += std::max<std::size_t>(1, utf8_length_at(text, at));
  }
  return count;
}

std::string_view trimmed(std::string_view text) {
  constexpr std::string_view spaces = " \t\r\n";
  const std::size_t first = text.find_first_not_of(spaces);
  if (first == text.npos) return {};
  return text.substr(first, text.find_last_not_of(spaces) - first + 1);
}

std::size_t first_control(std::string_view text) {
  for (std::size_t at = 0; at < text.size(); ++at) {
    const unsigned byte = byte_at(text, at);
    if (byte >= 0x20 && byte != 0x7F && byte != 0xC2) continue;
    if (byte == '\t' || byte == '\n') continue;
    if (is_control(text.substr(at, byte == 0xC2 ? 2 : 1))) return at;
  }
  return text.npos;
}

std::string shown(std::string_view text) {
  std::string result;
  result.reserve(text.size());
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t length = utf8_length_at(text, at);
    const std::string_view character = text.substr(at, std::max<std::size_t>(1, length));
    const bool is_space = character == "\t" || character == "\n";
    if (length == 0 || (is_control(character) && !is_space)) {
      result += '?';
    } else {
      result += character;
    }
    at += character.size();
  }
  return result;
}

std::string in_quotes(std::string_view text) {
  constexpr std::size_t longest = 60;
  std::string result = "\"";
  std::size_t at = 0;
  for (std::size_t count = 0; at < text.size() && count < longest; ++count) {
    const std::size_t length = utf8_length_at(text, at);
    const std::string_view character = text.substr(at, std::max<std::size_t>(1, length));
    if (length == 0 || is_control(character)) {
      result += '?';
    } else {
      result += character;
    }
    at += character.size();
  }
  if (at < text.size()) result += "...";
  result += '"';
  return result;
}

}  // namespace thickset
