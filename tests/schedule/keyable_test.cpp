#include "schedule/keyable.h"

#include <doctest/doctest.h>

using namespace thickset;
using keyable::Side;

TEST_CASE("to_step: a number within a millionth of a step counts as that step") {
  CHECK(keyable::to_step(497.99999999999994, 1.0, Side::down) == 498.0);
  CHECK(keyable::to_step(498.00000000000006, 1.0, Side::up) == 498.0);
  CHECK(keyable::to_step(498.4, 1.0, Side::down) == 498.0);
  CHECK(keyable::to_step(498.4, 1.0, Side::up) == 499.0);
  CHECK(keyable::to_step(498.6, 1.0, Side::nearest) == 499.0);
  CHECK(keyable::to_step(-0.5, 1.0, Side::down) == -1.0);
}

TEST_CASE("to_step: tenths come out as they are written") {
  CHECK(keyable::to_step(0.74, 0.1, Side::down) == 0.7);
  CHECK(keyable::to_step(138.24, 0.1, Side::nearest) == 138.2);
  CHECK(keyable::to_step(0.26, 0.25, Side::up) == 0.5);
  CHECK(keyable::to_step(31.0, 5.0, Side::down) == 30.0);
}

TEST_CASE("becomes: as many decimals as tell the two numbers apart") {
  CHECK(keyable::becomes(4.39, 4.0, "C/h") == "4.39 C/h becomes 4 C/h");
  CHECK(keyable::becomes(1312.5, 1313.0, "min") == "1312.5 min becomes 1313 min");
  CHECK(keyable::becomes(428.0004, 428.0, "C") == "428.0004 C becomes 428 C");
}

TEST_CASE("duration text: minutes below an hour, hours from there on") {
  CHECK(keyable::duration_text(90.0) == "1.5 min");
  CHECK(keyable::duration_text(5400.0) == "1.5 h");
}

TEST_CASE("longer: minutes below an hour, hours from there on") {
  CHECK(keyable::longer(14.0 * 60.0) == "14 min longer");
  CHECK(keyable::longer(2.31 * 3600.0) == "2.3 h longer");
}
