#pragma once

#include "checking/example_casting.h"
#include "checking/measure.h"
#include "sampling/sample_course.h"

#include <optional>

namespace thickset::example {

/// A casting that a kiln has cooled by a program, for tests that sample it.
struct CooledCasting {
  Casting casting = slab_of_mm(50.0);
  Kiln kiln = example::kiln();
  Program program{
      .start = std::nullopt,
      .steps = {
          {.target = Temperature::from_C(513.0), .pace = AsFastAsPossible{}, .hold = hours(3.0)},
          {.target = Temperature::from_C(360.0),
           .pace = Rate::from_K_per_h(9.0),
           .hold = seconds(0.0)},
          {.target = Temperature::from_C(35.0),
           .pace = Rate::from_K_per_h(28.0),
           .hold = seconds(0.0)}}};
  KilnCourse course =
      course_of(measure(casting, kiln, Controller::LateOnCooling::goes_on, program, {}),
                start_of(program, {}));

  CourseToSample to_sample() const {
    return {.casting = casting, .kiln = kiln, .course = course, .bulk = Bulk::relaxing};
  }
};

}  // namespace thickset::example
