#pragma once

#include <string>

namespace thickset::cli {

/// The manual page in the man(7) macros of troff, in ASCII, from the tables that --help shows:
/// every command with every option, exit statuses, files and the whole cautions.
std::string manual_page();

/// A line of plain text so that troff shows it as it is: hyphens that can be copied, no escapes, no
/// request where it begins with a dot or an apostrophe. In: one line without its end.
std::string troff_line(const std::string& text);

}  // namespace thickset::cli
