#pragma once

#include <cstddef>
#include <string>
#include <string_view>

namespace thickset {

/// The length in bytes of the character that starts at `at`, or 0 where the bytes there are not
/// UTF-8 (cut short, overlong, a surrogate, or beyond U+10FFFF).
///
/// In: at < text.size(). Source: RFC 3629, section 4.
std::size_t utf8_length_at(std::string_view text, std::size_t at);

/// The position of the first byte that is not part of UTF-8, or npos where all of it is.
std::size_t first_not_utf8(std::string_view text);

/// The number of characters; a byte that is not UTF-8 counts as one.
std::size_t count_characters(std::string_view text);

/// The text without the spaces, tabs and line ends around it; a view of the same bytes.
std::string_view trimmed(std::string_view text);

/// The position of the first control character but tab and line feed, or npos where there is none;
/// U+0080 to U+009F are such too.
///
/// In: UTF-8.
std::size_t first_control(std::string_view text);

/// A text for a terminal: with "?" for control characters, but tab and line feed, and for broken
/// bytes.
std::string shown(std::string_view text);

/// A piece of a user's text for a message: in quotes, cut after 60 characters, with "?" for
/// control characters and broken bytes, so that no input can disturb a terminal.
std::string in_quotes(std::string_view text);

}  // namespace thickset
