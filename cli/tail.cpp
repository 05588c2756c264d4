#include "planning/tail.h"

#include "commands.h"
#include "inputs.h"
#include "reporting/report.h"

namespace thickset::cli {

ExitStatus tail(const Options& options) {
  const Casting casting = load_casting(options);
  const Kiln kiln = load_kiln(options);
  const Controller controller = load_controller(options);
  const Tail planned = plan_tail(casting,
                                 kiln,
                                 controller,
                                 {.limits = options.limits,
                                  .firing = options.firing,
                                  .hold_temperature = options.hold_at,
                                  .hold_length = options.hold,
                                  .shown = options.degrees.value_or(controller.degrees),
                                  .steps = options.steps});

  std::optional<Treatments> treatments;
  if (options.explain) {
    treatments = compare_treatments(
        casting, kiln, controller.late_on_cooling, planned.fitted.program, options.firing);
  }
  deliver_history(options, planned.check.measured);
  const ReportContext context{
      .casting = casting,
      .kiln = kiln,
      .controller = controller,
      .firing = options.firing,
      .limits = options.limits,
      .display = {options.degrees.value_or(controller.degrees), options.lengths},
      .start = options.start,
      .treatments = treatments};
  switch (options.format) {
    case Format::text: deliver(options, tail_text(context, planned)); break;
    case Format::csv: deliver(options, tail_csv(context, planned)); break;
    case Format::keys: deliver(options, tail_keys(planned)); break;
  }
  const bool keeps_limits = planned.cannot.empty() && planned.check.verdict == Verdict::within;
  return keeps_limits ? fine : over_a_limit;
}

}  // namespace thickset::cli
