#include "checking/opening.h"

#include <cmath>
#include <initializer_list>
#include <utility>

#include <doctest/doctest.h>

#include "checking/example_casting.h"

using namespace thickset;

namespace {

/// Glass that is even at these temperatures, C, an hour apart.
History even_glass(std::initializer_list<double> temperatures_C) {
  History history;
  for (const double T_C : temperatures_C) {
    History::Row row{};
    row.time_s = 3600.0 * static_cast<double>(history.rows.size());
    row.centre_K = row.surface_K = row.mean_K = Temperature::from_C(T_C).in_K();
    history.rows.push_back(row);
  }
  return history;
}

const Temperature room = Temperature::from_C(20.0);
const Stress limit = Stress::from_MPa(3.0);

}  // namespace

TEST_CASE("opening: the moment lies between two rows, where the glass is at 15 K above the room") {
  const Casting casting = example::slab_of_mm(50.0);
  const Opening opening =
      earliest_opening(casting, even_glass({100.0, 60.0, 20.0}), room, limit, 0.0);
  REQUIRE(opening.opens);
  constexpr double rounding_h = 1e-9;
  CHECK(std::abs(in_h(opening.after) - 1.625) <= rounding_h);  // 60 to 35 of 60 to 20 C
}

TEST_CASE(
    "opening: glass that gets hot again is not opened before, nor what is never cool enough") {
  const Casting casting = example::slab_of_mm(50.0);
  const Opening again =
      earliest_opening(casting, even_glass({100.0, 30.0, 80.0, 30.0}), room, limit, 0.0);
  REQUIRE(again.opens);
  CHECK(in_h(again.after) > 2.0);
  CHECK_FALSE(earliest_opening(casting, even_glass({100.0, 60.0, 40.0}), room, limit, 0.0).opens);
}

TEST_CASE("opening: thick glass that a draught would crack waits until it is cooler") {
  const History history = even_glass({100.0, 60.0, 20.0});
  const auto after_h = [&](double thickness_mm, double limit_MPa) {
    const Opening opening = earliest_opening(
        example::slab_of_mm(thickness_mm), history, room, Stress::from_MPa(limit_MPa), 0.0);
    REQUIRE(opening.opens);
    return in_h(opening.after);
  };
  CHECK(after_h(200.0, 0.2) > after_h(200.0, 3.0));
  CHECK(after_h(200.0, 0.2) > after_h(20.0, 0.2));
}
