#include <algorithm>

#include <fmt/format.h>

#include "reporting/charts/across.h"
#include "reporting/charts/firing_view.h"

namespace thickset {
namespace {

constexpr double section_width_px = 480.0;
constexpr double section_height_px = 320.0;
constexpr Rectangle section_upper{52.0, 32.0, 460.0, 116.0};
constexpr Rectangle section_lower{52.0, 188.0, 460.0, 276.0};
constexpr int most_x = 7, most_y = 6;

/// A little room above and below.
Range roomy(Range range, double least) {
  const double middle = 0.5 * (range.low + range.high);
  const double half = std::max(0.5 * (range.high - range.low), least);
  return {middle - 1.15 * half, middle + 1.15 * half};
}

bool is_a_stand_in(const Casting& casting) {
  const Shape& shape = casting.governing_shape();
  return !std::holds_alternative<Slab>(shape) && !std::holds_alternative<Rod>(shape) &&
         !std::holds_alternative<Ball>(shape);
}

}  // namespace

Chart section_chart(const FiringView& view, const Section& worst) {
  const Display& display = view.context.display;
  const bool alike = both_sides_alike(view.context.casting, view.context.kiln);
  std::vector<double> degrees;
  for (const double T_K : worst.T_K) {
    degrees.push_back(in_degrees(Temperature::from_K(T_K), display.degrees));
  }
  const History::Profile& profile = view.measured.profile;
  std::vector<double> stress_MPa;
  for (const double stress_Pa : profile.stress_Pa) stress_MPa.push_back(stress_Pa * 1e-6);
  const Across hot = across(worst.position_m, degrees, alike, display.lengths);
  const Across left = across(profile.position_m, stress_MPa, alike, display.lengths);

  Drawing drawing;
  const Range y_hot = roomy(range_of(hot.value), 0.5);
  const Panel temperatures{section_upper, range_of(hot.position), y_hot};
  temperatures.axes(
      drawing,
      ticks_of(nice_ticks(range_of(hot.position), most_x)),
      ticks_of(nice_ticks(y_hot, most_y)),
      fmt::format("°{}, {} after the start", letter(display.degrees), show(seconds(worst.time_s))));
  temperatures.below(drawing, position_words(alike, display.lengths));
  temperatures.curve(drawing, {"temperature", Mark::third, hot.position, hot.value});

  const Range y_left = roomy(with(range_of(left.value), 0.0), 0.01);
  const Panel stays{section_lower, range_of(left.position), y_left};
  const double zero_px = stays.y().at(0.0);
  drawing.field({section_lower.left_px, zero_px, section_lower.right_px, section_lower.bottom_px},
                Mark::area);
  stays.axes(drawing,
             ticks_of(nice_ticks(range_of(left.position), most_x)),
             ticks_of(nice_ticks(y_left, most_y)),
             "stress that stays, MPa");
  stays.below(drawing, position_words(alike, display.lengths));
  drawing.line({section_lower.left_px, zero_px}, {section_lower.right_px, zero_px}, Mark::axis);
  stays.curve(drawing, {"stress", Mark::second, left.position, left.value});
  drawing.words(
      {section_lower.right_px - 4.0, section_lower.top_px + text_px}, Anchor::end, "tension");
  const double middle_px = 0.5 * (section_lower.left_px + section_lower.right_px);
  drawing.words({middle_px, section_lower.bottom_px - 6.0}, Anchor::middle, "compression");

  const Range stress = range_of(stress_MPa);
  Chart chart{
      .title = "Through the thickness",
      .summary = fmt::format(
          "After {}, when the tension is largest, the glass is between {:.1f} and {:.1f} °{}. What "
          "stays is between {:.2f} MPa of compression and {:.2f} MPa of tension.",
          show(seconds(worst.time_s)),
          range_of(hot.value).low,
          range_of(hot.value).high,
          letter(display.degrees),
          std::max(0.0, -stress.low),
          std::max(0.0, stress.high)),
      .width_px = section_width_px,
      .height_px = section_height_px,
      .svg = drawing.svg(),
      .caption =
          "Above: temperature when the tension is largest. Below: the stress that stays, in "
          "the plane of the faces; the shaded part is compression.",
      .heads = {unit_name(display.lengths),
                fmt::format("then, °{}", letter(display.degrees)),
                unit_name(display.lengths),
                "stays, MPa"},
      .rows = {}};
  if (is_a_stand_in(view.context.casting)) {
    chart.caption +=
        " Each is of the slab that stands for the shape in that respect, so their widths differ.";
  }
  const std::size_t most = std::max(worst.T_K.size(), stress_MPa.size());
  const std::size_t every = (most + 11) / 12;  // 12 rows at most
  const auto in_unit = [&](double at_m) {
    return fmt::format("{:.{}f}",
                       in_lengths(Length::from_m(at_m), display.lengths),
                       display.lengths == Lengths::inch ? 2 : 1);
  };
  for (std::size_t i = 0; i < most; i += every) {
    const bool of_hot = i < degrees.size(), of_left = i < stress_MPa.size();
    chart.rows.push_back({of_hot ? in_unit(worst.position_m[i]) : "",
                          of_hot ? fmt::format("{:.1f}", degrees[i]) : "",
                          of_left ? in_unit(profile.position_m[i]) : "",
                          of_left ? fmt::format("{:.2f}", stress_MPa[i] + 0.0) : ""});
  }
  return chart;
}

}  // namespace thickset
