#pragma once

#include "checking/present.h"
#include "planning/way_on.h"
#include "reporting/report.h"
#include "schedule/firing_log.h"

#include <optional>
#include <string>
#include <vector>

namespace thickset {

/// Everything `now` answers.
struct Now {
  FiringSoFar so_far;
  std::optional<LogClock> clock;       ///< of the log's first reading
  std::vector<std::string> remarks{};  ///< of the log
  Present present;
  bool past_known = true;           ///< by a log or a program
  bool planned_here = false;        ///< the program's tail is our own
  bool plan_was_over = false;       ///< the program given is over its limits from here
  double held_here_pulls_Pa = 0.0;  ///< from now on, if the kiln stays where it is
  double held_here_stays_Pa = 0.0;  ///< when the glass has evened out so
  std::vector<WayOn> ways{};
  std::vector<Judged> way_in_doubt{};  ///< the way advised, in each case of the range
  Retardation certain = Retardation::from_nm_per_cm(0.0);
  std::optional<Duration> off_after{};  ///< of the way advised
  std::optional<Temperature> off_at{};  ///< what the display shows then

  /// Until the slowest glass is this cool, at the latest.
  struct Wait {
    Temperature cool;
    std::optional<Duration> as_advised, held_here, elements_off;
  };
  std::optional<Wait> wait{};

  /// Opening the kiln, the piece in its mould or bare, in still air or a draught.
  struct Open {
    OpenedInto into;
    double pull_now_Pa;
    Opening as_advised, elements_off;  ///< from now
  };
  std::vector<Open> open{};
};

/// The opening that every way to open and every doubt allows, on the way advised, from now.
Opening latest_opening(const Now& now);

/// Its first lines: what to do and why.
std::string now_to_do(const ReportContext& context, const Now& now);
/// The glass inside, tensions, other ways, waits and opening.
std::string now_state(const ReportContext& context, const Now& now);

/// Of the last, what is no table.
std::string now_words(const ReportContext& context, const Now& now);
const char* name_of(WayOn::Kind kind);
const char* word_of(const WayOn& way, const Limits& limits);  ///< "within", "over anyway", ...
std::string name_of(const OpenedInto& into, const Casting& casting);
/// "in 3 h, Sat 09:40".
std::string when(const Now& now, Duration from_now);

std::string now_text(const ReportContext& context, const Now& now);
std::string now_csv(const ReportContext& context, const Now& now);
std::string now_keys(const ReportContext& context, const Now& now);

}  // namespace thickset
