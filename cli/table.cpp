#include "planning/thickness_table.h"

#include <algorithm>
#include <cstdio>
#include <optional>
#include <utility>

#include <fmt/format.h>

#include "base/text_file.h"
#include "commands.h"
#include "inputs.h"
#include "progress_line.h"
#include "reporting/hours_chart.h"
#include "reporting/page/table_page.h"
#include "reporting/table_report.h"

namespace thickset::cli {
namespace {

/// So many steps and so fine a rate that the controller hardly binds.
constexpr const char* usual_controller_of_tables = "twenty-steps-by-rate";

std::vector<Casting> castings_of(Options options) {
  const std::string shape = options.shape.value_or("slab");
  require("shape",
          shape == "slab" || shape == "rod" || shape == "ball",
          in_quotes(shape) + " does not go into this table",
          "its rows go by one measure: write slab, rod or ball");
  if (!options.glass) {
    throw Error{
        option("glass"), "it is missing", "name a glass; `thickset list glasses` shows them"};
  }
  std::vector<Casting> pieces;
  for (const Length row : options.rows) {
    options.thickness = fmt::format("{:.12g}mm", row.in_mm());
    pieces.push_back(load_casting(options));
  }
  return pieces;
}

}  // namespace

ExitStatus table(const Options& options) {
  const std::vector<Casting> pieces = castings_of(options);
  const Kiln kiln = load_kiln(options);
  Options with_controller = options;
  with_controller.controller = options.controller.value_or(usual_controller_of_tables);
  const Controller controller = load_controller(with_controller);
  std::optional<ProgressLine> line{std::in_place, stderr, is_terminal(stderr)};
  const std::vector<ThicknessRow> rows =
      thickness_table(pieces,
                      kiln,
                      controller,
                      {.limits = options.limits,
                       .firing = options.firing,
                       .hold_temperature = options.hold_at,
                       .hold_length = std::nullopt,
                       .progress = [&](const std::string& what) { line->say(what); }},
                      options.degrees);
  line.reset();

  const ReportContext context{
      .casting = pieces.front(),
      .kiln = kiln,
      .controller = controller,
      .firing = options.firing,
      .limits = options.limits,
      .display = {options.degrees.value_or(controller.degrees), options.lengths},
      .start = std::nullopt,
      .controller_assumed = !options.controller};
  const Pictures& pictures = options.pictures;
  if (pictures.page) write_text_file(*pictures.page, table_page(context, rows));
  if (pictures.chart) write_text_file(*pictures.chart, svg_file(hours_chart(context, rows)));
  switch (options.format) {
    case Format::text: deliver(options, table_text(context, rows)); break;
    case Format::csv: deliver(options, table_csv(context, rows)); break;
    case Format::keys: deliver(options, table_keys(context, rows)); break;
  }
  const bool all_planned =
      std::all_of(rows.begin(), rows.end(), [](const ThicknessRow& row) { return row.planned(); });
  return all_planned ? fine : over_a_limit;
}

}  // namespace thickset::cli
