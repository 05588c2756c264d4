#include "sampling/sample_course.h"

#include <algorithm>
#include <atomic>
#include <cassert>
#include <chrono>
#include <exception>
#include <mutex>
#include <thread>

#include "sampling/quasi_random.h"
#include "schedule/reduce_log.h"

namespace thickset {
namespace {

// Coarser than a check's: what that changes, up to 0.6 %, is little beside what is not known.
constexpr double sampling_tolerance_K = 0.05;
constexpr stress::RelaxationSettings sampling_relaxation{.tolerance_K = 2.0,
                                                         .longest_change_K = 8.0};
constexpr int sampling_nodes = 8;  ///< where cells are of fourth order

/// Slabs cooled alike from both faces, and what such slabs stand for.
bool cells_of_fourth_order(const Casting& casting) {
  if (casting.walls) return false;
  const Shape shape = casting.governing_shape();
  if (const auto* slab = std::get_if<Slab>(&shape)) return slab->faces == Faces::both;
  return !std::holds_alternative<Rod>(shape) && !std::holds_alternative<Ball>(shape);
}

constexpr auto between_reports = std::chrono::milliseconds{100};

constexpr double fewest_within_K = 0.2;
constexpr double most_within_K = 5.0;
constexpr std::size_t most_corners = 400;

/// Each stretch of one step without a jump by the fewest corners within the tolerance.
AirCurve within(const AirCurve& air, double tolerance_K) {
  AirCurve few;
  std::vector<double> time_s, T_K;
  const auto put_stretch = [&](int step) {
    if (time_s.empty()) return;
    const Polyline line = polyline_within(time_s, T_K, tolerance_K);
    for (const Polyline::Corner& corner : line.corners) {
      few.corners.push_back({corner.time_s, corner.T_K, step});
    }
    few.corners.back().T_K = T_K.back();
    time_s.clear();
    T_K.clear();
  };
  for (std::size_t i = 0; i < air.corners.size(); ++i) {
    const AirCurve::Corner& corner = air.corners[i];
    const bool goes_on = i > 0 && corner.step == air.corners[i - 1].step &&
                         corner.time_s > air.corners[i - 1].time_s;
    if (!goes_on && i > 0) put_stretch(air.corners[i - 1].step);
    time_s.push_back(corner.time_s);
    T_K.push_back(corner.T_K);
  }
  put_stretch(air.corners.back().step);
  return few;
}

/// The first that went wrong, by its number, whichever thread came to it.
class FirstFault {
 public:
  void take(std::uint64_t number, std::exception_ptr fault) {
    const std::lock_guard<std::mutex> lock{mutex_};
    if (fault_ && number_ <= number) return;
    number_ = number;
    fault_ = std::move(fault);
  }
  void throw_if_any() const {
    if (fault_) std::rethrow_exception(fault_);
  }

 private:
  std::mutex mutex_;
  std::uint64_t number_ = 0;
  std::exception_ptr fault_;
};

unsigned threads_for(unsigned wanted, std::uint64_t samples) {
  if (wanted == 0) wanted = std::max(1u, std::thread::hardware_concurrency());
  return static_cast<unsigned>(
      std::min<std::uint64_t>(wanted, std::max<std::uint64_t>(samples, 1)));
}

}  // namespace

SampleRange slice_of(std::uint64_t samples, std::uint64_t part, std::uint64_t parts) {
  assert(part >= 1 && part <= parts);
  // The first samples % parts of them have one more.
  const std::uint64_t each = samples / parts, more = samples % parts;
  const auto end_of = [&](std::uint64_t p) { return p * each + std::min(p, more); };
  return {end_of(part - 1), end_of(part)};
}

KilnCourse with_few_corners(KilnCourse course) {
  const AirCurve all = std::move(course.followed.air);
  double tolerance_K = fewest_within_K;
  do {
    course.followed.air = within(all, tolerance_K);
    tolerance_K *= 1.5;
  } while (course.followed.air.corners.size() > most_corners && tolerance_K <= most_within_K);
  return course;
}

KilnCourse course_of(const Measured& measured, Temperature start) {
  return with_few_corners({.followed = measured.followed,
                           .start = start,
                           .steps = measured.steps.size() - 1,
                           .hold = measured.hold,
                           .counts_from_s = measured.counts_from_s});
}

Sample sample_at(const CourseToSample& what,
                 std::span<const UncertainInput> inputs,
                 std::span<const double> off) {
  const DrawnFiring firing = drawn(what.casting, what.kiln, inputs, off);
  KilnCourse course = what.course;
  course.followed.air = firing.true_of(std::move(course.followed.air));
  course.start = firing.true_of(course.start);
  SimulationSettings settings{
      .tolerance_K = sampling_tolerance_K, .relaxation = sampling_relaxation, .bulk = what.bulk};
  if (cells_of_fourth_order(firing.casting)) settings.nodes = sampling_nodes;
  if (what.begins_cold) {
    settings.relaxation.start_fictive_K = firing.casting.glass.strain_point.value.in_K();
  }
  const Measured measured = measure(firing.casting, firing.kiln, course, settings);
  return {.number = 0,
          .residual_nm_per_cm = measured.permanent.retardation.in_nm_per_cm(),
          .tension_MPa = measured.peak_tension_Pa * 1e-6,
          .relaxes = !measured.hold || measured.hold->relaxes};
}

std::vector<Sample> sample_course(const CourseToSample& what,
                                  std::span<const UncertainInput> inputs,
                                  const SampleRange& range,
                                  const SamplingSettings& settings) {
  std::vector<Sample> samples(static_cast<std::size_t>(range.count()));
  const QuasiRandom sequence{inputs.size()};
  std::atomic<std::uint64_t> next{range.first};
  std::atomic<std::uint64_t> done{0};
  FirstFault fault;
  // Numbers are handed out one by one, so that no thread waits for a slower one; where a sample is
  // put hangs on its number alone.
  const auto work = [&](const std::function<void()>& after_each) {
    while (true) {
      const std::uint64_t number = next.fetch_add(1);
      if (number >= range.end) return;
      try {
        Sample& sample = samples[static_cast<std::size_t>(number - range.first)];
        sample = sample_at(what, inputs, sequence.point(number));
        sample.number = number;
      } catch (...) {
        fault.take(number, std::current_exception());
        next.store(range.end);
        return;
      }
      done.fetch_add(1);
      if (after_each) after_each();
    }
  };
  {
    std::vector<std::jthread> others;
    const unsigned threads = threads_for(settings.threads, range.count());
    for (unsigned i = 1; i < threads; ++i) others.emplace_back([&] { work({}); });
    auto reported = std::chrono::steady_clock::now();
    work([&] {
      const auto now = std::chrono::steady_clock::now();
      if (!settings.progress || now - reported < between_reports) return;
      reported = now;
      settings.progress(done.load());
    });
  }
  fault.throw_if_any();
  return samples;
}

Bulk middle_treatment(std::span<const CheckResult::OfTreatment> treatments) {
  assert(!treatments.empty());
  std::vector<CheckResult::OfTreatment> by_residual{treatments.begin(), treatments.end()};
  std::stable_sort(by_residual.begin(), by_residual.end(), [](const auto& a, const auto& b) {
    return a.retardation.in_nm_per_cm() < b.retardation.in_nm_per_cm();
  });
  return by_residual[by_residual.size() / 2].bulk;
}

}  // namespace thickset
