#include "planning/hold.h"
#include "commands.h"
#include "inputs.h"
#include "planning/stages.h"
#include "reporting/report.h"

namespace thickset::cli {

ExitStatus hold(const Options& options) {
  const Casting casting = load_casting(options);
  const Kiln kiln = load_kiln(options);
  const Controller controller = load_controller(options);
  const Rate setting_rate = estimate_rates(casting, options.limits).setting;
  const Degrees degrees = options.degrees.value_or(Degrees::celsius);
  const Hold sized =
      size_hold(casting, kiln, options.firing, setting_rate, options.hold_at, degrees);

  const ReportContext context{.casting = casting,
                              .kiln = kiln,
                              .controller = controller,
                              .firing = options.firing,
                              .limits = options.limits,
                              .display = {degrees, options.lengths},
                              .start = options.start};
  switch (options.format) {
    case Format::text: deliver(options, hold_text(context, sized, options.explain)); break;
    case Format::csv: deliver(options, hold_csv(context, sized)); break;
    case Format::keys: deliver(options, hold_keys(sized) + limit_keys(options.limits)); break;
  }
  return fine;
}

}  // namespace thickset::cli
