#pragma once

#include "schedule/program.h"

#include <string>
#include <string_view>

namespace thickset {

/// A program from text separated by commas, or by semicolons or tabs as its header is (then with
/// decimal commas too); the header is the notation:
///   target_C,rate_C_per_h,hold_min   or   target_F,rate_F_per_h,hold_min   (rate notation)
///   target_C,minutes                 or   target_F,minutes                 (time notation)
/// A first row of 0 minutes (time) or with an empty rate (rate notation) gives the start. "asap" in
/// the rate or minutes column is the kiln's own pace. A step column before the others is allowed
/// and ignored. Rates may carry a minus sign when the step cools; a sign against the target's
/// direction is refused.
///
/// Throws: Error with every bad row: unknown header (with the nearest form), mixed degrees
/// (target_C with rate_F_per_h), a bare or absurd temperature (below -20 C or above 1400 C), a rate
/// of 0, a rate below 0.001 or above 9999 C/h, negative or non-finite times ("times run
/// backwards"), times over 1000 days, an empty target, more than 1000 rows, a start row that is not
/// first.
Program parse_program(std::string_view text, const std::string& source_name);

/// parse_program of a file's text.
Program read_program(const std::string& path);

/// The program as text that parse_program reads back to the same program; numbers are written with
/// as many digits as they need. `comments` become "# ..." lines at the top, a step's own comment
/// one before its row.
///
/// In:    paces and holds that the program's notation can write, as parse_program, in_notation and
///        fit_to_controller give them; asserted.
/// Error: a number no text in its unit gives exactly (a computed one, not one that was read) comes
///        back within two roundings of a double.
std::string write_program(const Program& program, const std::vector<std::string>& comments = {});

/// The same curve in another notation and unit, nothing rounded: a hold becomes a row of its own in
/// time notation and joins the step before it in rate notation; rates and times turn into each
/// other.
///
/// In: start, the temperature the program begins at when it has no start row.
Program in_notation(const Program& program, Notation notation, Degrees degrees, Temperature start);

}  // namespace thickset
