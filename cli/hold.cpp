#include "planning/hold_choice.h"

#include "checking/rules.h"
#include "commands.h"
#include "inputs.h"
#include "planning/stages.h"
#include "reporting/report.h"
#include "reporting/solid_section.h"
#include "reporting/walls_section.h"

namespace thickset::cli {

namespace {

constexpr int temperatures_shown = 5;

std::vector<HoldOption> options_of(const Options& options,
                                   const Casting& casting,
                                   const Kiln& kiln,
                                   const Controller& controller,
                                   Degrees degrees,
                                   int temperatures) {
  const Temperature end = options.firing.room + rules::last_target_above_room;
  return hold_options({&casting, 1},
                      kiln,
                      controller.late_on_cooling,
                      options.firing,
                      options.limits,
                      all_bulks,
                      end,
                      temperatures,
                      degrees,
                      controller.degree_step);
}

}  // namespace

ExitStatus hold(const Options& options) {
  const Casting casting = load_casting(options);
  const Kiln kiln = load_kiln(options);
  const Controller controller = load_controller(options);
  const Rate setting_rate = estimate_rates(casting, options.limits).setting;
  const Degrees degrees = options.degrees.value_or(Degrees::celsius);
  const auto options_at = [&](int temperatures) {
    return options_of(options, casting, kiln, controller, degrees, temperatures);
  };
  const Hold sized =
      options.hold_at
          ? size_hold(casting, kiln, options.firing, setting_rate, options.hold_at, degrees)
          : quickest(options_at(hold_temperatures_tried)).hold;
  std::vector<HoldOption> curve;
  if (options.explain) {
    curve = with_doubt(options_at(temperatures_shown),
                       {&casting, 1},
                       kiln,
                       options.firing,
                       options.limits,
                       degrees);
  }

  ReportContext context{.casting = casting,
                        .kiln = kiln,
                        .controller = controller,
                        .firing = options.firing,
                        .limits = options.limits,
                        .display = {degrees, options.lengths},
                        .start = options.start};
  if (!casting.glass.annealing_point_uncertainty.assumed) {
    context.in_doubt = with_doubt({HoldOption{.hold = sized}},
                                  {&casting, 1},
                                  kiln,
                                  options.firing,
                                  options.limits,
                                  degrees)
                           .front();
  }
  if (casting.walls) {
    context.hold_in_walls =
        hold_in_walls(casting, kiln, options.firing, setting_rate, sized.temperature, degrees);
  }
  switch (options.format) {
    case Format::text: deliver(options, hold_text(context, sized, curve)); break;
    case Format::csv: deliver(options, hold_csv(context, sized)); break;
    case Format::keys:
      deliver(options,
              hold_keys(sized) + hold_doubt_keys(context) +
                  hold_walls_keys(context, sized.needed()) + solid_keys(casting) +
                  limit_keys(options.limits));
      break;
  }
  return fine;
}

}  // namespace thickset::cli
