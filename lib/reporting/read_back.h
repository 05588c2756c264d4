#pragma once

#include "reporting/report.h"

#include <string>

namespace thickset {

/// The program in words, as keyed: "Keyed, from 800 °C: as fast as the kiln goes down to 513 °C,
/// hold 3 h at 513 °C, 7 °C/h down to 360 °C (21 h 51 min), ...; 37 h 26 min in all beside the
/// kiln's own pace; as this kiln runs it 42 h 11 min; ends Mon 2026-11-30 14:20."
///
/// Rates with the digits they were keyed with, in the degrees to be shown. The finish only where
/// the start is known. Long programs: their first steps and the last.
std::string read_back(const ReportContext& context,
                      const Program& program,
                      const CheckResult& result);

/// "program_as_keyed_min" and "program_as_keyed_own_pace_steps" lines.
std::string read_back_keys(const ReportContext& context, const Program& program);

/// What looks like a slip, each with what to key instead; empty where nothing does.
std::string slips_section(const CheckResult& result);

/// "slips", and "slip_N_step" and "slip_N" of each.
std::string slip_keys(const ReportContext& context, const CheckResult& result);

}  // namespace thickset
