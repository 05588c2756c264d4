#pragma once

#include <cstddef>
#include <string>
#include <string_view>

namespace thickset {

inline constexpr std::size_t largest_text_bytes = 64u << 20;

/// The text of a file, without a leading byte-order mark and with "\r\n" turned into "\n".
///
/// Throws: Error where the file is missing, a folder, unreadable, empty, larger than max_bytes, or
/// not text: a NUL byte, bytes that are not UTF-8, a control character but tab and line feed. So
/// names and titles from files can be shown as they are.
std::string read_text_file(const std::string& path, std::size_t max_bytes = largest_text_bytes);

/// The text of standard input up to its end, as read_text_file gives that of a file; a second call
/// finds it empty. Places in it are of the source `standard_input`.
std::string read_standard_input(std::size_t max_bytes = largest_text_bytes);

/// The bytes of a file as they are.
///
/// Throws: Error where the name is empty, the file missing, a folder, unreadable, or larger than
/// max_bytes.
std::string read_bytes(const std::string& path, std::size_t max_bytes);

/// Writes a file whole or not at all: to a temporary name beside it, then renamed.
///
/// Throws: Error where the folder is missing or cannot be written; nothing is left behind.
void write_text_file(const std::string& path, std::string_view text);

}  // namespace thickset
