#include "units/beside_limit.h"

#include <doctest/doctest.h>

using thickset::beside_limit;

TEST_CASE("beside a limit: a tenth, unless it would hide that the value is over") {
  CHECK(beside_limit(2.0, 3.0) == "2.0");
  CHECK(beside_limit(2.99, 3.0) == "3.0");
  CHECK(beside_limit(3.0, 3.0) == "3.0");
  CHECK(beside_limit(3.06, 3.0) == "3.1");
  CHECK(beside_limit(3.04, 3.0) == "3.04");
  CHECK(beside_limit(20.0006, 20.0) == "20.001");
  CHECK(beside_limit(3.0 + 1e-12, 3.0) == "3.000000");
}
