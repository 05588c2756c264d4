#pragma once

#include "reporting/report.h"
#include "sampling/how_sure.h"
#include "sampling/one_at_a_time.h"

#include <string>

/// How sure a result is, in words and numbers.
namespace thickset {

/// A few lines for any report: the chance, where nine of ten lie, what matters most. wanted: the
/// share that was asked for.
std::string how_sure_lines(const HowSure& sure, double wanted, const Display& display);

/// The same of a report that has one, after an empty line; else nothing.
std::string how_sure_paragraph(const ReportContext& context);

/// First lines of a tail that was planned for a confidence and does not reach it; else nothing.
std::string short_of_confidence(const ReportContext& context);

/// The whole of it: each limit's chance, bands, every input with its range, where that comes from
/// and what hangs on it, the one measurement worth making, what was not drawn.
std::string how_sure_text(const HowSure& sure, double wanted, const Display& display);

/// What each input changes alone, at either end of its range.
std::string one_at_a_time_section(const Study& study, std::span<const AtItsEnds> ends);

/// "name_unit = value" lines; listed in notes/data_formats.md. ranked: also the shares of each
/// input.
std::string how_sure_keys(const HowSure& sure, double wanted);
std::string how_sure_share_keys(const HowSure& sure);

/// how_sure_keys of a report that has one; else nothing.
std::string how_sure_keys(const ReportContext& context);

/// The inputs as a table, most important first.
std::string how_sure_csv(const HowSure& sure);

}  // namespace thickset
