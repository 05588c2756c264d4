#include "checking/past.h"

#include <cmath>

#include <doctest/doctest.h>

#include "checking/example_casting.h"

using namespace thickset;

namespace {

History::Row even_row(double T_K) {
  History::Row row{};
  row.centre_K = row.surface_K = row.mean_K = T_K;
  row.centre_fictive_K = row.surface_fictive_K = T_K;
  return row;
}

}  // namespace

TEST_CASE("glass in equilibrium has no past, even with a temperature difference in it") {
  const Glass glass = example::slab_of_mm(50.0).glass;
  History::Row row = even_row(780.0);
  CHECK(left_by_past_Pa(glass, row) == 0.0);
  CHECK(off_equilibrium_K(row) == 0.0);
  row.centre_K += 3.0;
  row.centre_fictive_K += 3.0;
  CHECK(left_by_past_Pa(glass, row) == 0.0);
  CHECK(off_equilibrium_K(row) == 0.0);
}

TEST_CASE("stress counts with either sign, and structure as if its unevenness were to even out") {
  const Glass glass = example::slab_of_mm(50.0, "reference-516-480").glass;
  History::Row row = even_row(780.0);
  row.surface_Pa = -2e5;
  row.centre_Pa = 1e5;
  CHECK(left_by_past_Pa(glass, row) == 2e5);
  row.centre_fictive_K += 2.0;
  // E/(1-nu) (alpha_liquid - alpha_glass) by hand: 70 GPa / 0.78 * 16e-6 /K = 1.4359 MPa/K.
  constexpr double half_last_digit_Pa = 0.5e2 * 2.0;
  CHECK(std::abs(left_by_past_Pa(glass, row) - (2e5 + 2.0 * 1.4359e6)) <= half_last_digit_Pa);
  CHECK(off_equilibrium_K(row) == 2.0);
  row.surface_fictive_K += 2.0;  // even again, though out of equilibrium
  CHECK(left_by_past_Pa(glass, row) == 2e5);
  CHECK(off_equilibrium_K(row) == 2.0);
}
