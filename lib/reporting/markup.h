#pragma once

#include <string>
#include <string_view>

namespace thickset {

/// Text that stands in HTML or SVG, between tags or in a quoted attribute, as the text it is: <, >,
/// & and quotes are written as entities; what no document may hold (control characters, bytes that
/// are not UTF-8) becomes "?".
std::string escaped(std::string_view text);

/// The text of a report as HTML: lines that were broken to fit a screen are joined again into
/// paragraphs, lines that begin with "- " become a list.
std::string prose(std::string_view text);

}  // namespace thickset
