#include "checking/notes.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

#include <fmt/format.h>

#include "checking/another_reading.h"
#include "checking/in_pieces.h"
#include "checking/remedy.h"
#include "checking/rules.h"
#include "relaxation/relaxation_time.h"
#include "schedule/fit_to_settings.h"
#include "simulation/beyond_model.h"
#include "units/spoken.h"

namespace thickset {
namespace {

constexpr double just_followed = 0.99;          // of the kiln's own rate: a pace that it keeps
constexpr double hold_below_annealing_K = 2.0;  // a hold this near the annealing point is at it
constexpr double worth_a_word_K = 5.0;          // from the kiln: then the glass is there
constexpr double uneven_worth_a_word_K = 1.0;   // difference left at the end of a hold worth a word

Finding note(Finding::Kind kind, int step, std::string text) {
  return {.kind = kind, .over = false, .step = step, .text = std::move(text), .passing_rate = {}};
}

double minutes_of(double time_s) {
  return time_s / 60.0;
}

/// Slowest time constant of the casting by conduction alone, at its annealing point; in a wall, and
/// about as long as that holds it back.
double slowest_time_s(const Casting& casting) {
  const Glass& glass = casting.glass;
  const double T_K = glass.annealing_point.value.in_K();
  const double diffusivity = glass.diffusivity_m2_per_s(T_K);
  const double mode_m = equivalent_slabs(casting).slowest_mode.in_m();
  const double bare_s = mode_m * mode_m / (std::numbers::pi * std::numbers::pi * diffusivity);
  if (!casting.walls) return bare_s;
  const SteadyCooling steady = steady_cooling(casting, {}, glass.annealing_point.value);
  return bare_s + steady.surface_to_kiln_s;
}

void note_law_range(std::vector<Finding>& notes,
                    const char* what,
                    const ThermalLaw& law,
                    const History& history,
                    Degrees shown) {
  double lowest_K = history.rows.front().surface_K;
  double highest_K = lowest_K;
  for (const History::Row& row : history.rows) {
    lowest_K = std::min({lowest_K, row.surface_K, row.centre_K});
    highest_K = std::max({highest_K, row.surface_K, row.centre_K});
  }
  if (law.covers(lowest_K) && law.covers(highest_K)) return;
  notes.push_back(
      note(Finding::Kind::outside_model,
           -1,
           fmt::format(
               "the glass goes from {} to {}, its {} is known from {} to {}: the value at the end "
               "of that range is used beyond it",
               spoken(Temperature::from_K(lowest_K), shown),
               spoken(Temperature::from_K(highest_K), shown),
               what,
               spoken(Temperature::from_K(law.from_K()), shown),
               spoken(Temperature::from_K(law.to_K()), shown))));
}

/// What to key where the kiln falls more slowly than it is told: "; at 35 °C it falls by itself at
/// 2.1 °C/h: key no faster, or a higher target".
std::string what_it_follows(const Kiln& kiln,
                            const Firing& firing,
                            const KeyedStep& keyed,
                            Degrees shown) {
  const NaturalCooling natural = kiln.natural_cooling.in_room(firing.room);
  if (!(keyed.to < keyed.from && keyed.to > natural.room())) return {};
  const double rate_K_per_h = just_followed * natural.rate_at(keyed.to).in_K_per_h();
  return fmt::format(
      "; at {} it falls by itself at {:.2g} °{}/h: key no faster, or a higher target",
      spoken(keyed.to, shown),
      in_degrees(TemperatureDifference::from_K(rate_K_per_h), shown),
      letter(shown));
}

}  // namespace

std::vector<Finding> hold_findings(const Casting& casting,
                                   const Kiln& kiln,
                                   const Measured& measured,
                                   Degrees shown) {
  const Glass& glass = casting.glass;
  const Temperature annealing = glass.annealing_point.value;
  const Temperature strain = glass.strain_point.value;
  std::vector<Finding> findings;
  if (!measured.hold) {
    findings.push_back(note(
        Finding::Kind::hold_too_short,
        -1,
        fmt::format("no hold near the annealing point ({}): the glass is taken as cooled straight "
                    "through",
                    spoken(annealing, shown))));
    return findings;
  }
  const AnnealHold& hold = *measured.hold;
  const double length_min = minutes_of(hold.end_s - hold.start_s);
  const TemperatureDifference tolerance = sensor_tolerance(kiln, hold.temperature);
  const Temperature floor = rules::hold_floor(glass, kiln);
  const double needed_min = minutes_of(in_s(relaxation::time_to_relax(glass, hold.temperature)));

  if (hold.temperature < floor) {
    findings.push_back(
        note(Finding::Kind::hold_too_cool,
             hold.step,
             fmt::format(
                 "the hold at {} is nearer the strain point ({}) than {} and the sensor's "
                 "tolerance of {}: a sensor that reads high ends it unrelaxed; hold at {} or above",
                 spoken(hold.temperature, shown),
                 spoken(strain, shown),
                 spoken(rules::margin_above_strain(glass, kiln), shown),
                 spoken(tolerance, shown),
                 spoken(whole_degree_above(floor, shown), shown))));
  }
  if (hold.temperature > annealing + rules::hold_above_annealing) {
    findings.push_back(note(Finding::Kind::hold_too_hot,
                            hold.step,
                            fmt::format("the hold at {} is far above the annealing point ({}): the "
                                        "piece may sag or take up the mould's skin",
                                        spoken(hold.temperature, shown),
                                        spoken(annealing, shown))));
  }
  const bool below_annealing =
      hold.temperature < annealing - TemperatureDifference::from_K(hold_below_annealing_K);
  const History::Row& end = measured.history.at(hold.end_s);
  if (below_annealing && !hold.relaxes) {
    Finding finding = note(
        Finding::Kind::hold_too_short,
        hold.step,
        fmt::format(
            "when the hold of {:.0f} min at {} ends, the fall before it has left {:.2f} MPa, and "
            "the structure is {} from equilibrium: part of it stays; estimate: {:.0f} min to relax "
            "once the slowest glass has arrived",
            length_min,
            spoken(hold.temperature, shown),
            hold.left_Pa * 1e-6,
            spoken(TemperatureDifference::from_K(hold.off_equilibrium_K), shown),
            needed_min));
    finding.value = length_min;
    finding.limit = needed_min;
    findings.push_back(std::move(finding));
  }
  const double behind_K = end.centre_K - end.kiln_K;
  if (casting.walls && std::abs(behind_K) > worth_a_word_K) {
    findings.push_back(note(
        Finding::Kind::hold_too_short,
        hold.step,
        fmt::format("when the hold ends the slowest glass, behind its wall, is still {} {} the "
                    "kiln: a hold counts from when the glass has arrived",
                    spoken(TemperatureDifference::from_K(std::abs(behind_K)), shown),
                    behind_K > 0.0 ? "above" : "below")));
  }
  const double left_K = std::abs(end.centre_K - end.surface_K);
  if (left_K > uneven_worth_a_word_K) {
    const double more_min =
        minutes_of(slowest_time_s(casting) * std::log(left_K / uneven_worth_a_word_K));
    findings.push_back(
        note(Finding::Kind::hold_too_short,
             hold.step,
             fmt::format("when the hold ends the core is still {} from the surface; "
                         "{:.0f} min more would bring it within {}",
                         spoken(TemperatureDifference::from_K(left_K), shown),
                         std::max(more_min, 1.0),
                         spoken(TemperatureDifference::from_K(uneven_worth_a_word_K), shown))));
  }
  return findings;
}

std::vector<Finding> late_findings(const Kiln& kiln,
                                   const Program& program,
                                   const Firing& firing,
                                   const FollowedProgram& followed,
                                   Degrees shown) {
  std::vector<Finding> findings;
  const Temperature start = start_of(program, firing);
  const auto in_program = [&](const FollowedProgram::Late& late) {
    return late.step < static_cast<int>(program.steps.size());
  };
  if (followed.broken_off) {
    Finding finding =
        note(Finding::Kind::kiln_cannot_follow,
             -1,
             "this controller stops when the kiln is late, and it would be: the rest of "
             "the program would not run; lengthen the step the kiln cannot follow");
    finding.over = true;
    if (!followed.late.empty() && in_program(followed.late.back())) {
      finding.step = followed.late.back().step;
      const auto step = static_cast<std::size_t>(finding.step);
      const KeyedStep keyed = keyed_step(program, step, start);
      const NaturalCooling natural = kiln.natural_cooling.in_room(firing.room);
      if (keyed.to < keyed.from && keyed.to > natural.room())
        finding.passing_rate =
            Rate::from_K_per_s(just_followed * natural.rate_at(keyed.to).in_K_per_s());
    }
    findings.push_back(std::move(finding));
  }
  for (const FollowedProgram::Late& late : followed.late) {
    if (!in_program(late)) continue;
    const auto step = static_cast<std::size_t>(late.step);
    findings.push_back(
        note(Finding::Kind::kiln_cannot_follow,
             late.step,
             fmt::format("step {}: the kiln cannot follow by itself; it arrives {:.0f} min "
                         "late and is up to {} {} the program{}",
                         late.step + firing.first_step,
                         minutes_of(in_s(late.late)),
                         spoken(TemperatureDifference::from_K(std::abs(late.above.in_K())), shown),
                         late.above.in_K() < 0.0 ? "below" : "above",
                         what_it_follows(kiln, firing, keyed_step(program, step, start), shown))));
  }
  return findings;
}

std::vector<Finding> program_notes(const Casting& casting,
                                   const Program& program,
                                   const Firing& firing,
                                   const Measured& measured,
                                   Degrees shown) {
  std::vector<Finding> notes;
  const Temperature start = start_of(program, firing);
  bool cooled = false;
  for (std::size_t i = 0; i < program.steps.size(); ++i) {
    const KeyedStep keyed = keyed_step(program, i, start);
    const bool heats = keyed.to > keyed.from;
    if (heats && i == 0 && !program.start) {
      notes.push_back(note(
          Finding::Kind::heats,
          0,
          fmt::format("step {} heats, to {}: the program has no start row and is "
                      "taken to begin at {}. Is its target right? Key a lower one, or say with "
                      "--from where the firing begins",
                      firing.first_step,
                      spoken(keyed.to, shown),
                      spoken(keyed.from, shown))));
    }
    cooled = cooled || keyed.to < keyed.from;
    if (heats && cooled) {
      const bool melts = keyed.to > casting.glass.annealing_point.value + melts_above_annealing;
      notes.push_back(
          note(Finding::Kind::heats,
               static_cast<int>(i),
               fmt::format(
                   "step {} heats, from {} to {}: is its target right, and that of step "
                   "{}?{}",
                   static_cast<int>(i) + firing.first_step,
                   spoken(keyed.from, shown),
                   spoken(keyed.to, shown),
                   static_cast<int>(i) - 1 + firing.first_step,
                   melts && !program.start
                       ? fmt::format(
                             " It is taken to begin at {}; where it begins in a "
                             "cold kiln, say so with --from {}",
                             spoken(start, shown),
                             fmt::format("{:.0f}{}", in_degrees(firing.room, shown), letter(shown)))
                       : std::string{})));
    }
  }
  const double in_pieces_s = in_pieces_until_s(measured.followed.air, casting.glass);
  if (start < casting.glass.strain_point.value && in_pieces_s > 0.0) {
    notes.push_back(
        note(Finding::Kind::in_pieces,
             -1,
             fmt::format(
                 "tension in the first {} does not count: until then the kiln goes above {}, "
                 "where glass flows into its mould; on the way up it was in pieces. A whole piece "
                 "that is heated again may break: plan that with `thickset rewarm`",
                 in_words(minutes(std::round(in_pieces_s / 60.0))),
                 spoken(casting.glass.annealing_point.value + melts_above_annealing, shown))));
  }
  const Temperature end = program.steps.back().target;
  if (end < firing.room + rules::last_target_above_room) {
    notes.push_back(note(
        Finding::Kind::no_cooling_to_room,
        static_cast<int>(program.steps.size()) - 1,
        fmt::format(
            "the last target, {}, is {} the room ({}): a kiln may never reach it and the program "
            "never end; key {} or above",
            spoken(end, shown),
            end < firing.room
                ? std::string{"below"}
                : fmt::format("within {} of", spoken(rules::last_target_above_room, shown)),
            spoken(firing.room, shown),
            spoken(whole_degree_above(firing.room + rules::last_target_above_room, shown),
                   shown))));
  }
  for (Finding& finding : casting_notes(casting, measured.history, shown)) {
    notes.push_back(std::move(finding));
  }
  return notes;
}

std::vector<Finding> casting_notes(const Casting& casting, const History& history, Degrees shown) {
  std::vector<Finding> notes;
  for (std::string& sentence : beyond_model(casting)) {
    notes.push_back(note(Finding::Kind::outside_model, -1, std::move(sentence)));
  }
  note_law_range(notes, "conductivity", casting.glass.conductivity_W_per_m_K.value, history, shown);
  note_law_range(
      notes, "heat capacity", casting.glass.heat_capacity_J_per_kg_K.value, history, shown);
  return notes;
}

std::vector<Finding> controller_notes(const Program& program,
                                      const Controller& controller,
                                      Temperature start) {
  std::vector<Finding> notes;
  const FittedProgram fitted =
      fit_to_settings(program, controller, start, controller.largest_rate).fitted;
  for (const std::string& cannot : fitted.cannot) {
    notes.push_back(note(Finding::Kind::cannot_be_keyed, -1, cannot));
  }
  for (const std::string& change : fitted.changes) {
    notes.push_back(note(Finding::Kind::controller_limit,
                         -1,
                         "keyed on this controller the program changes: " + change));
  }
  return notes;
}

}  // namespace thickset
