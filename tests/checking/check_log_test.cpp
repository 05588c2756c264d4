#include "checking/check_log.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>
#include <string>
#include <vector>

#include <doctest/doctest.h>
#include <fmt/format.h>

#include "checking/example_casting.h"
#include "schedule/read_log.h"

using namespace thickset;

namespace {

constexpr auto waits = Controller::LateOnCooling::waits;

Step ramp(double to_C, double rate_K_per_h) {
  return {.target = Temperature::from_C(to_C), .pace = Rate::from_K_per_h(rate_K_per_h)};
}
Step asap(double to_C, Duration hold) {
  return {.target = Temperature::from_C(to_C), .pace = AsFastAsPossible{}, .hold = hold};
}
Program program_of(std::vector<Step> steps, std::optional<Temperature> start = std::nullopt) {
  return {.start = start, .steps = std::move(steps)};
}
/// Of one 50 mm slab, annealed at 513 C: within the usual limits, and not.
Program gentle() {
  return program_of(
      {asap(513.0, hours(3.0)), ramp(360.0, 7.0), ramp(300.0, 13.0), ramp(35.0, 28.0)});
}
Program hurried() {
  return program_of({asap(513.0, hours(2.0)), ramp(370.0, 15.0), ramp(35.0, 40.0)});
}

/// What a logger writes of a curve, to thousandths of a degree.
FiringLog log_of(const AirCurve& air, double interval_s, double until_s = 1e30) {
  std::string text = "seconds,air_C\n";
  const double end_s = std::min(air.end_s(), until_s);
  for (double time_s = 0.0;; time_s = std::min(time_s + interval_s, end_s)) {
    fmt::format_to(std::back_inserter(text),
                   "{:.3f},{:.3f}\n",
                   time_s,
                   Temperature::from_K(air.at_K(time_s)).in_C());
    if (time_s >= end_s) break;
  }
  return parse_log(text, "log.csv");
}

AirCurve run(const Program& program) {
  return follow(program, example::kiln(), waits, program.start.value_or(Firing{}.from)).air;
}

LogCheck checked(const FiringLog& log,
                 const Casting& casting,
                 const std::optional<Program>& plan = std::nullopt,
                 bool with_remedies = false) {
  return check_log(casting,
                   example::kiln(),
                   waits,
                   log,
                   plan,
                   {},
                   {},
                   with_remedies,
                   Degrees::celsius,
                   all_bulks);
}

double left(const CheckResult& result) {
  return result.measured.permanent.retardation.in_nm_per_cm();
}
double pulls_MPa(const CheckResult& result) {
  return result.measured.peak_tension_Pa * 1e-6;
}
bool has(const CheckResult& result, Finding::Kind kind) {
  return std::any_of(result.findings.begin(), result.findings.end(), [&](const Finding& finding) {
    return finding.kind == kind;
  });
}

// A line within 0.1 K of the readings is simulated with other time steps than the program.
constexpr double minutely_rel_tol = 0.01;
// Between hourly readings a corner of the program is cut by up to an hour of the change of slope:
// the slab, of a slowest time constant of some 10 min, follows that.
constexpr double hourly_rel_tol = 0.06;

}  // namespace

TEST_CASE("a log of what a program does gets the program's verdict and numbers, hourly as well") {
  const Casting casting = example::slab_of_mm(50.0);
  for (const Program& program : {gentle(), hurried()}) {
    const CheckResult planned = check(casting, example::kiln(), waits, program, {}, {}, false);
    for (const double interval_s : {60.0, 3600.0}) {
      const double rel_tol = interval_s < 100.0 ? minutely_rel_tol : hourly_rel_tol;
      CAPTURE(interval_s);
      const LogCheck check = checked(log_of(run(program), interval_s), casting);
      CHECK(check.result.verdict == planned.verdict);
      CAPTURE(left(check.result) / left(planned));
      CAPTURE(pulls_MPa(check.result) / pulls_MPa(planned));
      CHECK(std::abs(left(check.result) / left(planned) - 1.0) < rel_tol);
      CHECK(std::abs(pulls_MPa(check.result) / pulls_MPa(planned) - 1.0) < rel_tol);
      CHECK(!check.ends_warm);
      REQUIRE(check.run.course.hold);
      CHECK(std::abs(check.run.course.hold->temperature.in_C() - 513.0) < 2.0);
    }
  }
}

