#pragma once

#include "checking/checked_program.h"

#include <utility>
#include <vector>

/// Numbers that were likely keyed wrong: read another way, an absurd program becomes one that is
/// near what the casting needs. Suggestions, one a number, in the program's own degrees.
namespace thickset {

struct KeyingSlip {
  Finding finding;
  /// Notes of the check that say less of the same number: their kind and step.
  std::vector<std::pair<Finding::Kind, int>> instead_of{};
};

/// Every slip of a program that was checked.
///
/// A slip is asked about, never corrected: the check's verdict is of what was keyed. Programs that
/// the planner makes have none (tests/checking/slips_test.cpp).
std::vector<KeyingSlip> keying_slips(const CheckedProgram& checked);

/// Puts them among a check's findings, in place of the notes they are instead of.
void add_slips(std::vector<KeyingSlip> slips, CheckResult& result);

/// Whether a report says it beside what was keyed, not among its notes.
inline bool is_about_keying(const Finding& finding) {
  return finding.kind == Finding::Kind::notation_slip ||
         finding.kind == Finding::Kind::stage_ends_early;
}

}  // namespace thickset
