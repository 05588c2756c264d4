#include "reporting/markup.h"

#include <string>

#include <doctest/doctest.h>

using namespace thickset;

TEST_CASE("markup: what could end a tag or an attribute is written as an entity") {
  CHECK(escaped("<script>alert(1)</script>") == "&lt;script&gt;alert(1)&lt;/script&gt;");
  CHECK(escaped("a & b") == "a &amp; b");
  CHECK(escaped("\" onload='x") == "&quot; onload=&#39;x");
  CHECK(escaped("&lt;") == "&amp;lt;");
  CHECK(escaped("513 °C, plâtre") == "513 °C, plâtre");
}

TEST_CASE("markup: what no document may hold becomes a question mark") {
  CHECK(escaped(std::string{"a\0b", 3}) == "a?b");
  CHECK(escaped("a\x01\x1b\x7f") == "a???");
  CHECK(escaped("a\xff\xc3") == "a??");
  CHECK(escaped("a\xC2\x85z") == "a?z");
  CHECK(escaped("a\xEF\xBF\xBFz") == "a?z");
  CHECK(escaped("a\tb\nc") == "a\tb\nc");
}

TEST_CASE("markup: lines broken for a screen are joined, lists stay lists") {
  CHECK(prose("Hold at 513 °C,\n  then cool.\n") == "<p>Hold at 513 °C, then cool.</p>\n");
  CHECK(prose("Over:\n- step 1\n  is fast\n- step 2\nEnd.\n") ==
        "<p>Over:</p>\n<ul>\n<li>step 1 is fast</li>\n<li>step 2</li>\n</ul>\n<p>End.</p>\n");
  CHECK(prose("- <b>\n") == "<ul>\n<li>&lt;b&gt;</li>\n</ul>\n");
  CHECK(prose("").empty());
  CHECK(prose("\n\n").empty());
}
