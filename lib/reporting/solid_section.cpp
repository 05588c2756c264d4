#include "reporting/solid_section.h"

#include <algorithm>

#include <fmt/format.h>

#include "reporting/display.h"

namespace thickset {
namespace {

double mass_kg(const Casting& casting) {
  return casting.solid->volume_m3 * casting.glass.density_kg_per_m3.value;
}

/// "12, 30 and 45 mm along x, y and z".
std::string place(const Eigen::Vector3d& place_m, Lengths unit) {
  const auto number = [&](int axis) {
    const double value = in_lengths(Length::from_m(place_m(axis)), unit);
    return fmt::format("{:.{}f}", value, unit == Lengths::inch ? 2 : 0);
  };
  return fmt::format(
      "{}, {} and {} {} along x, y and z", number(0), number(1), number(2), unit_name(unit));
}

std::string weight(double kg, Lengths unit) {
  constexpr double lb_per_kg = 1.0 / 0.45359237;  // exact, by definition of the pound
  if (unit == Lengths::inch) return fmt::format("{:.2f} lb ({:.2f} kg)", kg * lb_per_kg, kg);
  return fmt::format("{:.2f} kg", kg);
}

std::string thick_and_thin(const MeshedSolid& solid, const Display& display) {
  const MeshedSolid::ThickBesideThin& side = solid.thick_beside_thin;
  if (side.share < warned_of_side_share) return {};
  return wrapped(fmt::format(
             "Thick meets thin: at {} a part {} thick is kept as hot as a slab of {} by the glass "
             "beside it, {:.0f} % of the largest difference. It cools unevenly along itself, which "
             "the slabs do not show: blend the step in the model, or cool more slowly than "
             "planned.",
             place(side.place_m, display.lengths),
             show(side.thickness, display),
             show(side.acts_as, display),
             100.0 * side.share)) +
         '\n';
}

/// What walls on sides of it do to the slabs, and what that rests on.
std::string behind_walls(const Casting& casting, const Display& display) {
  if (!casting.side_walls) return {};
  const MeshedSolid& solid = *casting.solid;
  std::string text =
      wrapped(fmt::format("Walls ({}) are part of the field: of each its resistance and the heat "
                          "of its own fall, in steady cooling, flat, at the strain point. The "
                          "slab for the hold holds their heat too. Edges of the mould and layers "
                          "between two sides are not in it.",
                          describe(*casting.side_walls, display.lengths))) +
      '\n';
  text += wrapped(casting.side_walls->held
                      ? "Held in shape, as taken, it keeps at least what a solid does that cannot "
                        "bend; its open sides count that much more too. Say mould_grips = no only "
                        "if it can lift and bow."
                      : "Free to bend, as you said: it bows while it cools, which is not computed "
                        "for a mesh. If the mould holds it, it needs slower rates: mould_grips = "
                        "yes.") +
          '\n';
  const double now_m = solid.shape.steady_difference.in_m();
  for (std::size_t i = 0; i < solid.difference_if.size(); ++i) {
    const double then_m = solid.difference_if[i].in_m();
    text += wrapped(fmt::format("If what is assumed conducts {}: {} for rates and tension, so "
                                "rates {:.2f} times as fast.",
                                i == 0 ? "half as well" : "twice as well",
                                show(solid.difference_if[i], display),
                                now_m * now_m / (then_m * then_m))) +
            '\n';
  }
  return text;
}

}  // namespace

std::string solid_section(const ReportContext& context) {
  if (!context.casting.solid) return {};
  const MeshedSolid& solid = *context.casting.solid;
  const Display& display = context.display;
  const auto percent = [](double share) { return fmt::format("{:.1f}", 100.0 * share); };
  std::string text =
      wrapped(fmt::format("The solid: {:.1f} cm3, {} of glass to weigh out beside what stays in "
                          "the reservoir; {:.0f} cm2 of surface.",
                          1e6 * solid.volume_m3,
                          weight(mass_kg(context.casting), display.lengths),
                          1e4 * solid.surface_m2)) +
      '\n';
  text += wrapped(fmt::format("The largest ball that fits, {}, sits {} from the corner of the "
                              "solid's box where all three begin; it stays hottest {}.",
                              show(solid.shape.ball, display),
                              place(solid.ball_centre_m, display.lengths),
                              place(solid.hottest_m, display.lengths))) +
          '\n';
  text +=
      wrapped(fmt::format(
          "Its slabs come from its temperature field and elastic stress on a grid; shape factor "
          "{:.2f} (1: slab as thick as the ball, 1/2: rod, 1/3: ball). Each is taken thicker by "
          "what it may be off: {}, {} and {} %.",
          solid.shape_factor,
          percent(solid.uncertainty.steady_difference),
          percent(solid.uncertainty.slowest_mode),
          percent(solid.uncertainty.permanent_tension))) +
      '\n';
  text += behind_walls(context.casting, display);
  constexpr double elsewhere = 2.0;
  if (solid.largest_tension_share > 1.0 && solid.largest_tension_share < elsewhere) {
    text +=
        wrapped(fmt::format("The permanent tension is largest off the hottest place, {:.2f} times "
                            "that; the slab for nm/cm is taken for it.",
                            solid.largest_tension_share)) +
        '\n';
  } else if (solid.largest_tension_share != 1.0) {
    text += wrapped(
                "The permanent tension is largest elsewhere than where it is hottest, as where "
                "one side cools; the slab for nm/cm is taken for it.") +
            '\n';
  }
  constexpr double worth_saying = 1e-3;
  if (solid.unresolved > worth_saying) {
    text += wrapped(fmt::format("{:.1f} % of the volume is too thin for the grid and is not seen.",
                                100.0 * solid.unresolved)) +
            '\n';
  }
  text += thick_and_thin(solid, display);
  for (const std::string& note : solid.notes) text += wrapped("The mesh: " + note) + '\n';
  return text;
}

std::string solid_keys(const Casting& casting) {
  if (!casting.solid) return {};
  const MeshedSolid& solid = *casting.solid;
  std::string text = fmt::format("solid_volume_cm3 = {:.6g}\n", 1e6 * solid.volume_m3);
  text += fmt::format("solid_mass_kg = {:.6g}\n", mass_kg(casting));
  text += fmt::format("solid_surface_cm2 = {:.6g}\n", 1e4 * solid.surface_m2);
  text += fmt::format("solid_ball_mm = {:.6g}\n", solid.shape.ball.in_mm());
  for (int axis = 0; axis < 3; ++axis) {
    text +=
        fmt::format("solid_ball_{}_mm = {:.6g}\n", "xyz"[axis], 1e3 * solid.ball_centre_m(axis));
  }
  text += fmt::format("solid_shape_factor = {:.6g}\n", solid.shape_factor);
  text += fmt::format("solid_slab_difference_mm = {:.6g}\n", solid.shape.steady_difference.in_mm());
  text += fmt::format("solid_slab_mode_mm = {:.6g}\n", solid.shape.slowest_mode.in_mm());
  text += fmt::format("solid_slab_tension_mm = {:.6g}\n", solid.shape.permanent_tension.in_mm());
  for (std::size_t i = 0; i < solid.difference_if.size(); ++i) {
    text += fmt::format("solid_slab_difference_at_{}_conductivity_mm = {:.6g}\n",
                        i == 0 ? "half" : "double",
                        solid.difference_if[i].in_mm());
  }
  text += fmt::format("solid_thick_beside_thin = {:.6g}\n", solid.thick_beside_thin.share);
  return text;
}

}  // namespace thickset
