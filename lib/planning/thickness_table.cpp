#include "planning/thickness_table.h"

#include <algorithm>

#include <fmt/format.h>

#include "base/error.h"

namespace thickset {
namespace {

std::vector<std::string> reasons_against(const Tail& tail) {
  if (!tail.cannot.empty()) return tail.cannot;
  std::vector<std::string> reasons;
  if (tail.check.verdict != Verdict::within) {
    for (const Finding& finding : tail.check.findings) {
      if (finding.over || finding.kind == Finding::Kind::other_treatment) {
        reasons.push_back(finding.text);
      }
    }
    if (reasons.empty()) reasons.emplace_back("the tail found does not keep the limits");
  }
  if (!tail.check.opens) {
    reasons.emplace_back("within the time computed it does not get cool enough to open");
  }
  return reasons;
}

}  // namespace

std::vector<ThicknessRow> thickness_table(std::span<const Casting> castings,
                                          const Kiln& kiln,
                                          const Controller& controller,
                                          const TailRequest& request,
                                          std::optional<Degrees> degrees) {
  std::vector<ThicknessRow> rows;
  std::optional<Error> first_error;
  for (const Casting& casting : castings) {
    ThicknessRow row{.thickness = largest_ball(casting.shape), .found = std::nullopt};
    TailRequest of_row = request;
    const std::string where = fmt::format("row {} of {}: ", rows.size() + 1, castings.size());
    if (request.progress) {
      of_row.progress = [&](const std::string& what) { request.progress(where + what); };
    }
    try {
      row.found = plan_tail_in_settings(casting, kiln, controller, of_row, HeatUp{}, degrees);
      row.hours = hours_of(row.found->tail, casting);
      row.no_plan = reasons_against(row.found->tail);
    } catch (const Error& error) {
      if (!first_error) first_error = error;
      row.no_plan = {error.what()};
    }
    rows.push_back(std::move(row));
  }
  const bool any = std::any_of(
      rows.begin(), rows.end(), [](const ThicknessRow& row) { return row.found.has_value(); });
  if (!any && first_error) throw *first_error;
  return rows;
}

}  // namespace thickset
