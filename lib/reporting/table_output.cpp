#include <algorithm>
#include <array>

#include <fmt/format.h>

#include "reporting/table_report.h"

namespace thickset {
namespace {

constexpr std::array<const char*, 8> names = {"arrive_h",
                                              "even_out_h",
                                              "relax_h",
                                              "set_h",
                                              "run_out_h",
                                              "total_h",
                                              "tension_MPa",
                                              "retardation_nm_per_cm"};

/// The numbers of a row that has a plan, in the order of their names.
std::array<double, names.size()> numbers_of(const ThicknessRow& row) {
  const Measured& measured = row.found->tail.check.measured;
  const TailHours& parts = row.hours;
  return {in_h(parts.arriving),
          in_h(parts.evening),
          in_h(parts.relaxing),
          in_h(parts.setting),
          in_h(parts.running_out),
          in_h(parts.total()),
          measured.peak_tension_Pa * 1e-6,
          measured.permanent.retardation.in_nm_per_cm()};
}

/// A comment holds one line.
std::string on_one_line(std::string text) {
  std::replace(text.begin(), text.end(), '\n', ' ');
  return text;
}

}  // namespace

std::string table_csv(const ReportContext& context, std::span<const ThicknessRow> rows) {
  const Display& display = context.display;
  const Limits& limits = context.limits;
  std::string text = fmt::format("# hours against thickness. {}\n", table_made_for(context));
  text += fmt::format("# starts even at {}; limits {:g} nm/cm, {:g} MPa; has set at {}\n",
                      show(context.firing.from, display),
                      limits.grade.in_nm_per_cm(),
                      limits.tension.in_MPa(),
                      show(has_set_at(context.casting.glass), display));
  text += "# an estimate, not a guarantee\n";
  for (const ThicknessRow& row : rows) {
    for (const std::string& reason : row.no_plan) {
      text +=
          fmt::format("# no plan for {}: {}\n", show(row.thickness, display), on_one_line(reason));
    }
  }
  text += display.lengths == Lengths::inch ? "thickness_in" : "thickness_mm";
  for (const char* name : names) text += fmt::format(",{}", name);
  text += ",planned\n";
  for (const ThicknessRow& row : rows) {
    text += fmt::format("{:.6g}", in_lengths(row.thickness, display.lengths));
    if (row.planned()) {
      for (const double number : numbers_of(row)) text += fmt::format(",{:.6g}", number);
      text += ",yes\n";
    } else {
      text += std::string(names.size(), ',') + ",no\n";
    }
  }
  return text;
}

std::string table_keys(const ReportContext& context, std::span<const ThicknessRow> rows) {
  std::string text = fmt::format("rows = {}\n", rows.size());
  for (std::size_t i = 0; i < rows.size(); ++i) {
    const ThicknessRow& row = rows[i];
    const std::string name = fmt::format("row_{}", i + 1);
    text += fmt::format("{}_thickness_mm = {:.6g}\n", name, row.thickness.in_mm());
    text += fmt::format("{}_planned = {}\n", name, row.planned() ? "yes" : "no");
    if (!row.planned()) continue;
    const auto numbers = numbers_of(row);
    for (std::size_t n = 0; n < names.size(); ++n) {
      text += fmt::format("{}_{} = {:.6g}\n", name, names[n], numbers[n]);
    }
  }
  return text + fmt::format("has_set_C = {:.6g}\n", has_set_at(context.casting.glass).in_C()) +
         limit_keys(context.limits);
}

}  // namespace thickset