TEST_CASE("a log that ends warm: the kiln is taken to fall by itself, and nothing is read early") {
  const Casting casting = example::slab_of_mm(50.0);
  const AirCurve air = run(gentle());
  // Until 15 h after the start the kiln is in its first stage, near 430 C.
  const LogCheck cut = checked(log_of(air, 60.0, 15.0 * 3600.0), casting);
  CHECK(cut.ends_warm);
  CHECK(has(cut.result, Finding::Kind::log_ends_warm));
  CHECK(cut.centre_at_end_K > cut.run.last.in_K());
  const History::Row& end = cut.result.measured.history.rows.back();
  CHECK(std::abs(end.centre_K - end.surface_K) < 0.05);
  CHECK(end.centre_K < Temperature::from_C(27.0).in_K());
  // The kiln's own fall from there is far quicker than the plan.
  CHECK(cut.result.verdict == Verdict::over);
  CHECK(left(cut.result) > 2.0 * left(checked(log_of(air, 60.0), casting).result));

  const LogCheck whole = checked(log_of(air, 60.0), casting);
  CHECK(!whole.ends_warm);
  CHECK(!has(whole.result, Finding::Kind::log_ends_warm));
}

TEST_CASE("a log that begins below the strain point is never within: what was set is not in it") {
  const Casting casting = example::slab_of_mm(50.0);
  const Program late_start =
      program_of({ramp(300.0, 13.0), ramp(35.0, 28.0)}, Temperature::from_C(420.0));
  const LogCheck late = checked(log_of(run(late_start), 300.0), casting);
  CHECK(late.begins_late);
  CHECK(late.result.verdict == Verdict::too_close_to_call);
  CHECK(!checked(log_of(run(gentle()), 300.0), casting).begins_late);
}

TEST_CASE("a log whose header names the wrong degrees is asked about, a right one is not") {
  const Casting casting = example::slab_of_mm(50.0);
  FiringLog log = log_of(run(gentle()), 300.0);
  CHECK(!has(checked(log, casting).result, Finding::Kind::notation_slip));
  log.degrees = Degrees::fahrenheit;  // its numbers were C
  for (double& T_K : log.T_K) {
    T_K = Temperature::from_F(Temperature::from_K(T_K).in_C()).in_K();
  }
  CHECK(has(checked(log, casting).result, Finding::Kind::notation_slip));
}

TEST_CASE(
    "a log that goes up and down all the time: over, and what would have passed is not looked "
    "for") {
  const AirCurve calm = run(hurried());
  AirCurve restless;
  constexpr double period_s = 160.0;
  for (double time_s = 0.0; time_s < calm.end_s(); time_s += 20.0) {
    const double swing_K = 12.0 * std::sin(2.0 * std::numbers::pi * time_s / period_s);
    restless.corners.push_back({time_s, calm.at_K(time_s) + swing_K, 0});
  }
  const auto gives_up = [](const LogCheck& check) {
    return std::any_of(
        check.result.findings.begin(), check.result.findings.end(), [](const Finding& finding) {
          return finding.text.find("go up and down too much") != std::string::npos;
        });
  };
  const Casting casting = example::slab_of_mm(50.0);
  CHECK(gives_up(checked(log_of(restless, 20.0), casting, std::nullopt, true)));
  CHECK_FALSE(gives_up(checked(log_of(calm, 60.0), casting, std::nullopt, true)));
}

