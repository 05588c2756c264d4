#include <algorithm>
#include <string>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "checking/past.h"
#include "reporting/cautions.h"
#include "reporting/hold_curve.h"
#include "reporting/report.h"
#include "reporting/sections.h"
#include "reporting/walls_section.h"
#include "simulation/beyond_model.h"

namespace thickset {

std::string hold_doubt_sentence(const ReportContext& context, const Hold& hold) {
  const HoldOption& option = *context.in_doubt;
  const std::string by = show_difference(option.stiffer_by, context.display);
  if (!option.if_stiffer) {
    return wrapped(fmt::format(
        "The annealing point may be {} higher, as the glass file says: at {} such a glass would "
        "take over 30 days. Hold hotter.",
        by,
        show(hold.temperature, context.display)));
  }
  return wrapped(fmt::format(
      "The annealing point may be {} higher, as the glass file says: the hold that serves both is "
      "{}.",
      by,
      show(std::max(*option.if_stiffer, hold.total()))));
}

std::string hold_text(const ReportContext& context,
                      const Hold& hold,
                      std::span<const HoldOption> curve) {
  const Display& display = context.display;
  std::string text = wrapped(fmt::format("Hold at {} for {}, counted from when the kiln reads {}.",
                                         show(hold.temperature, display),
                                         show(hold.total()),
                                         show(hold.temperature, display))) +
                     '\n';
  if (context.in_doubt) text += hold_doubt_sentence(context, hold) + '\n';
  text += "\nWhat the time is made of:\n";
  const auto part = [&](Duration time, const std::string& what) {
    text += fmt::format("  {:>12}  {}\n", show(time), what);
  };
  part(hold.arriving,
       fmt::format("arriving: the slowest glass, {} behind the kiln, comes",
                   show_difference(size_of(hold.behind_on_arrival), display)));
  text += fmt::format("                within {} of it\n",
                      show_difference(TemperatureDifference::from_K(arrival_tol_K), display));
  part(hold.evening,
       fmt::format("evening out: to {:.0f} % of the difference while cooling later",
                   100.0 * evening_share));
  part(hold.relaxing,
       fmt::format("relaxing: until the fall has left {:.0f} % of the later stress",
                   100.0 * relaxed_share));
  text += fmt::format("                ({} if the sensor reads true; estimate: {})\n",
                      show(hold.relaxing_if_sensor_true),
                      show(hold.relaxing_estimate));
  part(hold.margin, "rounding up");
  text += wrapped(fmt::format("  Each part lasts until it is over whether the sensor reads true or "
                              "{} too high or too low.",
                              show_difference(hold.sensor_tolerance, display))) +
          '\n';
  if (!curve.empty()) {
    text += '\n' +
            wrapped(
                "A hold is mostly waiting for the core. Until the slowest glass has arrived, the "
                "clock says nothing about it; once it is even, more time at the annealing point "
                "changes little. That shortens nobody's hold: an uneven kiln, a mould and a "
                "sensor that reads wrong all lengthen it.") +
            '\n' +
            wrapped(fmt::format(
                "Relaxing is simulated: it ends when the stress still in the glass, and what its "
                "structure would add, are {:.0f} % of the permanent stress that the setting rate "
                "leaves, and the fictive temperature is within {} of the temperature. The estimate "
                "beside it is three mean structural times, 9 viscosity / shear modulus each, at "
                "the lowest temperature the sensor's tolerance ({}) allows.",
                100.0 * relaxed_share,
                show_difference(TemperatureDifference::from_K(equilibrium_tol_K), display),
                sensor_tolerance_from(context.kiln, hold.temperature))) +
            '\n';
    text += '\n' + hold_curve_section(curve, display);
  }
  if (context.casting.walls) text += '\n' + walls_section(context, hold.needed());
  text += '\n' + made_for(context);
  text += '\n' + equivalents_section(context);
  text += '\n' + assumptions_section(context);
  std::vector<std::string> notes = hold.notes;
  for (std::string& sentence : beyond_model(context.casting)) notes.push_back(std::move(sentence));
  if (!notes.empty()) text += "\nNotes:\n" + listed(notes);
  return text + '\n' + short_cautions();
}

std::string hold_doubt_keys(const ReportContext& context) {
  if (!context.in_doubt) return "";
  const HoldOption& option = *context.in_doubt;
  return fmt::format("annealing_point_uncertainty_K = {:.6g}\n", option.stiffer_by.in_K()) +
         (option.if_stiffer
              ? fmt::format("hold_if_stiffer_min = {:.6g}\n", in_min(*option.if_stiffer))
              : "hold_if_stiffer_min = over_30_days\n");
}

std::string hold_csv(const ReportContext& context, const Hold& hold) {
  const Degrees degrees = context.display.degrees;
  std::string text = fmt::format(
      "hold_{},total_min,arriving_min,evening_min,relaxing_min,margin_min\n", letter(degrees));
  text += fmt::format("{:.6g},{:.6g},{:.6g},{:.6g},{:.6g},{:.6g}\n",
                      in_degrees(hold.temperature, degrees),
                      in_min(hold.total()),
                      in_min(hold.arriving),
                      in_min(hold.evening),
                      in_min(hold.relaxing),
                      in_min(hold.margin));
  return text;
}

std::string hold_keys(const Hold& hold) {
  std::string text;
  text += fmt::format("hold_temperature_C = {:.6g}\n", hold.temperature.in_C());
  text += fmt::format("hold_min = {:.6g}\n", in_min(hold.total()));
  text += fmt::format("hold_arriving_min = {:.6g}\n", in_min(hold.arriving));
  text += fmt::format("hold_evening_min = {:.6g}\n", in_min(hold.evening));
  text += fmt::format("hold_relaxing_min = {:.6g}\n", in_min(hold.relaxing));
  text += fmt::format("hold_margin_min = {:.6g}\n", in_min(hold.margin));
  text += fmt::format("hold_short_by_min = {:.6g}\n", in_min(hold.short_by));
  text += fmt::format("hold_relaxing_estimate_min = {:.6g}\n", in_min(hold.relaxing_estimate));
  text += fmt::format("core_behind_on_arrival_K = {:.6g}\n", hold.behind_on_arrival.in_K());
  return text;
}

}  // namespace thickset
