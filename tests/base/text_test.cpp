#include "base/text.h"

#include <string>

#include <doctest/doctest.h>

using namespace thickset;

TEST_CASE("text: the examples of RFC 3629 are UTF-8") {
  // RFC 3629, section 7.
  CHECK(first_not_utf8("A\u2262\u0391.") == std::string_view::npos);
  CHECK(first_not_utf8("\xED\x95\x9C\xEA\xB5\xAD\xEC\x96\xB4") == std::string_view::npos);
  CHECK(first_not_utf8("\xEF\xBB\xBF\xF0\xA3\x8E\xB4") == std::string_view::npos);
}

TEST_CASE("text: broken UTF-8 is found at its first byte") {
  // RFC 3629: C0 80 (section 10, overlong NUL), ED A1 8C (section 10, a surrogate), C0, C1 and F5
  // to FF never appear (section 1), F4 90 is beyond U+10FFFF (section 3).
  for (const char* bytes : {"ab\xC0\x80",
                            "ab\xED\xA1\x8C",
                            "ab\xC1\xBF",
                            "ab\xF5\x80\x80\x80",
                            "ab\xFF",
                            "ab\xF4\x90\x80\x80",
                            "ab\x80",
                            "ab\xE2\x82",
                            "ab\xE0\x80\xAF",
                            "ab\xF0\x80\x80\xAF",
                            "ab\xC3(",
                            "ab\xF0\x9F\x98"}) {
    CAPTURE(bytes);
    CHECK(first_not_utf8(bytes) == 2);
  }
}

TEST_CASE("text: characters are counted, not bytes, and a broken byte counts as one") {
  CHECK(count_characters("75 \u00B0C") == 5);
  CHECK(count_characters("a\xFF\xFE") == 3);
  CHECK(count_characters("") == 0);
}

TEST_CASE("text: trimming takes spaces from both ends only") {
  CHECK(trimmed(" \t a b \r\n") == "a b");
  CHECK(trimmed(" \t ").empty());
}

TEST_CASE("text: in quotes, nothing can disturb a terminal or fill the screen") {
  CHECK(in_quotes("100xx") == "\"100xx\"");
  CHECK(in_quotes("\x1B[2J\xFF\x7F") == "\"?[2J??\"");
  CHECK(in_quotes("\xC2\x9B"
                  "2J") == "\"?2J\"");  // U+009B, the one-sign form of ESC [
  CHECK(in_quotes("5 \u00B0C") == "\"5 \u00B0C\"");
  CHECK(in_quotes(std::string(60, 'a')) == '"' + std::string(60, 'a') + '"');
  CHECK(in_quotes(std::string(5000, 'a')) == '"' + std::string(60, 'a') + "...\"");
}

TEST_CASE("text: what is shown has no control character, and is the same text where it had none") {
  CHECK(shown("a\tb\n75 \u00B0C") == "a\tb\n75 \u00B0C");
  CHECK(shown("\x1B[2J\xFF\x7F\r") == "?[2J???");
  CHECK(shown("a\xC2\x9B"
              "b\xC2\xA0") == "a?b\xC2\xA0");
  CHECK(first_control("a\tb\n75 \u00B0C\xC2\xA0") == std::string_view::npos);
  CHECK(first_control("ab\r") == 2);
  CHECK(first_control("a\xC2\x9B") == 1);
  CHECK(first_control(std::string_view{"a\0", 2}) == 1);
}