TEST_CASE("a log of a heat-up: the centre is in tension, unless the glass melted on its way") {
  const Casting casting = example::slab_of_mm(80.0);
  const auto heated = [&](double rate_K_per_h, double top_C) {
    return program_of({ramp(top_C, rate_K_per_h),
                       {.target = Temperature::from_C(top_C), .pace = hours(6.0)},
                       ramp(300.0, 1.0),
                       ramp(30.0, 5.0)},
                      Temperature::from_C(20.0));
  };
  const LogCheck fast = checked(log_of(run(heated(150.0, 520.0)), 300.0), casting);
  CHECK(fast.run.begins_cold);
  CHECK(!fast.run.melted);
  REQUIRE(has(fast.result, Finding::Kind::tension));
  CHECK(fast.result.steps.front().tension_Pa > 3e6);
  // On heating the surface is compressed: what pulls is inside.
  const History::Row& peak = *std::max_element(
      fast.result.measured.history.rows.begin(),
      fast.result.measured.history.rows.end(),
      [](const History::Row& a, const History::Row& b) { return a.tension_Pa < b.tension_Pa; });
  CHECK(peak.centre_Pa > 0.0);
  CHECK(peak.surface_Pa < 0.0);

  const LogCheck slow = checked(log_of(run(heated(15.0, 520.0)), 300.0), casting);
  CHECK(!has(slow.result, Finding::Kind::tension));
  // The hold near the annealing point makes both forget how they were heated.
  CHECK(left(slow.result) == doctest::Approx(left(fast.result)).epsilon(0.02));

  const LogCheck melted = checked(log_of(run(heated(150.0, 820.0)), 300.0), casting);
  CHECK(melted.run.melted);
  CHECK(melted.run.course.counts_from_s > 5.0 * 3600.0);
  CHECK(melted.result.steps.front().tension_Pa < 3e6);
}

TEST_CASE("glass that begins cold: its structure is that of annealed glass, not of the room") {
  const Casting casting = example::slab_of_mm(25.0);
  const Program program = program_of({ramp(520.0, 100.0),
                                      {.target = Temperature::from_C(520.0), .pace = hours(2.0)},
                                      ramp(30.0, 20.0)},
                                     Temperature::from_C(20.0));
  const LogCheck check = checked(log_of(run(program), 120.0), casting);
  const std::vector<History::Row>& rows = check.result.measured.history.rows;
  CHECK(rows.front().centre_fictive_K == casting.glass.strain_point.value.in_K());
  // Two hours at the annealing point are enough for equilibrium: the room's would never relax.
  const History::Row& held = check.result.measured.history.at(7.0 * 3600.0);
  CHECK(std::abs(held.centre_fictive_K - held.centre_K) < 2.0);
}

TEST_CASE("what would have passed passes when it is tried, and a little faster does not") {
  const Casting casting = example::slab_of_mm(50.0);
  const FiringLog log = log_of(run(hurried()), 60.0);
  const LogCheck check = checked(log, casting, std::nullopt, true);
  REQUIRE(check.result.verdict == Verdict::over);
  const auto found = std::find_if(
      check.result.findings.begin(), check.result.findings.end(), [](const Finding& finding) {
        return finding.kind == Finding::Kind::retardation;
      });
  REQUIRE(found != check.result.findings.end());
  REQUIRE(found->passing_rate);
  const Polyline line = reduced(log);
  const auto worst_left = [&](double factor) {
    const LogCourse slower =
        with_rate(line,
                  check.run,
                  static_cast<std::size_t>(found->step),
                  Rate::from_K_per_s(factor * found->passing_rate->in_K_per_s()),
                  casting,
                  example::kiln(),
                  {});
    double worst = 0.0;
    for (const Bulk bulk : all_bulks) {
      worst = std::max(
          worst,
          measure_log(casting, example::kiln(), slower, bulk).permanent.retardation.in_nm_per_cm());
    }
    return worst;
  };
  const double limit = Limits{}.grade.in_nm_per_cm();
  // The search goes to 1 %, on a line within 1 K of the log.
  CHECK(worst_left(0.97) <= limit);
  CHECK(worst_left(1.06) > limit);
}

TEST_CASE("with_rate: at its own rate nothing changes, at half of it all after comes later") {
  const Casting casting = example::slab_of_mm(50.0);
  const FiringLog log = log_of(run(gentle()), 60.0);
  const Polyline line = reduced(log);
  const LogCourse course = course_of(line, casting, example::kiln(), {});
  const LogStretch& stretch = course.stretches[2];
  const LogCourse same = with_rate(line, course, 2, stretch.rate, casting, example::kiln(), {});
  CHECK(same.end_s == doctest::Approx(course.end_s));
  CHECK(same.course.followed.air.corners.size() == course.course.followed.air.corners.size());
  const LogCourse slower = with_rate(line,
                                     course,
                                     2,
                                     Rate::from_K_per_s(0.5 * stretch.rate.in_K_per_s()),
                                     casting,
                                     example::kiln(),
                                     {});
  CHECK(slower.end_s - course.end_s == doctest::Approx(stretch.end_s - stretch.start_s));
  REQUIRE(slower.stretches.size() == course.stretches.size());
  CHECK(slower.stretches[2].rate.in_K_per_s() == doctest::Approx(0.5 * stretch.rate.in_K_per_s()));
  CHECK(slower.stretches[3].rate.in_K_per_s() ==
        doctest::Approx(course.stretches[3].rate.in_K_per_s()));
}

