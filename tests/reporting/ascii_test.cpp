#include "reporting/ascii.h"

#include <doctest/doctest.h>

#include "base/text.h"

using namespace thickset;

TEST_CASE("in ascii: degrees lose their sign, and tables keep their columns") {
  CHECK(in_ascii("Hold at 513 \u00b0C for 2 h, then 9.4 \u00b0C/h.") ==
        "Hold at 513 C for 2 h, then 9.4 C/h.");
  CHECK(in_ascii("hold     800 \u00b0C  513 \u00b0C              4 h 2 min     55 \u00b0C 0.2\n") ==
        "hold      800 C   513 C              4 h 2 min      55 C 0.2\n");
  CHECK(in_ascii("   1    513 \u00b0C\n") == "   1     513 C\n");
  CHECK(in_ascii("slowest     -12.5 \u00b0F   x") == "slowest      -12.5 F   x");
  CHECK(in_ascii("\u00b0C") == "C");
  CHECK(in_ascii("513\u00b0C") == "513C");
}

TEST_CASE("in ascii: no line becomes longer, and nothing but ASCII is left") {
  for (const char* text : {"Gl\u00e4ser f\u00fcr \u00d8rsted \u2013 2\u00b7kg/m\u00b3",
                           "\u6c34\u6676 \u00b0 \u00b0C  \u00b0",
                           "  12 \u00b0C\n  \u00b0\n",
                           "\xff\xfe broken",
                           ""}) {
    const std::string ascii = in_ascii(text);
    CAPTURE(ascii);
    CHECK(count_characters(ascii) <= count_characters(text));
    for (const char c : ascii) CHECK((c == '\n' || (c >= ' ' && c <= '~')));
  }
  CHECK(in_ascii("Gl\u00e4ser f\u00fcr \u00d8rsted \u2013 2\u00b7kg/m\u00b3") ==
        "Glaser fur Orsted - 2*kg/m3");
  CHECK(in_ascii("\u6c34") == "?");
}
