#include "reporting/hold_curve.h"

#include <fmt/format.h>

namespace thickset {

std::string hold_curve_section(std::span<const HoldOption> options, const Display& display) {
  std::string text = wrapped(fmt::format(
                         "What other hold temperatures would cost (cooling: the least found, in as "
                         "many stages as it takes; if stiffer: the hold needed if the annealing "
                         "point is {} higher than the data sheet says):",
                         show_difference(options.front().stiffer_by, display))) +
                     '\n';
  text += fmt::format("{:>9} {:>14} {:>14} {:>14} {:>14}\n",
                      "hold at",
                      "hold",
                      "cooling",
                      "together",
                      "if stiffer");
  for (const HoldOption& option : options) {
    text += fmt::format("{:>9} {:>14} {:>14} {:>14} {:>14}\n",
                        show(option.hold.temperature, display),
                        show(option.hold.total()),
                        show(option.cool_down),
                        show(option.total()),
                        option.if_stiffer ? show(*option.if_stiffer) : "over 30 days");
  }
  return text +
         wrapped(
             "The lower the hold, the shorter the cooling and the longer the glass takes "
             "to relax, and the more the answer hangs on the data sheet and the sensor.") +
         '\n';
}

}  // namespace thickset
