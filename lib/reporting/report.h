#pragma once

#include "checking/check.h"
#include "checking/if_walls_conduct.h"
#include "checking/treatments.h"
#include "kiln/kiln.h"
#include "planning/hold.h"
#include "planning/hold_in_walls.h"
#include "planning/tail.h"
#include "reporting/display.h"
#include "sampling/how_sure.h"
#include "schedule/controller.h"
#include "simulation/casting.h"

#include <optional>
#include <span>
#include <string>
#include <vector>

namespace thickset {

/// A tail planned so that enough castings stay within each limit.
struct ForConfidence {
  Limits aimed_at;
  bool reached;
};

/// What an answer was computed for; every report prints it.
struct ReportContext {
  const Casting& casting;
  const Kiln& kiln;
  const Controller& controller;
  Firing firing;
  Limits limits;
  Display display;
  std::optional<Clock> start;  ///< on the wall clock, where the user gave it
  std::string waking{};  ///< how the start was moved for waking hours; empty where it was not asked
  std::optional<Treatments> treatments{};  ///< of the bulk, where they were asked for
  int heat_up_steps = 0;                   ///< of the controller, taken by the user's own heat-up
  bool reheated = false;  ///< a tail that follows the heating of a cold piece, planned with it
  std::string setting{};  ///< how the controller is set, and why; empty where it has one setting
  bool controller_assumed = false;    ///< none was named
  std::span<const Casting> others{};  ///< that share the kiln
  /// Of a glass whose file gives the uncertainty of its points: the hold, and what a stiffer one
  /// needs.
  std::optional<HoldOption> in_doubt{};
  // Of a casting with walls:
  std::optional<HoldInWalls> hold_in_walls{};
  std::vector<IfWallsConduct> if_walls_conduct{};
  // Where many such castings were simulated: what they say, and the chance that was asked for.
  std::optional<HowSure> how_sure{};
  double confidence = 0.9;
  std::optional<ForConfidence> for_confidence{};  ///< of a tail that was planned for it
};

/// What the times of a report are counted from: "the start", or "the end of your heat-up".
inline const char* counted_from(const ReportContext& context) {
  return context.heat_up_steps > 0 ? "the end of your heat-up" : "the start";
}

/// For a person beside a kiln: first line what to do, then what to key, then the reasons. UTF-8, at
/// most 80 columns.
/// curve: other hold temperatures to compare, with the explanations; empty: without.
std::string hold_text(const ReportContext& context,
                      const Hold& hold,
                      std::span<const HoldOption> curve = {});
std::string tail_text(const ReportContext& context, const Tail& tail);
std::string tail_reasons(const ReportContext& context,
                         const Tail& tail);  ///< what follows the steps to key
/// Of these its first lines: what to do, or what was found.
std::string tail_to_do(const ReportContext& context, const Tail& tail);
std::string check_to_do(const ReportContext& context, const CheckResult& result);
/// What each casting of a mixed load gets, and which one the tail is as slow as it is for.
std::string load_section(const ReportContext& context, const Tail& tail);
std::vector<std::string> tail_notes(const Tail& tail);
std::string check_text(const ReportContext& context,
                       const Program& program,
                       const CheckResult& result);

/// The tail as a program file, its summary in comments: `check` reads it back to the same numbers.
std::string tail_csv(const ReportContext& context, const Tail& tail);

/// Tables with quantity and unit in the header.
std::string hold_csv(const ReportContext& context, const Hold& hold);
std::string check_csv(const ReportContext& context,
                      const Program& program,
                      const CheckResult& result);

/// "name_unit = value" lines with stable names, always in the units of their names; listed in
/// notes/data_formats.md.
std::string hold_keys(const Hold& hold);
/// What context.in_doubt says of a hold, which has to be there.
std::string hold_doubt_sentence(const ReportContext& context, const Hold& hold);
std::string hold_doubt_keys(const ReportContext& context);  ///< empty without context.in_doubt
std::string tail_keys(const ReportContext& context, const Tail& tail);
std::string check_keys(const CheckResult& result);
std::string limit_keys(const Limits& limits);

}  // namespace thickset
