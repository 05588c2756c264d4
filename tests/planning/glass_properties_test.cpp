#include <doctest/doctest.h>

#include "checking/example_casting.h"
#include "planning/tail.h"
#include "schedule/read_controller.h"
#include "slow_build.h"

using namespace thickset;

namespace {

double tail_h(const Casting& casting) {
  const Controller controller =
      read_controller(example::data_path("controllers/twenty-steps-by-rate.controller"));
  const Tail tail = plan_tail(casting, example::kiln("small-fibre"), controller, {});
  CHECK(tail.check.verdict == Verdict::within);
  return in_h(tail.check.program_time);
}

}  // namespace

TEST_CASE("stiffer or more expanding glass never gets a faster plan" * doctest::skip(slow_build)) {
  constexpr double search_tol = 0.01;  // plans are found to about this
  struct Piece {
    double thickness_mm;
    const char* glass;
  };
  for (const Piece& piece :
       {Piece{18.0, "lead-crystal-24"}, Piece{60.0, "casting-soda-lime-9.0"}}) {
    CAPTURE(piece.glass);
    const Casting usual = example::slab_of_mm(piece.thickness_mm, piece.glass);
    Casting stiffer = usual;
    stiffer.glass.youngs_modulus_Pa.value *= 1.15;
    Casting expanding = usual;
    expanding.glass.expansion_per_K.value *= 1.15;
    expanding.glass.liquid_expansion_per_K.value *= 1.15;
    const double usual_h = tail_h(usual);
    CHECK(tail_h(stiffer) >= (1.0 - search_tol) * usual_h);
    CHECK(tail_h(expanding) > usual_h);
  }
}
