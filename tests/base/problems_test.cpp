#include "base/problems.h"

#include <algorithm>
#include <string>

#include <doctest/doctest.h>

#include "message_of.h"

using namespace thickset;

TEST_CASE("place: shows as much as is known") {
  CHECK(to_string({"--thickness"}) == "--thickness");
  CHECK(to_string({"a.glass", 3}) == "a.glass:3");
  CHECK(to_string({"a.glass", 3, 7}) == "a.glass:3:7");
}

TEST_CASE("error: reads where, what, how to mend, and leaves out what is empty") {
  CHECK(error_line({"a.glass", 3, 7}, "too hot", "cool it") == "a.glass:3:7: too hot; cool it");
  CHECK(error_line({}, "too hot", "cool it") == "too hot; cool it");
  CHECK(error_line({"a.glass"}, "too hot", "") == "a.glass: too hot");
}

TEST_CASE("problems: none throws nothing, several are thrown in one error, a line each") {
  Problems problems;
  CHECK(message_of([&] { problems.throw_if_any(); }) == "no error");
  problems.add({"f", 1}, "first", "mend it");
  const int read = problems.collect([]() -> int { throw Error{{"f", 2}, "second", ""}; }, -1);
  CHECK(read == -1);
  CHECK(problems.collect([] { return 5; }, -1) == 5);
  CHECK(message_of([&] { problems.throw_if_any(); }) == "f:1: first; mend it\nf:2: second");
}

TEST_CASE("problems: an input that is wrong throughout does not fill the screen") {
  Problems problems;
  for (int line = 1; line <= 100'000; ++line) problems.add({"f", line}, "bad", "");
  const std::string text = message_of([&] { problems.throw_if_any(); });
  CHECK(std::count(text.begin(), text.end(), '\n') == 40);
  CHECK(text.ends_with("f:40: bad\nand 99960 more"));
}
