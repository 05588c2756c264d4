#pragma once

#include <algorithm>
#include <string>
#include <vector>

/// What pages and pictures are held to, by reading their text.
namespace page_checks {

inline int count(const std::string& text, const std::string& part) {
  int found = 0;
  for (std::size_t at = text.find(part); at != std::string::npos; at = text.find(part, at + 1)) {
    ++found;
  }
  return found;
}

/// Why the tags do not close in order, or a bare "<" or "&" stands in the text; empty where all is
/// well. Knows no more of HTML than this project writes: no comments, "/>" on empty elements.
inline std::string fault_of_markup(std::string text) {
  const std::string doctype = "<!DOCTYPE html>\n";
  if (text.starts_with(doctype)) text.erase(0, doctype.size());
  std::vector<std::string> open;
  for (std::size_t at = 0; at < text.size(); ++at) {
    if (text[at] == '&') {
      const std::size_t end = text.find(';', at);
      const std::string name = text.substr(at + 1, end - at - 1);
      const std::vector<std::string> known{"lt", "gt", "amp", "quot", "#39"};
      if (std::find(known.begin(), known.end(), name) == known.end()) return "entity " + name;
    }
    if (text[at] == '>') return "a bare > after " + text.substr(at < 30 ? 0 : at - 30, 30);
    if (text[at] != '<') continue;
    std::size_t end = at + 1;
    char quote = 0;
    for (; end < text.size() && (quote != 0 || text[end] != '>'); ++end) {
      if (quote == 0 && text[end] == '<') return "< within a tag";
      if (text[end] == '"') quote = quote == 0 ? '"' : 0;
    }
    if (end == text.size()) return "a tag does not end";
    const std::string tag = text.substr(at + 1, end - at - 1);
    const std::string name = tag.substr(0, tag.find_first_of(" /", 1));
    if (tag.starts_with('/')) {
      if (open.empty() || "/" + open.back() != name) return name + " does not close what is open";
      open.pop_back();
    } else if (!tag.ends_with('/')) {
      open.push_back(name);
      if (name == "style") {  // CSS is not markup
        end = text.find("</style>", end);
        if (end == std::string::npos) return "style does not end";
        --end;
      }
    }
    at = end;
  }
  return open.empty() ? "" : open.back() + " is left open";
}

/// The text between tags, spaces joined, no-break spaces as spaces.
inline std::string words_of(const std::string& html) {
  std::string words;
  bool in_tag = false;
  for (std::size_t i = 0; i < html.size(); ++i) {
    char c = html[i];
    if (c == '<') in_tag = true;
    if (c == '\xC2' && i + 1 < html.size() && html[i + 1] == '\xA0') {
      ++i;
      c = ' ';
    }
    if (c == '>' && in_tag) {
      in_tag = false;
      c = ' ';
    }
    if (in_tag) continue;
    if (c == '\n') c = ' ';
    if (c == ' ' && !words.empty() && words.back() == ' ') continue;
    words += c;
  }
  return words;
}

}  // namespace page_checks
