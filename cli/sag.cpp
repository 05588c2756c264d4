#include "reporting/sag_report.h"

#include <fmt/format.h>

#include "commands.h"
#include "inputs.h"
#include "kiln/kiln.h"
#include "units/read_quantity.h"
#include "units/spoken.h"

namespace thickset::cli {
namespace {

/// A length between two others, in mm.
std::optional<Length> read_size(const Typed& typed,
                                const std::string& name,
                                double low_mm,
                                double high_mm) {
  const std::optional<Length> length = typed.value(name, read_length);
  if (!length) return std::nullopt;
  require(name,
          length->in_mm() >= low_mm && length->in_mm() <= high_mm,
          fmt::format("{:g} mm is outside {:g} to {:g} mm", length->in_mm(), low_mm, high_mm),
          "check the number and its unit");
  return length;
}

Temperature read_touch(const Typed& typed) {
  const std::optional<Temperature> touch = typed.value("touch", read_temperature);
  require("touch", touch.has_value(), "it is missing", "write for example --touch 655C");
  constexpr Temperature least = Temperature::from_C(350.0);
  constexpr Temperature most = Temperature::from_C(1200.0);
  require("touch",
          *touch >= least && *touch <= most,
          outside(*touch, least, most),
          "give what the kiln read when the strip touched");
  return *touch;
}

Rate read_heating(const Typed& typed, const Display& display, std::vector<std::string>& assumed) {
  const std::optional<Rate> rate = typed.value("rate", read_rate);
  const Rate heating = rate.value_or(Rate::from_K_per_h(50.0));
  if (!rate) assumed.push_back(fmt::format("Heated at {} (assumed)", show(heating, display)));
  require("rate",
          heating.in_K_per_h() >= 1.0 && heating.in_K_per_h() <= 600.0,
          fmt::format("{:g} C/h is outside 1 to 600 C/h", heating.in_K_per_h()),
          "give the rate over the last 50 C, such as 50C/h");
  return heating;
}

std::optional<SagStrip> read_strip(const Typed& typed) {
  const auto thickness = read_size(typed, "thickness", 1.0, 50.0);
  const auto drop = read_size(typed, "drop", 1.0, 400.0);
  if (!thickness && !drop) return std::nullopt;
  require(thickness ? "drop" : "thickness",
          thickness && drop,
          fmt::format("it is missing, --{} was given", thickness ? "thickness" : "drop"),
          "beam bending needs both: how thick the strip is, how far its middle sank");
  return SagStrip{*thickness, *drop};
}

}  // namespace

ExitStatus sag(const Options& options) {
  const Typed& typed = options.typed;
  std::vector<std::string> assumed;
  const Temperature touch = read_touch(typed);
  const Display display{options.degrees.value_or(Degrees::celsius), options.lengths};
  const Rate heating = read_heating(typed, display, assumed);
  const auto typed_span = read_size(typed, "span", 50.0, 1000.0);
  const Length span = typed_span.value_or(Length::from_mm(275.0));
  if (!typed_span) assumed.push_back(fmt::format("Span {} (assumed)", show(span, display)));
  const auto error = typed.value("sensor-error", read_temperature_difference);
  if (!error) {
    assumed.insert(assumed.begin(), "That is the tolerance of a type K, ASTM E230 (assumed)");
  }
  const TemperatureDifference sensor_error = error.value_or(sensor_tolerance(touch));
  require("sensor-error",
          sensor_error.in_K() >= 0.0 && sensor_error.in_K() <= 50.0,
          fmt::format("{:g} C is outside 0 to 50 C", sensor_error.in_K()),
          "give for example 5C");
  SagContext context{.test = {touch, span, heating},
                     .strip = read_strip(typed),
                     .sensor_error = sensor_error,
                     .assumed = assumed,
                     .by_rule = std::nullopt,
                     .by_beam = std::nullopt,
                     .by_thickest_beam = std::nullopt,
                     .display = display};
  context.by_rule = annealing_by_rule(context.test, sensor_error);
  if (context.strip)
    context.by_beam = annealing_by_beam(context.test, *context.strip, sensor_error);
  require("thickness",
          context.by_rule || context.by_beam,
          fmt::format("it is missing, and the teachers' rule is for a span of {} heated at {}",
                      show(Length::from_mm(275.0), display),
                      show(Rate::from_K_per_h(50.0), display)),
          "give --thickness of the strip and --drop of its middle");
  if (!context.strip) {
    const SagStrip thickest{Length::from_mm(10.0), Length::from_mm(25.0)};
    context.by_thickest_beam = annealing_by_beam(context.test, thickest, sensor_error);
    context.assumed.push_back(
        fmt::format("The strip is {} to {} thick, its middle sank {} (assumed)",
                    shown_size(Length::from_mm(3.0), display),
                    show(thickest.thickness, display),
                    show(thickest.drop, display)));
  }
  switch (options.format) {
    case Format::text: deliver(options, sag_text(context)); break;
    case Format::csv: deliver(options, sag_csv(context)); break;
    case Format::keys: deliver(options, sag_keys(context)); break;
  }
  return fine;
}

}  // namespace thickset::cli
