#include "checking/slips.h"

#include <algorithm>
#include <iterator>

#include "checking/early_stage_end.h"
#include "checking/end_of_program.h"
#include "checking/slips_of_degrees.h"
#include "checking/slips_of_holds.h"
#include "checking/slips_of_ramps.h"
#include "checking/slips_of_zero.h"

namespace thickset {
namespace {

/// Of a hold's length: what the check says of the same hold.
KeyingSlip of_hold(Finding finding) {
  const int step = finding.step;
  return {
      .finding = std::move(finding),
      .instead_of = {{Finding::Kind::hold_too_short, step}, {Finding::Kind::hold_too_short, -1}}};
}

}  // namespace

std::vector<KeyingSlip> keying_slips(const CheckedProgram& checked) {
  std::vector<KeyingSlip> slips = slips_of_degrees(checked);
  if (!slips.empty()) return slips;  // every other number is in doubt
  slips = slips_of_zero(checked);
  for (Finding& finding : slips_of_holds(checked)) slips.push_back(of_hold(std::move(finding)));
  for (Finding& finding : slips_of_ramps(checked)) slips.push_back({std::move(finding)});
  if (slips.empty()) {
    if (auto finding = early_stage_end(checked)) slips.push_back({std::move(*finding)});
  }
  for (Finding& finding : end_of_program(checked)) slips.push_back({std::move(finding)});
  return slips;
}

void add_slips(std::vector<KeyingSlip> slips, CheckResult& result) {
  for (KeyingSlip& slip : slips) {
    std::erase_if(result.findings, [&](const Finding& known) {
      return !known.over &&
             std::any_of(slip.instead_of.begin(), slip.instead_of.end(), [&](const auto& of) {
               return of.first == known.kind && of.second == known.step;
             });
    });
    result.findings.push_back(std::move(slip.finding));
  }
}

}  // namespace thickset
