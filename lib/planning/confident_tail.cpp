#include "planning/confident_tail.h"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <utility>

#include <fmt/format.h>

#include "planning/tail_planner.h"

namespace thickset {
namespace {

constexpr int most_rounds = 6;
constexpr int enough_rounds = 3;             // then the first that is reached is taken
constexpr double near_enough_chance = 0.97;  // of a limit, at the wanted share: little to gain
constexpr double least_aim = 0.05;           // of a limit: below it no plan is looked for

/// The plan is fitted to the castings drawn, and others are drawn to tell how sure it is: it aims
/// at so many standard errors more than are wanted.
constexpr double errors_spare = 1.5;
double aimed_share(double wanted, std::uint64_t samples) {
  const auto n = static_cast<double>(samples);
  return std::min(wanted + errors_spare * std::sqrt(wanted * (1.0 - wanted) / n), 1.0 - 1.0 / n);
}

/// Next aim at a limit, as a share of it. Plans are in whole numbers, which move them a little: a
/// miss is aimed below by more each round, and what has slack is eased only once all are met.
double next_aim(double aim, double at, bool reached, int round) {
  const double below = 1.0 - 0.003 * round;
  if (reached || at > 1.0) return std::min(1.0, below * aim / at);
  return aim;
}

/// One tail and what the castings drawn make of it.
struct SampledTail {
  TailInSetting planned;
  ShareOfLimits at;  ///< the aimed share of castings, the worst of all in the kiln
  Limits aimed_at;

  double worst() const { return std::max(at.grade, at.tension); }
  bool reached() const { return worst() <= 1.0 && planned.tail.cannot.empty(); }
  Duration time() const { return planned.tail.check.program_time; }
};

Limits aimed_limits(const Limits& limits, const ShareOfLimits& share) {
  return with_tension_times(with_grade_times(limits, share.grade), share.tension);
}

bool is_better(const SampledTail& a, const SampledTail& b) {
  if (a.reached() != b.reached()) return a.reached();
  if (a.reached()) return a.time() < b.time();
  if (a.planned.tail.cannot.empty() != b.planned.tail.cannot.empty()) {
    return a.planned.tail.cannot.empty();
  }
  return a.worst() < b.worst();
}

/// The tail that is planned for tighter limits, checked against those of the request.
void check_against(const TailRequest& request,
                   std::span<const Casting> castings,
                   const Kiln& kiln,
                   std::optional<Degrees> degrees,
                   TailInSetting& planned) {
  TailRequest as_keyed = request;
  as_keyed.shown = degrees.value_or(planned.set_to.degrees);
  if (planned.set_to.step_form != Controller::StepForm::ramp_and_hold_lines) {
    as_keyed.firing.first_step = 1 + planned.heat_up_steps;
  }
  TailPlanner{castings, kiln, planned.set_to, as_keyed}.check_as_keyed(planned.tail,
                                                                       request.limits);
}

}  // namespace

ConfidentTail plan_confident_tail(std::span<const Casting> castings,
                                  const Kiln& kiln,
                                  const Controller& controller,
                                  const TailRequest& request,
                                  const HeatUp& heat_up,
                                  std::optional<Degrees> degrees,
                                  const WantedConfidence& wanted,
                                  std::span<const std::string> titles) {
  const auto say = [&](const std::string& what) {
    if (request.progress) request.progress(what);
  };
  /// Castings of a range of numbers drawn around each in the kiln, under a tail.
  const auto sample_each = [&](const TailInSetting& planned, const SampleRange& range, auto use) {
    const Temperature start = start_of(planned.tail.fitted.program, request.firing);
    for (std::size_t i = 0; i < castings.size(); ++i) {
      const CheckResult& check = i == 0 ? planned.tail.check : planned.tail.others[i - 1];
      const KilnCourse course = course_of(check.measured, start);
      const CourseToSample what{.casting = castings[i],
                                .kiln = kiln,
                                .course = course,
                                .bulk = middle_treatment(check.treatments)};
      const Study study = study_of(what, request.limits, titles[i], wanted.samples);
      use(study,
          sample_course(what, study.inputs, range, {.threads = wanted.threads, .progress = {}}));
    }
  };
  const double share = aimed_share(wanted.chance, wanted.samples);
  const auto judge = [&](TailInSetting planned, const Limits& aimed_at) {
    ShareOfLimits worst{0.0, 0.0};
    sample_each(
        planned, {0, wanted.samples}, [&](const Study& study, const std::vector<Sample>& samples) {
          const ShareOfLimits at = at_confidence(study, samples, share);
          worst = {std::max(worst.grade, at.grade), std::max(worst.tension, at.tension)};
        });
    return SampledTail{std::move(planned), worst, aimed_at};
  };

  std::optional<SampledTail> best;
  ShareOfLimits tighter{1.0, 1.0};
  int round = 0;
  while (round < most_rounds) {
    ++round;
    TailRequest aimed = request;
    aimed.limits = aimed_limits(request.limits, tighter);
    TailInSetting planned =
        plan_tail_in_settings(castings, kiln, controller, aimed, heat_up, degrees);
    // What no controller can keep for tighter limits it may still keep for those that were asked.
    const bool too_tight = !planned.tail.cannot.empty();
    if (too_tight && best) break;
    check_against(request, castings, kiln, degrees, planned);
    say(fmt::format("drawing castings, round {}", round));
    SampledTail judged = judge(std::move(planned), aimed.limits);
    const ShareOfLimits at = judged.at;
    const bool reached = judged.reached();
    const bool nothing_to_gain = judged.worst() >= near_enough_chance || round >= enough_rounds ||
                                 (tighter.grade == 1.0 && tighter.tension == 1.0);
    if (!best || is_better(judged, *best)) best = std::move(judged);
    if (too_tight || (reached && nothing_to_gain)) break;
    tighter = {next_aim(tighter.grade, at.grade, reached, round),
               next_aim(tighter.tension, at.tension, reached, round)};
    if (std::min(tighter.grade, tighter.tension) < least_aim) break;
  }
  say("drawing other castings");
  bool reached = best->planned.tail.cannot.empty();
  std::optional<HowSure> least_sure;
  sample_each(best->planned,
              {wanted.samples, 2 * wanted.samples},
              [&](const Study& study, const std::vector<Sample>& samples) {
                HowSure sure = how_sure(study, samples);
                for (const Chance& chance : {sure.residual, sure.tension}) {
                  reached = reached && chance.share() >= wanted.chance;
                }
                if (!least_sure || sure.both.kept < least_sure->both.kept) {
                  least_sure = std::move(sure);
                }
              });
  return {.planned = std::move(best->planned),
          .sure = *std::move(least_sure),
          .aimed_at = std::move(best->aimed_at),
          .reached = reached,
          .rounds = round};
}

}  // namespace thickset
