#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "planning/plan_in_settings.h"
#include "planning/tail_hours.h"

namespace thickset {

/// One thickness of a table, planned as `tail` plans it.
struct ThicknessRow {
  Length thickness;                    ///< largest ball that fits
  std::optional<TailInSetting> found;  ///< also the nearest one, where there is no plan
  TailHours hours{};                   ///< of what was found
  std::vector<std::string> no_plan{};  ///< why there is none; empty where there is
  bool planned() const { return no_plan.empty(); }
};

/// A row for each casting, in their order. There is a plan where the tail can be keyed, is within
/// the limits under all treatments of the bulk asked for, and gets cool enough to open.
///
/// In: castings, at least one; the others as of plan_tail_in_settings.
/// Throws: Error, that of the first row, where not a single one can be simulated; that of one row
/// among others is its reason.
std::vector<ThicknessRow> thickness_table(std::span<const Casting> castings,
                                          const Kiln& kiln,
                                          const Controller& controller,
                                          const TailRequest& request,
                                          std::optional<Degrees> degrees);

}  // namespace thickset
