#pragma once

#include <algorithm>
#include <ctime>
#include <vector>

namespace thickset::bench {

/// Processor time of this thread: what others do on the machine counts only where it slows ours.
inline double thread_time_s() {
  timespec now{};
  clock_gettime(CLOCK_THREAD_CPUTIME_ID, &now);
  return static_cast<double>(now.tv_sec) + 1e-9 * static_cast<double>(now.tv_nsec);
}

inline double median(std::vector<double> values) {
  const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
  std::nth_element(values.begin(), middle, values.end());
  return *middle;
}

/// Time of one call, as the mean over a batch.
template <typename Work>
double time_ms(const Work& work, int batch) {
  const double before_s = thread_time_s();
  for (int i = 0; i < batch; ++i) work();
  return 1e3 * (thread_time_s() - before_s) / batch;
}

template <typename Work>
double median_ms(const Work& work, int repeats) {
  work();  // warm
  std::vector<double> times_ms;
  for (int i = 0; i < repeats; ++i) times_ms.push_back(time_ms(work, 1));
  return median(std::move(times_ms));
}

struct Pair {
  double ours_ms, reference_ms;
};

/// Medians of two works that take turns, so that a slower spell of the machine meets both.
template <typename Ours, typename Reference>
Pair median_of_turns_ms(const Ours& ours, const Reference& reference, int turns, int batch) {
  ours();
  reference();
  std::vector<double> ours_ms;
  std::vector<double> reference_ms;
  for (int turn = 0; turn < turns; ++turn) {
    ours_ms.push_back(time_ms(ours, batch));
    reference_ms.push_back(time_ms(reference, 1));
  }
  return {median(std::move(ours_ms)), median(std::move(reference_ms))};
}

}  // namespace thickset::bench
