#include "geometry/stl_text.h"

#include "base/error.h"
#include "base/text.h"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <cstddef>

#include <fmt/format.h>

namespace thickset {
namespace {

constexpr std::string_view export_again =
    "export the model again, best as binary STL, and check that it was saved whole";

/// A word and the place it starts at.
struct Word {
  std::string_view text;
  std::size_t at = 0;
};

bool same_word(std::string_view text, std::string_view lower_case) {
  return std::equal(
      text.begin(), text.end(), lower_case.begin(), lower_case.end(), [](char is, char as) {
        return (is >= 'A' && is <= 'Z' ? static_cast<char>(is - 'A' + 'a') : is) == as;
      });
}

class Reader {
 public:
  Reader(std::string_view text, const std::string& source) : text_{text}, source_{source} {
    constexpr std::string_view byte_order_mark = "\xEF\xBB\xBF";
    if (text_.starts_with(byte_order_mark)) at_ = byte_order_mark.size();
  }

  /// The next word; empty at the end of the text.
  Word next() {
    at_ = std::min(text_.find_first_not_of(spaces, at_), text_.size());
    const std::size_t end = std::min(text_.find_first_of(spaces, at_), text_.size());
    const Word word{text_.substr(at_, end - at_), at_};
    at_ = end;
    return word;
  }

  void skip_line() { at_ = std::min(text_.find_first_of("\r\n", at_), text_.size()); }

  void expect(std::string_view word) {
    const Word got = next();
    if (!same_word(got.text, word)) throw not_expected(got, word);
  }

  double coordinate() {
    const Word word = next();
    std::string_view digits = word.text;
    if (digits.starts_with('+') && !digits.starts_with("+-")) digits.remove_prefix(1);
    double number = 0.0;
    const char* const end = digits.data() + digits.size();
    const auto read = std::from_chars(digits.data(), end, number);
    const bool whole = !digits.empty() && read.ptr == end;
    // Below the smallest number there is: 0, which is what is meant.
    const bool underflow = read.ec == std::errc::result_out_of_range &&
                           (digits.find("e-") != digits.npos || digits.find("E-") != digits.npos);
    if (whole && underflow) return 0.0;
    if (whole && read.ec == std::errc{} && std::isfinite(number)) return number;
    if (word.text.empty()) throw not_expected(word, "a coordinate");
    throw Error{place(word),
                fmt::format("coordinate {} is not a finite number", in_quotes(word.text)),
                digits.find(',') == digits.npos
                    ? "repair the model in the program that made it and export it again"
                    : "write the decimal sign as a point"};
  }

  Error not_expected(const Word& got, std::string_view expected) const {
    if (got.text.empty()) {
      return Error{
          place(got), fmt::format("the text ends where {} should be", expected), export_again};
    }
    return Error{place(got),
                 fmt::format("{} stands where {} should be", in_quotes(got.text), expected),
                 same_word(got.text, "vertex") ? "divide the faces into triangles before exporting"
                                               : export_again};
  }

  /// A line ends with LF, CR LF or CR.
  Place place(const Word& word) const {
    int line = 1;
    std::size_t line_start = 0;
    for (std::size_t i = 0; i < word.at; ++i) {
      const bool cr_of_cr_lf = text_[i] == '\r' && i + 1 < text_.size() && text_[i + 1] == '\n';
      if (text_[i] != '\n' && (text_[i] != '\r' || cr_of_cr_lf)) continue;
      ++line;
      line_start = i + 1;
    }
    return Place{source_, line, static_cast<int>(word.at - std::min(line_start, word.at)) + 1};
  }

 private:
  static constexpr std::string_view spaces = " \t\r\n\v\f";
  std::string_view text_;
  const std::string& source_;
  std::size_t at_ = 0;
};

/// What stands between "facet" and "endfacet".
void read_facet(Reader& reader, TriangleSoup& soup) {
  reader.expect("normal");
  for (int i = 0; i < 3; ++i) reader.next();  // not read: many programs write NaN or zeros
  reader.expect("outer");
  reader.expect("loop");
  for (int corner = 0; corner < 3; ++corner) {
    reader.expect("vertex");
    const double x = reader.coordinate();
    const double y = reader.coordinate();
    const double z = reader.coordinate();
    soup.corners.emplace_back(x, y, z);
  }
  reader.expect("endloop");
  reader.expect("endfacet");
}

void read_solid_block(Reader& reader, TriangleSoup& soup) {
  reader.skip_line();  // the name
  for (;;) {
    const Word word = reader.next();
    if (same_word(word.text, "endsolid")) return reader.skip_line();
    if (!same_word(word.text, "facet")) throw reader.not_expected(word, "facet or endsolid");
    if (soup.corners.size() >= 3 * most_triangles) {
      throw Error{reader.place(word),
                  fmt::format("more than {} triangles", most_triangles),
                  "export the model with fewer triangles"};
    }
    read_facet(reader, soup);
  }
}

}  // namespace

TriangleSoup parse_stl_text(std::string_view text, const std::string& source) {
  Reader reader{text, source};
  TriangleSoup soup;
  for (;;) {
    const Word word = reader.next();
    if (word.text.empty()) return soup;
    if (!same_word(word.text, "solid")) throw reader.not_expected(word, "solid");
    read_solid_block(reader, soup);
  }
}

}  // namespace thickset
