#pragma once

#include <span>
#include <string>
#include <vector>

#include "planning/thickness_table.h"
#include "reporting/report.h"

/// Reports of a table of thicknesses. context.casting is the castings' first: of all that is
/// printed of it only glass, walls and the way its faces cool are said, which the castings share.
namespace thickset {

/// For a person: the span of hours, the table, what each column is, why rows have no plan, what it
/// rests on. UTF-8, at most 80 columns.
std::string table_text(const ReportContext& context, std::span<const ThicknessRow> rows);

/// One row a thickness, the unit of each column in its header; what it is for in comments.
std::string table_csv(const ReportContext& context, std::span<const ThicknessRow> rows);

/// "row_N_name_unit = value" lines; listed in notes/data_formats.md.
std::string table_keys(const ReportContext& context, std::span<const ThicknessRow> rows);

// What text and page share:
std::string table_to_do(const ReportContext& context, std::span<const ThicknessRow> rows);
/// "slabs, both faces cooled", "rods", "slabs; plaster-silica 25 mm on both faces".
std::string tabled_kind(const Casting& first, Lengths unit);
std::string table_made_for(const ReportContext& context);  ///< one line
std::string table_columns(const ReportContext& context);   ///< what each is: paragraphs
/// Why rows have no plan, by their thickness; empty where all have one.
std::string table_no_plan(const ReportContext& context, std::span<const ThicknessRow> rows);
/// Notes of the rows, each once, with the thicknesses that it is about.
std::vector<std::string> table_notes(const ReportContext& context,
                                     std::span<const ThicknessRow> rows);

/// The cells of a row that has a plan, as they are shown.
struct TableCells {
  std::string thickness, arrive, even_out, relax, set, run_out, total, days, tension, retardation;
};
TableCells table_cells(const ThicknessRow& row, const Display& display);

}  // namespace thickset
