#include "reporting/walls_section.h"

#include <algorithm>
#include <set>

#include <fmt/format.h>

#include "simulation/steady_cooling.h"

namespace thickset {
namespace {

SteadyCooling steady_of(const ReportContext& context, const Casting& casting) {
  return steady_cooling(casting, Exchange::with(context.kiln), casting.glass.annealing_point.value);
}

Casting bare(const Casting& casting) {
  Casting without = casting;
  without.walls = std::nullopt;
  return without;
}

const char* conducts(double factor) {
  return factor < 1.0 ? "half" : "double";
}

std::string unlike_faces(const ReportContext& context) {
  const Casting& casting = context.casting;
  const SteadyCooling steady = steady_of(context, casting);
  const EquivalentSlabs slabs = equivalent_slabs(casting);
  const char* better = steady.top_cools_better ? "top" : "bottom";
  const char* other = steady.top_cools_better ? "bottom" : "top";
  std::string text = fmt::format(
      "The faces differ, so the whole thickness is simulated: the {} cools better, the slowest "
      "glass is {} from the {}. ",
      better,
      show(Length::from_m(steady.slowest_from_other_m), context.display),
      other);
  text += casting.walls->held
              ? fmt::format(
                    "Held flat, as taken, it sets about like a slab of {} with both faces open; "
                    "free to bend it would like one of {}. Say mould_grips = no only if it can "
                    "lift and bow.",
                    show(slabs.permanent_tension, context.display),
                    show(std::get<Slab>(casting.governing_shape()).thickness, context.display))
              : std::string{
                    "Free to bend, as you said: it bows while it cools. If the mould holds it flat "
                    "it needs slower rates: mould_grips = yes."};
  return text;
}

/// All that lie against the glass.
std::vector<const Wall*> walls_of(const Casting& casting) {
  if (casting.walls) return {&casting.walls->top, &casting.walls->bottom};
  if (casting.side_walls) return casting.side_walls->all();
  return {};
}

std::vector<const Mould*> materials_of(const std::vector<const Wall*>& walls) {
  std::vector<const Mould*> materials;
  std::set<std::string> seen;
  for (const Wall* wall : walls) {
    for (const Layer& layer : wall->layers) {
      if (layer.material && seen.insert(layer.material->name).second)
        materials.push_back(&*layer.material);
    }
  }
  return materials;
}

bool has(const std::vector<const Wall*>& walls, Layer::Kind kind) {
  return std::any_of(walls.begin(), walls.end(), [kind](const Wall* wall) {
    return std::any_of(wall->layers.begin(), wall->layers.end(), [kind](const Layer& layer) {
      return layer.kind == kind;
    });
  });
}

}  // namespace

std::string with_walls(const Casting& casting, Lengths unit) {
  if (casting.side_walls) return "; " + describe(*casting.side_walls, unit);
  if (!casting.walls) return {};
  return "; " + describe(*casting.walls, casting.governing_shape(), unit);
}

std::string walls_section(const ReportContext& context, std::optional<Duration> needed) {
  const Casting& casting = context.casting;
  if (!casting.walls) return {};
  const Duration behind = seconds(steady_of(context, casting).behind_kiln_s());
  const Duration behind_bare = seconds(steady_of(context, bare(casting)).behind_kiln_s());
  std::string text =
      wrapped(fmt::format(
          "What lies against the glass: {}.",
          describe(*casting.walls, casting.governing_shape(), context.display.lengths))) +
      '\n';
  text += wrapped(fmt::format("- While it cools at one rate the slowest glass is {} behind the "
                              "kiln; bare it would be {}.{}",
                              show(behind),
                              show(behind_bare),
                              casting.walls->alike() ? " An even wall does not change the rate "
                                                       "that the glass may cool at."
                                                     : "")) +
          '\n';
  if (needed && context.hold_in_walls) {
    text +=
        wrapped(fmt::format("- The glass needs a hold of {}; bare it would be {}: {} for the wall.",
                            show(*needed),
                            show(context.hold_in_walls->bare),
                            show(std::max(*needed - context.hold_in_walls->bare, Duration{0.0})))) +
        '\n';
  }
  if (!casting.walls->alike()) text += wrapped("- " + unlike_faces(context)) + '\n';
  if (needed && context.hold_in_walls) {
    for (const HoldInWalls::IfConduct& one : context.hold_in_walls->if_conduct) {
      text += wrapped(fmt::format("- If what is assumed conducts {}: a hold of {}.",
                                  one.factor < 1.0 ? "half as well" : "twice as well",
                                  show(one.needed))) +
              '\n';
    }
  }
  for (const IfWallsConduct& one : context.if_walls_conduct) {
    const bool over = one.retardation > context.limits.grade ||
                      one.peak_tension_Pa > context.limits.tension.in_Pa();
    text += wrapped(fmt::format(
                "- If what is assumed conducts {}, this program leaves {:.1f} nm/cm and pulls "
                "{:.1f} MPa, worst of the treatments{}; {}.",
                one.factor < 1.0 ? "half as well" : "twice as well",
                one.retardation.in_nm_per_cm(),
                one.peak_tension_Pa * 1e-6,
                over ? ", over" : "",
                one.opens ? "earliest opening after " + show_days(one.open_after)
                          : std::string{"it does not get cool enough to open in time"})) +
            '\n';
  }
  return text;
}

std::string glass_at_step_ends(const ReportContext& context, const CheckResult& result) {
  if (!context.casting.walls) return {};
  std::string text = "Kiln and glass when each step ends (targets are what the kiln reads):\n";
  text += fmt::format("  {:>4} {:>8} {:>14} {:>14}\n", "step", "kiln", "glass surface", "slowest");
  for (std::size_t i = 0; i < result.steps.size(); ++i) {
    const History::Row& row = result.measured.history.at(result.measured.steps[i].end_s);
    const auto at = [&](double T_K) { return show(Temperature::from_K(T_K), context.display); };
    text += fmt::format("  {:>4} {:>8} {:>14} {:>14}\n",
                        static_cast<int>(i) + context.firing.first_step,
                        at(row.kiln_K),
                        at(row.surface_K),
                        at(row.centre_K));
  }
  return text;
}

std::vector<std::string> walls_assumed(const ReportContext& context) {
  const Casting& casting = context.casting;
  const std::vector<const Wall*> walls = walls_of(casting);
  if (walls.empty()) return {};
  std::vector<std::string> lines;
  const double hot_K = casting.glass.annealing_point.value.in_K();
  for (const Mould* material : materials_of(walls)) {
    const ThermalLaw& law = material->conductivity_W_per_m_K;
    std::string line = fmt::format("{}: {:.3g} W/(m K) at {}, {}: {}",
                                   material->name,
                                   law.at(hot_K),
                                   show(casting.glass.annealing_point.value, context.display),
                                   name_of(material->status),
                                   material->conductivity_source);
    if (!law.is_constant()) {
      line += fmt::format("; known from {} to {}, its end values beyond",
                          show(Temperature::from_K(law.from_K()), context.display),
                          show(Temperature::from_K(law.to_K()), context.display));
    }
    lines.push_back(std::move(line));
  }
  if (has(walls, Layer::Kind::air)) {
    lines.push_back("air gaps: still air, and radiation between surfaces of emissivity 0.9");
  }
  lines.push_back(
      "moulds are dry and as hot as the glass at the start; solids touch perfectly where no "
      "contact "
      "is given");
  lines.push_back(
      "what glass and mould do to each other by shrinking unlike, at undercuts and cores, is not "
      "computed");
  return lines;
}

std::string hold_walls_keys(const ReportContext& context, Duration needed) {
  const Casting& casting = context.casting;
  if (!casting.walls) return {};
  std::string text;
  text += fmt::format("glass_behind_kiln_h = {:.6g}\n",
                      steady_of(context, casting).behind_kiln_s() / 3600.0);
  text += fmt::format("glass_behind_kiln_bare_h = {:.6g}\n",
                      steady_of(context, bare(casting)).behind_kiln_s() / 3600.0);
  if (!context.hold_in_walls) return text;
  text += fmt::format("hold_bare_min = {:.6g}\n", in_min(context.hold_in_walls->bare));
  text +=
      fmt::format("hold_for_walls_min = {:.6g}\n", in_min(needed - context.hold_in_walls->bare));
  for (const HoldInWalls::IfConduct& one : context.hold_in_walls->if_conduct) {
    text += fmt::format(
        "hold_at_{}_conductivity_min = {:.6g}\n", conducts(one.factor), in_min(one.needed));
  }
  return text;
}

std::string check_walls_keys(const ReportContext& context) {
  std::string text;
  for (const IfWallsConduct& one : context.if_walls_conduct) {
    const char* which = conducts(one.factor);
    text += fmt::format("retardation_at_{}_conductivity_nm_per_cm = {:.6g}\n",
                        which,
                        one.retardation.in_nm_per_cm());
    text +=
        fmt::format("tension_at_{}_conductivity_MPa = {:.6g}\n", which, one.peak_tension_Pa * 1e-6);
    if (one.opens)
      text +=
          fmt::format("open_after_at_{}_conductivity_h = {:.6g}\n", which, in_h(one.open_after));
  }
  return text;
}

}  // namespace thickset
