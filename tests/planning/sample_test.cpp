#include <algorithm>
#include <atomic>
#include <cmath>
#include <cstdint>
#include <cstdlib>
#include <future>
#include <string>
#include <thread>
#include <vector>

#include <doctest/doctest.h>
#include <fmt/format.h>

#include "checking/example_casting.h"
#include "planning/one_unit_faster.h"
#include "planning/tail.h"
#include "schedule/read_controller.h"
#include "slow_build.h"

using namespace thickset;

namespace {

/// A linear congruential generator: the same sample on every machine.
class Chance {
 public:
  explicit Chance(std::uint32_t seed) : state_{seed} {}

  double share() {
    state_ = state_ * 1664525u + 1013904223u;
    return static_cast<double>(state_ >> 8) / 16777216.0;
  }
  double between(double low, double high) { return low * std::pow(high / low, share()); }
  template <class T>
  const T& of(const std::vector<T>& choices) {
    return choices[static_cast<std::size_t>(share() * static_cast<double>(choices.size()))];
  }

 private:
  std::uint32_t state_;
};

Shape some_shape(Chance& chance) {
  const auto mm = [&](double low, double high) {
    return Length::from_mm(std::round(chance.between(low, high)));
  };
  const double a_mm = std::round(chance.between(15.0, 160.0));
  const auto side = [&](double most) { return Length::from_mm(a_mm * chance.between(1.0, most)); };
  switch (static_cast<int>(7.0 * chance.share())) {
    case 0: return Rod{mm(15.0, 160.0)};
    case 1: return Ball{mm(20.0, 200.0)};
    case 2: return Block{Length::from_mm(a_mm), side(2.0), side(4.0)};
    case 3: return Disc{side(8.0), Length::from_mm(a_mm)};
    case 4: return Bar{Length::from_mm(a_mm), side(2.5)};
    case 5: return Prism{mm(20.0, 200.0)};
    default: return Slab{mm(12.0, 200.0)};
  }
}

const std::vector<std::string> glasses = {"casting-soda-lime-9.0",
                                          "casting-soda-lime-9.6",
                                          "lead-crystal-24",
                                          "lead-crystal-30",
                                          "barium-zinc-crystal",
                                          "borosilicate-crown-517642",
                                          "reference-516-480",
                                          "soda-lime-container"};
/// How many castings are planned for: each takes a second or two, with sanitizers several. More by
/// the environment: THICKSET_SAMPLES=500.
int how_many() {
  constexpr int usual = slow_build ? 8 : 40;
  const char* const wanted = std::getenv("THICKSET_SAMPLES");
  return wanted == nullptr ? usual : std::max(usual, std::atoi(wanted));
}

struct Sample {
  Casting casting;
  Kiln kiln;
  Controller box;
  TailRequest request;

  std::string described() const {
    return fmt::format("{}, {}, {}, {}, {:.6g} nm/cm, {:.6g} MPa",
                       describe(casting.shape, Lengths::millimetre),
                       casting.glass.title,
                       kiln.title,
                       box.title,
                       request.limits.grade.in_nm_per_cm(),
                       request.limits.tension.in_MPa());
  }
};

std::vector<Sample> sample_of(int size) {
  Chance chance{2026};
  std::vector<Sample> all;
  for (int i = 0; i < size; ++i) {
    const std::string glass = chance.of(glasses);
    Sample one{.casting = example::of_shape(some_shape(chance), glass),
               .kiln = example::kiln(chance.share() < 0.5 ? "small-fibre" : "middling-brick"),
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

TEST_CASE("sample: every plan passes its own check, and one unit faster fails where it says so") {
  const int samples = how_many();
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
