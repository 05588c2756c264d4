#include <algorithm>
#include <atomic>
#include <future>
#include <string>
#include <thread>
#include <vector>

#include <doctest/doctest.h>
#include <fmt/format.h>

#include "checking/random_casting.h"
#include "planning/one_unit_faster.h"
#include "planning/tail.h"
#include "schedule/read_controller.h"
#include "slow_build.h"

using namespace thickset;

namespace {

/// How many castings are planned for: each takes a second or two, with sanitizers several.
constexpr int usual_samples = 24;

struct Sample {
  Casting casting;
  Kiln kiln;
  Controller box;
  TailRequest request;

  std::string described() const {
    return fmt::format("{}, {}, {:.6g} nm/cm, {:.6g} MPa",
                       example::described(casting, kiln),
                       box.title,
                       request.limits.grade.in_nm_per_cm(),
                       request.limits.tension.in_MPa());
  }
};

std::vector<Sample> sample_of(int size) {
  example::Chance chance{2026};
  std::vector<Sample> all;
  for (int i = 0; i < size; ++i) {
    Sample one{.casting = example::some_casting(chance),
               .kiln = example::some_kiln(chance),
               .box = read_controller(example::data_path(
                   "controllers/" + chance.of(example::controllers) + ".controller")),
               .request = {}};
    one.request.limits.grade = Retardation::from_nm_per_cm(chance.between(5.0, 40.0));
    one.request.limits.tension = Stress::from_MPa(chance.between(1.0, 4.0));
    all.push_back(std::move(one));
  }
  return all;
}

struct Found {
  int planned = 0;
  int binding = 0;
  int rests = 0;
  std::vector<std::string> faults;
};

void plan(const Sample& sample, Found& found) {
  const auto fault = [&](const std::string& what) {
    found.faults.push_back(what + ": " + sample.described());
  };
  const Tail tail = plan_tail(sample.casting, sample.kiln, sample.box, sample.request);
  if ((tail.check.verdict == Verdict::within) != tail.cannot.empty()) fault("its own check");
  if (!tail.cannot.empty()) return;
  ++found.planned;
  if (tail.steps_used > sample.box.steps || !tail.fitted.cannot.empty()) fault("cannot be keyed");
  for (std::size_t stage = 0; stage < tail.stages.size(); ++stage) {
    const auto passes = [&](const Program& program) {
      const CheckResult result = check(sample.casting,
                                       sample.kiln,
                                       sample.box.late_on_cooling,
                                       program,
                                       {},
                                       sample.request.limits,
                                       false);
      return result.verdict == Verdict::within;
    };
    const Stage& at = tail.stages[stage];
    if (at.limiting == Limiting::nothing) fault("a stage that nothing limits");
    if (at.binding()) {
      ++found.binding;
      if (passes(one_unit_faster(tail, stage, sample.box, {}))) {
        fault(fmt::format("stage {} faster passes", stage + 1));
      }
    }
    if (in_s(at.rest) == 0.0) continue;
    ++found.rests;
    if (!is_limit(at.limiting_rest) || passes(rest_one_unit_shorter(tail, stage, sample.box))) {
      fault(fmt::format("rest after stage {} shorter passes", stage + 1));
    }
  }
}

}  // namespace

TEST_CASE("sample: every plan passes its own check, and one unit faster fails where it says so" *
          doctest::skip(slow_build)) {
  const int samples = example::samples(usual_samples);
  const std::vector<Sample> all = sample_of(samples);
  std::atomic<std::size_t> next{0};
  const auto work = [&] {
    Found found;
    for (std::size_t i = next++; i < all.size(); i = next++) plan(all[i], found);
    return found;
  };
  std::vector<std::future<Found>> workers;
  for (unsigned i = 0; i < std::max(1u, std::thread::hardware_concurrency()); ++i) {
    workers.push_back(std::async(std::launch::async, work));
  }
  int planned = 0;
  int binding = 0;
  int rests = 0;
  for (std::future<Found>& worker : workers) {
    const Found found = worker.get();
    planned += found.planned;
    binding += found.binding;
    rests += found.rests;
    for (const std::string& fault : found.faults) FAIL_CHECK(fault);
  }
  // One degree an hour is too quick for the thickest; most must come out.
  CHECK(planned > samples / 2);
  CHECK(binding > planned);
  MESSAGE(planned,
          " of ",
          samples,
          " could be planned, ",
          binding,
          " stages bound by a limit, ",
          rests,
          " rests");
}