TEST_CASE("coarser: a line of fewer corners within what was asked, stretches where they were") {
  const Casting casting = example::slab_of_mm(50.0);
  const FiringLog log = log_of(run(gentle()), 60.0);
  const Polyline line = reduced(log);
  const LogCourse course = course_of(line, casting, example::kiln(), {});
  const Polyline coarse = coarser(line, course, 1.0);
  CHECK(coarse.corners.size() < line.corners.size());
  for (const auto& corner : line.corners) {
    CHECK(std::abs(coarse.at_K(corner.time_s) - corner.T_K) <= 2.0 + 1e-9);
  }
  for (const LogStretch& stretch : course.stretches) {
    CHECK(std::any_of(coarse.corners.begin(), coarse.corners.end(), [&](const auto& corner) {
      return corner.time_s == stretch.end_s && corner.T_K == stretch.to.in_K();
    }));
  }
}

TEST_CASE("against its plan: the log of the plan agrees, whenever its fall began") {
  const Casting casting = example::slab_of_mm(50.0);
  Program held_longer = gentle();
  held_longer.steps[0].hold = hours(4.0);
  for (const Program& program : {gentle(), held_longer}) {
    const LogCheck check = checked(log_of(run(program), 60.0), casting, gentle());
    REQUIRE(check.plan);
    const double later_h = program.steps[0].hold.count() > 3.5 * 3600.0 ? 1.0 : 0.0;
    // The end of a level stretch is found to where 4 K of a fall at 7 K/h are gone.
    constexpr double found_within_h = 0.6;
    CHECK(std::abs(check.plan->later_s / 3600.0 - later_h) < found_within_h);
    CHECK(check.plan->above_K < 7.0 * found_within_h + 28.0 * found_within_h);
    CHECK(check.plan->below_K < 7.0 * found_within_h + 28.0 * found_within_h);
    for (std::size_t i = 0; i < check.run.stretches.size(); ++i) {
      const LogStretch& stretch = check.run.stretches[i];
      const std::optional<Rate>& rate = check.plan->rates[i];
      if (!rate || stretch.from.in_C() > 500.0) continue;
      CAPTURE(stretch.from.in_C());
      CHECK(rate->in_K_per_h() == doctest::Approx(stretch.rate.in_K_per_h()).epsilon(0.05));
    }
    CHECK(left(check.plan->planned) == doctest::Approx(left(check.result)).epsilon(0.03));
  }
  // Another course does not agree.
  const LogCheck other = checked(log_of(run(hurried()), 60.0), casting, gentle());
  CHECK(other.plan->below_K > 50.0);
}

TEST_CASE("a hold in a log: found through the ripple of its control, not in a slow fall") {
  const Casting casting = example::slab_of_mm(50.0);
  const auto course = [&](double ripple_K, double hold_h) {
    std::string text = "minutes,air_C\n";
    for (int i = 0; i <= 1500; ++i) {
      const double h = i / 30.0;
      const double fall_C = std::min(800.0 - 100.0 * h, 513.0);
      const double base_C = h < 2.87 + hold_h ? std::max(fall_C, 800.0 - 100.0 * h)
                                              : 513.0 - 4.0 * (h - 2.87 - hold_h);
      fmt::format_to(
          std::back_inserter(text),
          "{},{:.2f}\n",
          2 * i,
          std::max(base_C, h < 2.87 + hold_h ? 513.0 : 0.0) + ripple_K * std::sin(0.9 * i));
    }
    return course_of(reduced(parse_log(text, "log.csv")), casting, example::kiln(), {});
  };
  for (const double ripple_K : {0.0, 1.0}) {
    CAPTURE(ripple_K);
    const LogCourse held = course(ripple_K, 5.0);
    REQUIRE(held.course.hold);
    CHECK(std::abs(held.course.hold->temperature.in_C() - 513.0) < 2.0);
    CHECK((held.course.hold->end_s - held.course.hold->start_s) / 3600.0 ==
          doctest::Approx(5.0).epsilon(0.25));
  }
}
