#include "schedule/firing_log.h"

#include <algorithm>
#include <utility>

#include <fmt/format.h>

namespace thickset {

void LogRemarks::add(LogFault fault, int line, std::string text) {
  const auto kind = static_cast<std::size_t>(fault);
  last_line_[kind] = line;
  if (++count_[kind] <= most_of_a_kind) kept_[kind].push_back({fault, line, std::move(text)});
}

std::vector<LogRemark> LogRemarks::take() {
  std::vector<LogRemark> all;
  for (std::size_t kind = 0; kind < kinds; ++kind) {
    for (LogRemark& remark : kept_[kind]) all.push_back(std::move(remark));
    if (count_[kind] > most_of_a_kind) {
      LogRemark& last = all.back();
      last.text += fmt::format(
          "; {} more such, the last at line {}", count_[kind] - most_of_a_kind, last_line_[kind]);
    }
    kept_[kind].clear();
    count_[kind] = 0;
  }
  return all;
}

}  // namespace thickset
