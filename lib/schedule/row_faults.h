#pragma once

#include "base/error.h"
#include "base/problems.h"

#include <cstddef>
#include <string>
#include <vector>

#include <fmt/format.h>

namespace thickset {

/// What is wrong with the rows of one file. A fault of a few rows is said of each; one that goes
/// through the file, such as a clock written 18.01 throughout, once with its count.
class RowFaults {
 public:
  /// Faults of one `mend` are of one kind.
  void add(const Place& where, const std::string& what, const std::string& mend) {
    for (Kind& kind : kinds_) {
      if (kind.mend != mend) continue;
      ++kind.count;
      kind.last_line = where.line;
      if (kind.rows.size() < most_said_) kind.rows.push_back({where, what});
      return;
    }
    kinds_.push_back({mend, 1, where.line, {{where, what}}});
  }

  void add_to(Problems& problems) const {
    for (const Kind& kind : kinds_) {
      if (kind.count <= most_said_) {
        for (const Row& row : kind.rows) problems.add(row.where, row.what, kind.mend);
        continue;
      }
      const Row& first = kind.rows.front();
      problems.add(first.where,
                   fmt::format("{}, and {} more rows alike, the last at line {}",
                               first.what,
                               kind.count - 1,
                               kind.last_line),
                   kind.mend);
    }
  }

 private:
  static constexpr std::size_t most_said_ = 3;
  struct Row {
    Place where;
    std::string what;
  };
  struct Kind {
    std::string mend;
    std::size_t count;
    int last_line;
    std::vector<Row> rows;
  };
  std::vector<Kind> kinds_;
};

}  // namespace thickset
