#include "reporting/sections.h"

#include <fmt/format.h>
#include <cmath>
#include <set>

#include "checking/remedy.h"
#include "reporting/shape_stress_section.h"
#include "reporting/solid_section.h"
#include "reporting/walls_section.h"
#include "simulation/steady_cooling.h"
#include "stress/permanent_estimate.h"
#include "units/beside_limit.h"

namespace thickset {
const char* word(Verdict verdict) {
  switch (verdict) {
    case Verdict::within: return "within";
    case Verdict::too_close_to_call: return "too close to call";
    case Verdict::over: return "over";
  }
  return "";
}

std::string limits_section(const Limits& limits) {
  std::string text = "Limits:\n";
  text +=
      wrapped(fmt::format(
                  "  permanent  {:g} nm/cm ({})", limits.grade.in_nm_per_cm(), limits.grade_reason),
              78,
              13) +
      '\n';
  text += wrapped(fmt::format(
                      "  tension    {:g} MPa ({})", limits.tension.in_MPa(), limits.tension_reason),
                  78,
                  13) +
          '\n';
  return text +
         wrapped(
             "  No source for cast glass was found. Re-entrant corners, inclusions and "
             "cold-working marks can double the stress where they are; that is not "
             "computed.") +
         '\n';
}

std::string made_for(const ReportContext& context) {
  return wrapped(fmt::format("For: {}{}; {}; kiln: {}; room {}.",
                             describe(context.casting.shape, context.display.lengths),
                             with_walls(context.casting, context.display.lengths),
                             context.casting.glass.title,
                             context.kiln.title,
                             show(context.firing.room, context.display))) +
         '\n' + limits_section(context.limits);
}

std::string stress_section(const ReportContext& context, const CheckResult& result) {
  const PermanentStress& permanent = result.measured.permanent;
  std::string text =
      fmt::format("Stress, computed with structure and stress relaxing (bulk: {}):\n",
                  name_of(context.casting.glass.relaxation.bulk));
  text += fmt::format(
      "  permanent, seen edge-on  {:>6} nm/cm   limit {:g}\n",
      beside_limit(permanent.retardation.in_nm_per_cm(), context.limits.grade.in_nm_per_cm()),
      context.limits.grade.in_nm_per_cm());
  text +=
      fmt::format("    tension at the core    {:6.2f} MPa, compression at the surface {:.2f} MPa\n",
                  permanent.mid_Pa * 1e-6,
                  -permanent.surface_Pa * 1e-6);
  text += fmt::format("    classical formula      {:6.2f} MPa; computed is {:.2f} times that\n",
                      permanent.classical_mid_Pa * 1e-6,
                      permanent.structural_factor());
  text += fmt::format("    estimate               {:6.2f} MPa, classical times {:.2f}\n",
                      permanent.estimate_mid_Pa() * 1e-6,
                      permanent.estimate_factor);
  constexpr double far_below_classical = 0.7;
  if (permanent.structural_factor() < far_below_classical) {
    text +=
        "    (both take the largest gradient below the annealing point, here of a quick\n"
        "    stretch whose stress, as computed, relaxes while the next one passes)\n";
  }
  text += fmt::format(
      "  largest tension at any time  {} MPa   limit {:g}\n",
      beside_limit(result.measured.peak_tension_Pa * 1e-6, context.limits.tension.in_MPa()),
      context.limits.tension.in_MPa());
  text += surface_factor_line(context.casting);
  if (!std::holds_alternative<Slab>(context.casting.governing_shape())) {
    text +=
        "  nm/cm are slab-equivalent: the largest tension at the centre as a slab would\n"
        "  show it (the centre of a ball shows nothing)\n";
  }
  text += fmt::format("  unaccounted for: {:.0e} of the heat, {:.0e} Pa of the forces\n",
                      result.measured.history.heat_balance_error,
                      permanent.net_stress_Pa);
  text +=
      wrapped(
          "How the bulk of the glass is taken to relax (its treatment) alone moves the permanent "
          "stress by -20 to +80 %, most for thick glass whose rates step up late; --explain "
          "shows what it does here.") +
      '\n';
  return text;
}

std::string treatments_section(const ReportContext& context, const Treatments& treatments) {
  std::string text = "What each treatment of the bulk gives:\n";
  for (const Treatments::Outcome& outcome : treatments.outcomes) {
    text += fmt::format("  {:<14}{:6.1f} nm/cm {:5.2f} MPa at the core, pulls {:.1f} MPa{}\n",
                        name_of(outcome.bulk),
                        outcome.retardation.in_nm_per_cm(),
                        outcome.mid_Pa * 1e-6,
                        outcome.peak_tension_Pa * 1e-6,
                        outcome.retardation > context.limits.grade ? ", over" : "");
  }
  text += fmt::format(
      "Of the permanent stress {:.0f} % is structural: it comes from the structure's lag\n"
      "while cooling, not from the gradient alone.\n",
      100.0 * treatments.structural_share);
  return text;
}

std::string equivalents_section(const ReportContext& context) {
  const Casting& casting = context.casting;
  const Display& display = context.display;
  const EquivalentSlabs slabs = equivalent_slabs(casting);
  std::string text = fmt::format("Thickness (largest ball that fits): {}\n",
                                 show(largest_ball(casting.governing_shape()), display));
  if (casting.reservoir_governs()) {
    text += wrapped(fmt::format("The reservoir ({}) is thicker than the piece ({}) and governs: it "
                                "is planned for as a slab of its own thickness.",
                                show(*casting.reservoir, display),
                                show(largest_ball(casting.shape), display))) +
            '\n';
  }
  text += fmt::format(
      "Slabs that stand for the shape, each for what it is right for:\n"
      "  {:>8}  same difference core to surface: rates, tension\n"
      "  {:>8}  same slowest evening out: the hold\n"
      "  {:>8}  same permanent tension at the centre: nm/cm\n",
      show(slabs.steady_difference, display),
      show(slabs.slowest_mode, display),
      show(slabs.permanent_tension, display));
  return text + solid_section(context);
}

std::string kiln_at_end(const CheckResult& result, const Program& program, const Display& display) {
  constexpr double there_K = 2.0;
  const Temperature target = program.steps.back().target;
  const Temperature kiln =
      Temperature::from_K(result.measured.followed.air.at_K(in_s(result.program_time)));
  if (std::abs((kiln - target).in_K()) <= there_K) return show(target, display) + " on this kiln";
  return fmt::format("{} on this kiln, not yet {}", show(kiln, display), show(target, display));
}

std::string rates_looked_for_alone(const CheckResult& result) {
  std::set<int> steps;
  for (const Finding& finding : result.findings) {
    if (finding.said_first() && finding.passing_rate) steps.insert(finding.step);
  }
  if (steps.size() < 2) return {};
  return wrapped(
             "Each of these rates was looked for with everything else as it is: together they may "
             "not "
             "be enough. Check again with all of them.") +
         '\n';
}

std::string assumptions_section(const ReportContext& context) {
  std::vector<std::string> lines =
      in_one_scale(assumed_values(context.casting.glass), context.display);
  for (const std::string& line : context.kiln.assumed) lines.push_back(line);
  if (context.controller_assumed) {
    lines.push_back(
        fmt::format("controller: {}, since none was named: give --controller with your own",
                    context.controller.title));
  }
  if (!context.reheated) {
    lines.push_back(fmt::format("glass and kiln are even at {} and free of stress at the start",
                                show(context.firing.from, context.display)));
  }
  if (context.casting.walls || context.casting.side_walls) {
    for (const std::string& line : walls_assumed(context)) lines.push_back(line);
  } else {
    lines.push_back(
        "faces against a core, shelf or mould do not cool: only the faces you named do");
  }
  std::string text = "Assumed, since not given:\n" + listed(lines);
  if (!context.casting.glass.warnings.empty()) {
    text += "About this glass:\n" +
            listed(in_one_scale(context.casting.glass.warnings, context.display));
  }
  return text;
}

}  // namespace thickset
