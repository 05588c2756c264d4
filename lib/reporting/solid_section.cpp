#include "reporting/solid_section.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "reporting/display.h"

namespace thickset {
namespace {

double mass_kg(const Casting& casting) {
  return casting.solid->volume_m3 * casting.glass.density_kg_per_m3.value;
}

/// "12, 30 and 45 mm along x, y and z"; of a round solid "20 mm from its axis, 45 mm above its
/// lower end".
std::string place(const GriddedSolid& solid, const Eigen::Vector3d& place_m, Lengths unit) {
  const auto number = [&](double m) {
    const double parts = unit == Lengths::inch ? 100.0 : 1.0;
    const double rounded = std::round(parts * in_lengths(Length::from_m(m), unit)) / parts;
    return fmt::format("{:.{}f}", rounded + 0.0, unit == Lengths::inch ? 2 : 0);  // no "-0"
  };
  const char* const name = unit_name(unit);
  if (solid.places == PlaceWords::round) {
    const double off_m = (place_m - 0.5 * solid.box_m).head<2>().norm();
    constexpr double on_it = 0.01;  // of the width
    const std::string above = fmt::format("{} {} above its lower end", number(place_m.z()), name);
    if (off_m < on_it * solid.box_m.x()) return "on its axis, " + above;
    return fmt::format("{} {} from its axis, {}", number(off_m), name, above);
  }
  if (solid.places == PlaceWords::wedge) {
    return fmt::format("{0} {2} from its thick end, {1} {2} above its base",
                       number(place_m.x()),
                       number(place_m.z()),
                       name);
  }
  return fmt::format("{}, {} and {} {} along x, y and z",
                     number(place_m.x()),
                     number(place_m.y()),
                     number(place_m.z()),
                     name);
}

std::string weight(double kg, Lengths unit) {
  constexpr double lb_per_kg = 1.0 / 0.45359237;  // exact, by definition of the pound
  if (unit == Lengths::inch) return fmt::format("{:.2f} lb ({:.2f} kg)", kg * lb_per_kg, kg);
  return fmt::format("{:.2f} kg", kg);
}

std::string thick_and_thin(const GriddedSolid& solid, const Display& display) {
  const GriddedSolid::ThickBesideThin& side = solid.thick_beside_thin;
  if (side.share < warned_of_side_share) return {};
  return wrapped(fmt::format(
             "Thick meets thin: at {} a part {} thick is kept as hot as a slab of {} by the glass "
             "beside it, {:.0f} % of the largest difference. It cools unevenly along itself, which "
             "the slabs do not show: blend the step in the model, or cool more slowly than "
             "planned.",
             place(solid, side.place_m, display.lengths),
             show(side.thickness, display),
             show(side.acts_as, display),
             100.0 * side.share)) +
         '\n';
}

/// What the ends of a wedge do.
std::string both_ends(const GriddedSolid& solid, const Display& display) {
  if (!solid.ends) return {};
  const GriddedSolid::Ends& ends = *solid.ends;
  const double ratio = ends.thick_acts_as.in_m() / ends.thin_acts_as.in_m();
  constexpr double worth_saying = 1.02;
  if (ratio < worth_saying) return {};
  return wrapped(fmt::format(
             "A long bar of the thick end's section, {}, would act as a slab of {}, one of the "
             "thin end's, {}, as a slab of {}: at the same rate the thin end has {:.2g} times "
             "smaller differences, and alone could cool that many times as fast. The thick end "
             "sets the schedule.",
             show(ends.thick, display),
             show(ends.thick_acts_as, display),
             show(ends.thin, display),
             show(ends.thin_acts_as, display),
             ratio * ratio)) +
         '\n';
}

/// What walls on sides of it do to the slabs, and what that rests on.
std::string behind_walls(const Casting& casting, const Display& display) {
  if (!casting.side_walls) return {};
  const GriddedSolid& solid = *casting.solid;
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
  const GriddedSolid& solid = *context.casting.solid;
  const Display& display = context.display;
  const auto percent = [](double share) { return fmt::format("{:.1f}", 100.0 * share); };
  std::string text =
      wrapped(fmt::format("The solid: {:.1f} cm3, {} of glass to weigh out beside what stays in "
                          "the reservoir; {:.0f} cm2 of surface.",
                          1e6 * solid.volume_m3,
                          weight(mass_kg(context.casting), display.lengths),
                          1e4 * solid.surface_m2)) +
      '\n';
  constexpr double of_slab = 1.05;  // a little above, as of the corner in a vessel's bottom
  const bool in_box = solid.places == PlaceWords::from_corner;
  text +=
      wrapped(fmt::format("The largest ball that fits, {}, sits {}{}; it stays hottest {}.",
                          show(solid.shape.ball, display),
                          place(solid, solid.ball_centre_m, display.lengths),
                          in_box ? " from the corner of the solid's box where all three begin" : "",
                          place(solid, solid.hottest_m, display.lengths))) +
      '\n';
  text +=
      wrapped(fmt::format(
          "Its slabs come from its temperature field and elastic stress on a grid; shape factor "
          "{:.2f} (1: slab as thick as the ball, 1/2: rod, 1/3: ball{}). Each is taken thicker by "
          "what it may be off: {}, {} and {} %.",
          solid.shape_factor,
          solid.shape_factor > of_slab ? ", 4: slab cooled from one side" : "",
          percent(solid.uncertainty.steady_difference),
          percent(solid.uncertainty.slowest_mode),
          percent(solid.uncertainty.permanent_tension))) +
      '\n';
  text += behind_walls(context.casting, display);
  constexpr double elsewhere = 2.0;
  constexpr double seen_beside_rounding = 1.005;
  const double share = solid.largest_tension_share;
  if (share >= seen_beside_rounding && share < elsewhere) {
    text +=
        wrapped(fmt::format("The permanent tension is largest off the hottest place, {:.2f} times "
                            "that; the slab for nm/cm is taken for it.",
                            share)) +
        '\n';
  } else if (share < 1.0 || share >= elsewhere) {
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
  text += both_ends(solid, display);
  text += thick_and_thin(solid, display);
  for (const std::string& note : solid.notes) text += wrapped("The mesh: " + note) + '\n';
  return text;
}

std::string solid_keys(const Casting& casting) {
  if (!casting.solid) return {};
  const GriddedSolid& solid = *casting.solid;
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
