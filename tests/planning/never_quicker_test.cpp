#include <algorithm>
#include <optional>
#include <string>

#include <doctest/doctest.h>

#include "checking/random_casting.h"
#include "geometry/scaled_shape.h"
#include "planning/tail.h"
#include "schedule/read_controller.h"
#include "slow_build.h"

using namespace thickset;

namespace {

struct Planned {
  double hold_C, hold_h, tail_h;
  double slowest_K_per_h;
};

/// Nothing where the limits cannot be kept.
std::optional<Planned> planned(const Casting& casting,
                               const Kiln& kiln,
                               const TailRequest& request) {
  // Whole minutes change a plan less than whole degrees an hour.
  const static Controller box =
      read_controller(example::data_path("controllers/twelve-steps-by-time.controller"));
  const Tail tail = plan_tail(casting, kiln, box, request);
  if (!tail.cannot.empty()) return std::nullopt;
  CHECK(tail.check.verdict == Verdict::within);
  double slowest_K_per_h = 1e9;
  for (const Stage& stage : tail.stages) {
    slowest_K_per_h = std::min(slowest_K_per_h, stage.rate.in_K_per_h());
  }
  const double hold_h = in_h(tail.hold.total());
  return Planned{tail.hold.temperature.in_C(),
                 hold_h,
                 hold_h + in_h(tail.prices.back().cool_down),
                 slowest_K_per_h};
}

}  // namespace

TEST_CASE("any casting: a thicker, stiffer or more expanding one is never planned quicker" *
          doctest::skip(slow_build)) {
  constexpr double found_within = 0.01;  // of the shortest tail: the search's own error
  example::Chance chance{20261127};
  int compared = 0, longer = 0;
  const int samples = example::samples(6);
  for (int i = 0; i < samples; ++i) {
    const Casting casting = example::some_casting(chance);
    const Kiln kiln = example::some_kiln(chance);
    TailRequest request;
    request.limits.grade = Retardation::from_nm_per_cm(chance.between(5.0, 40.0));
    request.limits.tension = Stress::from_MPa(chance.between(1.0, 4.0));
    const double more = chance.between(1.05, 1.5);
    CAPTURE(i);
    CAPTURE(example::described(casting, kiln));
    CAPTURE(more);
    const std::optional<Planned> usual = planned(casting, kiln, request);
    if (!usual) continue;
    const auto never_quicker = [&](const std::string& what, const std::optional<Planned>& other) {
      if (!other) return;  // not at all
      CAPTURE(what);
      CHECK(other->tail_h >= (1.0 - found_within) * usual->tail_h);
      ++compared;
      if (other->tail_h > (1.0 + found_within) * usual->tail_h) ++longer;
    };
    Casting thicker = casting;
    thicker.shape = scaled(casting.shape, more);
    const std::optional<Planned> thick = planned(thicker, kiln, request);
    never_quicker("thicker", thick);
    if (thick) {
      CHECK(thick->tail_h > usual->tail_h);
      // Hotter it may be shorter.
      if (thick->hold_C == usual->hold_C) CHECK(thick->hold_h >= usual->hold_h);
      CHECK(thick->slowest_K_per_h <= (1.0 + found_within) * usual->slowest_K_per_h);
    }
    Casting stiffer = casting;
    stiffer.glass.youngs_modulus_Pa.value *= more;
    never_quicker("stiffer", planned(stiffer, kiln, request));
    Casting expanding = casting;
    expanding.glass.expansion_per_K.value *= more;
    expanding.glass.liquid_expansion_per_K.value *= more;
    never_quicker("more expanding", planned(expanding, kiln, request));
    TailRequest stricter = request;
    stricter.limits.grade = Retardation::from_nm_per_cm(request.limits.grade.in_nm_per_cm() / more);
    never_quicker("of a stricter grade", planned(casting, kiln, stricter));
  }
  CHECK(compared > 2 * samples);
  CHECK(longer > compared * 3 / 4);
}
