#pragma once

#include <span>
#include <string>

#include "planning/thickness_table.h"
#include "reporting/report.h"

namespace thickset {

/// The table of thicknesses on a page of its own, made as a firing's page is: no network, no
/// script. context: as of table_text.
std::string table_page(const ReportContext& context, std::span<const ThicknessRow> rows);

}  // namespace thickset
