#pragma once

#include <string>
#include <vector>

#include "reporting/charts/drawing.h"

/// Pieces of a page in HTML that is well-formed XML as well. They take plain text and escape it; no
/// piece has an id, so that any of them may stand on a page twice.
namespace thickset {

/// A table with a caption; the first cell of each row names it. kind: its class, for the style.
std::string table_html(const std::string& caption,
                       const std::vector<std::string>& heads,
                       const std::vector<std::vector<std::string>>& rows,
                       const std::string& kind);

/// A heading, the chart, its caption, and its numbers as a table to be opened.
std::string chart_html(const Chart& chart);

/// A part of the page under a heading. inner: HTML. kind: its class, for the style.
std::string section_html(const std::string& heading,
                         const std::string& inner,
                         const std::string& kind);

/// Prose in columns, in print smaller where there is much of it. inner: HTML.
std::string words_html(const std::string& inner);

/// The whole page around its parts.
std::string page_html(const std::string& title, const std::string& inner);

}  // namespace thickset
