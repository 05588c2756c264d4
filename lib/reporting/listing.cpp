#include "reporting/listing.h"

#include <fmt/format.h>

#include "simulation/steady_cooling.h"

namespace thickset {
namespace {

template <class T>
std::string row(const char* name, const std::string& value, const Property<T>& property) {
  return wrapped(fmt::format("  {:<22} {:<18} {}{}",
                             name,
                             value,
                             property.assumed ? "assumed: " : "",
                             property.source),
                 79,
                 44) +
         '\n';
}

std::string law_text(const ThermalLaw& law, double T_K) {
  return fmt::format("{:.3g}", law.at(T_K));
}

constexpr double room_K = 293.15;
/// Where holds are: moulds are compared there.
constexpr double hot_K = 773.15;

const char* word(Controller::StepForm form) {
  switch (form) {
    case Controller::StepForm::target_minutes: return "target and minutes, holds as steps";
    case Controller::StepForm::rate_target_hold: return "rate, target and hold in one step";
    case Controller::StepForm::ramp_and_hold_lines: return "ramp and hold on lines of their own";
  }
  return "";
}

const char* word(Controller::LateOnCooling late) {
  switch (late) {
    case Controller::LateOnCooling::waits: return "waits until the kiln has arrived";
    case Controller::LateOnCooling::goes_on: return "goes on by the clock";
    case Controller::LateOnCooling::stops: return "breaks the program off";
  }
  return "";
}

}  // namespace

std::string glass_table(const std::vector<Glass>& glasses, const Display& display) {
  std::string text = fmt::format("{:<27} {:>9} {:>8} {:>9} {:>7}  {}\n",
                                 "glass",
                                 "annealing",
                                 "strain",
                                 "softening",
                                 "1e-6/K",
                                 "relaxation");
  for (const Glass& glass : glasses) {
    text += fmt::format("{:<27} {:>9} {:>8} {:>9} {:>7.2f}  {}\n",
                        glass.name,
                        show(glass.annealing_point.value, display),
                        show(glass.strain_point.value, display),
                        glass.softening_point ? show(glass.softening_point->value, display) : "-",
                        glass.expansion_per_K.value * 1e6,
                        glass.relaxation.assumed ? "assumed" : "published");
  }
  return text + "relaxation assumed: times from the fixed points, spectrum of soda-lime glass.\n";
}

std::string describe(const Glass& glass, const Display& display) {
  std::string text = wrapped(glass.name + ": " + glass.title) + '\n';
  text += row("annealing point", show(glass.annealing_point.value, display), glass.annealing_point);
  text += row("strain point", show(glass.strain_point.value, display), glass.strain_point);
  if (glass.softening_point) {
    text +=
        row("softening point", show(glass.softening_point->value, display), *glass.softening_point);
  }
  const Property<TemperatureDifference>& uncertainty = glass.annealing_point_uncertainty;
  text += row("  uncertain by", show_difference(uncertainty.value, display), uncertainty);
  text += row("expansion",
              fmt::format("{:.2f}e-6 /K", glass.expansion_per_K.value * 1e6),
              glass.expansion_per_K);
  text += row("expansion, liquid",
              fmt::format("{:.1f}e-6 /K", glass.liquid_expansion_per_K.value * 1e6),
              glass.liquid_expansion_per_K);
  text += row("density",
              fmt::format("{:.0f} kg/m3", glass.density_kg_per_m3.value),
              glass.density_kg_per_m3);
  text += row("Young's modulus",
              fmt::format("{:.1f} GPa", glass.youngs_modulus_Pa.value * 1e-9),
              glass.youngs_modulus_Pa);
  text +=
      row("Poisson ratio", fmt::format("{:.2f}", glass.poisson_ratio.value), glass.poisson_ratio);
  const double annealing_K = glass.annealing_point.value.in_K();
  text += row("conductivity",
              fmt::format("{} to {} W/(m K)",
                          law_text(glass.conductivity_W_per_m_K.value, room_K),
                          law_text(glass.conductivity_W_per_m_K.value, annealing_K)),
              glass.conductivity_W_per_m_K);
  if (glass.radiation_inside) {
    const RadiationInside& inside = *glass.radiation_inside;
    text += row("  of it by radiation",
                fmt::format("{:.2g} to {:.2g} W/(m K)",
                            radiative_conductivity_W_per_m_K(inside.radiation, room_K),
                            radiative_conductivity_W_per_m_K(inside.radiation, annealing_K)),
                Property<double>{inside.radiation.absorption_per_m, false, inside.source});
  }
  text += row("heat capacity",
              fmt::format("{:.0f} to {:.0f} J/(kg K)",
                          glass.heat_capacity_J_per_kg_K.value.at(room_K),
                          glass.heat_capacity_J_per_kg_K.value.at(annealing_K)),
              glass.heat_capacity_J_per_kg_K);
  text += row("stress-optical coeff.",
              fmt::format("{:.2f} /TPa", glass.stress_optical_per_Pa.value * 1e12),
              glass.stress_optical_per_Pa);
  const RelaxationLaw& law = glass.relaxation;
  text += row("relaxation",
              fmt::format("{:.3g} s at {}",
                          law.mean_shear_time_s,
                          show(Temperature::from_K(law.reference_K), display)),
              Property<double>{law.activation_K, law.assumed, law.source});
  text += wrapped(fmt::format("    mean shear time, activation {:.0f} K, share {:g} of it the "
                              "temperature's; bulk: {}",
                              law.activation_K,
                              law.x,
                              name_of(law.bulk)),
                  79,
                  4) +
          '\n';
  text +=
      fmt::format("Conductivity and heat capacity are shown at {} and at the annealing point.\n",
                  show(Temperature::from_K(room_K), display));
  if (!glass.warnings.empty()) {
    text += "About this glass:\n" + listed(in_one_scale(glass.warnings, display));
  }
  return text;
}

std::string describe(const Casting& casting, const Display& display) {
  const EquivalentSlabs slabs = equivalent_slabs(casting);
  std::string text = wrapped(casting.title) + '\n';
  text += fmt::format("  shape      {}\n", describe(casting.shape, display.lengths));
  text += fmt::format("  glass      {}\n", casting.glass.name);
  if (casting.walls || casting.side_walls) {
    const std::string walls = casting.side_walls
                                  ? describe(*casting.side_walls, display.lengths)
                                  : describe(*casting.walls, casting.shape, display.lengths);
    text += wrapped("  walls      " + walls, 79, 13) + '\n';
  }
  text += fmt::format("  thickness  {} (largest ball that fits)\n",
                      show(largest_ball(casting.shape), display));
  if (casting.reservoir) {
    text += fmt::format("  reservoir  {}{}\n",
                        show(*casting.reservoir, display),
                        casting.reservoir_governs() ? ", thicker than the piece: it governs" : "");
  }
  text += wrapped(fmt::format("  equivalent slabs: {} for rates, {} for the hold, {} for nm/cm",
                              show(slabs.steady_difference, display),
                              show(slabs.slowest_mode, display),
                              show(slabs.permanent_tension, display))) +
          '\n';
  return text;
}

std::string mould_table(const std::vector<Mould>& moulds, const Display& display) {
  std::string text = fmt::format("moulds, conductivity at {}:\n{:<22} {:>8} {:>7} {:>8}  {}\n",
                                 show(Temperature::from_K(hot_K), display),
                                 "",
                                 "W/(m K)",
                                 "kg/m3",
                                 "J/(kg K)",
                                 "rests on");
  for (const Mould& mould : moulds) {
    text += fmt::format("{:<22} {:>8.3g} {:>7.0f} {:>8.0f}  {}\n",
                        mould.name,
                        mould.conductivity_W_per_m_K.at(hot_K),
                        mould.density_kg_per_m3,
                        mould.heat_capacity_J_per_kg_K.at(hot_K),
                        name_of(mould.status));
    text += wrapped("    " + mould.title, 79, 4) + '\n';
  }
  return text;
}

std::string describe(const Mould& mould, const Display& display) {
  std::string text = wrapped(mould.name + ": " + mould.title) + '\n';
  const auto line = [](const char* name, const std::string& value, const std::string& source) {
    return wrapped(fmt::format("  {:<15} {:<26} {}", name, value, source), 79, 45) + '\n';
  };
  text +=
      line("density", fmt::format("{:.0f} kg/m3", mould.density_kg_per_m3), mould.density_source);
  const ThermalLaw& k = mould.conductivity_W_per_m_K;
  const std::string conducts =
      k.is_constant() ? fmt::format("{} W/(m K)", law_text(k, hot_K))
                      : fmt::format("{} to {} W/(m K)", law_text(k, room_K), law_text(k, hot_K));
  text += line("conductivity", conducts, mould.conductivity_source);
  text += line("heat capacity",
               fmt::format("{:.0f} J/(kg K)", mould.heat_capacity_J_per_kg_K.at(hot_K)),
               mould.heat_capacity_source);
  text += fmt::format("  {:<15} {}\n", "status", name_of(mould.status));
  text += wrapped(fmt::format("Where two conductivities stand they are at {} and at {}.",
                              show(Temperature::from_K(room_K), display),
                              show(Temperature::from_K(hot_K), display))) +
          '\n';
  if (mould.assumed()) {
    text += wrapped(
                "Its conductivity is assumed: hold, tail and check show what half and double of it "
                "would change.") +
            '\n';
  }
  return text;
}

std::string describe(const Kiln& kiln, const Display& display) {
  std::string text = wrapped(kiln.name + ": " + kiln.title) + "\n  falls by itself at\n";
  for (const NaturalCooling::Point& point : kiln.natural_cooling.points()) {
    text += fmt::format(
        "    {:>8}  {:>10}\n", show(point.temperature, display), show(point.rate, display));
  }
  text += fmt::format("  in a room of {}\n", show(kiln.natural_cooling.room(), display));
  text += fmt::format("  heats at most {}\n", show(kiln.fastest_heating, display));
  text += fmt::format("  exchange: {:g} W/(m2 K) by convection, emissivity {:g}\n",
                      kiln.film_coefficient_W_per_m2_K,
                      kiln.emissivity);
  return text + listed(kiln.assumed);
}

std::string describe(const Controller& controller) {
  const Degrees degrees = controller.degrees;
  const char* unit = letter(degrees);
  std::string text = wrapped(controller.name + ": " + controller.title) + '\n';
  text += fmt::format("  a step is         {}\n", word(controller.step_form));
  if (controller.other_step_form) {
    text += fmt::format("    or, if set so   {}\n", word(*controller.other_step_form));
  }
  text += fmt::format("  steps             {}\n", controller.steps);
  if (controller.other_degrees) {
    text += fmt::format(
        "  degrees           °{} or, if set so, °{}\n", unit, letter(*controller.other_degrees));
  }
  text += fmt::format("  targets           {:g} to {:g} °{} in steps of {:g} °{}\n",
                      in_degrees(controller.lowest_target, degrees),
                      in_degrees(controller.highest_target, degrees),
                      unit,
                      controller.degree_step,
                      unit);
  if (controller.notation() == Notation::rate) {
    text += fmt::format("  rates             {:g} to {:g} °{}/h in steps of {:g} °{}/h\n",
                        in_degrees_per_h(controller.smallest_rate, degrees),
                        in_degrees_per_h(controller.largest_rate, degrees),
                        unit,
                        controller.rate_step_per_h,
                        unit);
  }
  text += fmt::format("  longest time      {:g} min in steps of {:g} min\n",
                      in_min(controller.longest_time),
                      in_min(controller.time_step));
  text += fmt::format(
      "  as fast as it goes: {}\n",
      controller.as_fast_key ? "key " + *controller.as_fast_key : "it has no such step");
  text += fmt::format("  at the end        {}\n",
                      controller.end_key.empty() ? "nothing to key" : "key " + controller.end_key);
  text += fmt::format("  late on cooling   {}{}\n",
                      word(controller.late_on_cooling),
                      controller.late_on_cooling_known ? "" : " (not known, assumed)");
  return text;
}

}  // namespace thickset
