#pragma once

#include <cstdio>
#include <string_view>

namespace thickset::cli {

/// Writes to stdout and sees to it that all of it arrives. Where nobody reads on, as behind
/// `| head -1`, the rest is dropped without a word.
///
/// Throws: Error where it cannot be written, as on a full disk.
void print_to_screen(std::string_view text);

/// Writes to stderr, or to nobody; throws nothing, since errors are told by it.
void print_error(std::string_view text);

/// A closed pipe becomes an error of the write, not the end of the program.
void outlive_closed_pipes();

}  // namespace thickset::cli
