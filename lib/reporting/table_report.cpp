#include "reporting/table_report.h"

#include <algorithm>

#include <fmt/format.h>

#include "checking/opening.h"
#include "planning/hold_course.h"
#include "reporting/cautions.h"
#include "reporting/sections.h"
#include "reporting/walls_section.h"

namespace thickset {
namespace {

constexpr double hours_a_day = 24.0;

std::string tenths(Duration time) {
  return fmt::format("{:.1f}", in_h(time));
}

/// "29.9 h", "365.4 h (15.2 days)".
std::string hours_and_days(Duration time) {
  const std::string text = tenths(time) + " h";
  if (in_h(time) < days_from_h) return text;
  return fmt::format("{} ({:.1f} days)", text, in_h(time) / hours_a_day);
}

std::string line_of(const TableCells& cells) {
  return fmt::format("{:>9} {:>7} {:>9} {:>7} {:>7} {:>8} {:>7} {:>6} {:>5} {:>6}\n",
                     cells.thickness,
                     cells.arrive,
                     cells.even_out,
                     cells.relax,
                     cells.set,
                     cells.run_out,
                     cells.total,
                     cells.days,
                     cells.tension,
                     cells.retardation);
}

std::string hours_table(const ReportContext& context, std::span<const ThicknessRow> rows) {
  std::string text = line_of({"thickness",
                              "arrive",
                              "even out",
                              "relax",
                              "set",
                              "run out",
                              "total",
                              "days",
                              "MPa",
                              "nm/cm"});
  for (const ThicknessRow& row : rows) {
    text += row.planned() ? line_of(table_cells(row, context.display))
                          : fmt::format("{:>9}  no plan; the reason is below\n",
                                        show(row.thickness, context.display));
  }
  return text;
}

/// How much of the run-out is the kiln's.
std::string kilns_own_fall(const ReportContext& context) {
  const Temperature from = has_set_at(context.casting.glass);
  const Temperature to =
      std::min(opening_limit(context.firing.room),
               context.firing.room + TemperatureDifference::from_K(opening_above_room_K));
  if (!(to > context.firing.room && to < from)) return {};
  return fmt::format(" By itself this kiln falls from {} to {} in {:.1f} h.",
                     show(from, context.display),
                     show(to, context.display),
                     in_h(context.kiln.natural_cooling.time_to_fall(from, to)));
}

}  // namespace

TableCells table_cells(const ThicknessRow& row, const Display& display) {
  const Measured& measured = row.found->tail.check.measured;
  return {.thickness = show(row.thickness, display),
          .arrive = tenths(row.hours.arriving),
          .even_out = tenths(row.hours.evening),
          .relax = tenths(row.hours.relaxing),
          .set = tenths(row.hours.setting),
          .run_out = tenths(row.hours.running_out),
          .total = tenths(row.hours.total()),
          .days = fmt::format("{:.1f}", in_h(row.hours.total()) / hours_a_day),
          .tension = fmt::format("{:.1f}", measured.peak_tension_Pa * 1e-6),
          .retardation = fmt::format("{:.1f}", measured.permanent.retardation.in_nm_per_cm())};
}

std::string tabled_kind(const Casting& first, Lengths unit) {
  std::string kind = "slabs";
  if (std::holds_alternative<Rod>(first.shape)) kind = "rods";
  if (std::holds_alternative<Ball>(first.shape)) kind = "balls";
  if (first.walls) return kind + with_walls(first, unit);
  if (const auto* const slab = std::get_if<Slab>(&first.shape)) {
    switch (slab->faces) {
      case Faces::both: return kind + ", both faces cooled";
      case Faces::one_free: return kind + ", one face cooled, free to bend";
      case Faces::one_held: return kind + ", one face cooled, held flat";
    }
  }
  return kind;
}

std::string table_to_do(const ReportContext& context, std::span<const ThicknessRow> rows) {
  const ThicknessRow *thinnest = nullptr, *thickest = nullptr;
  std::size_t planned = 0;
  for (const ThicknessRow& row : rows) {
    if (!row.planned()) continue;
    if (thinnest == nullptr) thinnest = &row;
    thickest = &row;
    ++planned;
  }
  const std::string none = fmt::format("No plan for {} of {} {}.",
                                       rows.size() - planned,
                                       rows.size(),
                                       rows.size() == 1 ? "thickness" : "thicknesses");
  if (planned == 0) return wrapped(none) + '\n';
  const auto takes = [&](const ThicknessRow& row) {
    return fmt::format(
        "{} for {}", hours_and_days(row.hours.total()), show(row.thickness, context.display));
  };
  const std::string span = planned == 1
                               ? takes(*thinnest)
                               : fmt::format("From {} to {}", takes(*thinnest), takes(*thickest));
  std::string text = fmt::format("{}, from the start at {} until it may be opened.",
                                 span,
                                 show(context.firing.from, context.display));
  if (planned < rows.size()) text += ' ' + none;
  return wrapped(text) + '\n';
}

std::string table_made_for(const ReportContext& context) {
  return fmt::format("For: {}; {}; kiln: {}; controller: {}; room {}.",
                     tabled_kind(context.casting, context.display.lengths),
                     context.casting.glass.title,
                     context.kiln.title,
                     context.controller.title,
                     show(context.firing.room, context.display));
}

std::string table_columns(const ReportContext& context) {
  const Display& display = context.display;
  const Glass& glass = context.casting.glass;
  const Temperature set = has_set_at(glass);
  std::string text =
      wrapped(fmt::format(
          "Hours, each part after the one before. Arrive: the fall from {}, and until the slowest "
          "glass is within {} of the kiln at the hold. Even out: until the difference inside is "
          "{:.0f} % of the one while cooling later. Relax: the rest of the hold. Set: until the "
          "slowest glass is at {}, {} below its strain point; what stays is set until about there. "
          "Run out: the rest, until the slowest glass is at most {} and within {} of the room.{}",
          show(context.firing.from, display),
          show_difference(TemperatureDifference::from_K(arrival_tol_K), display),
          100.0 * evening_share,
          show(set, display),
          show_difference(glass.strain_point.value - set, display),
          show(opening_limit(context.firing.room), display),
          show_difference(TemperatureDifference::from_K(opening_above_room_K), display),
          kilns_own_fall(context))) +
      '\n';
  text += wrapped(fmt::format(
              "MPa: largest tension at any time. nm/cm: what stays, seen edge-on. Both as computed "
              "with the glass's own treatment of the bulk ({}); each plan keeps the limits under "
              "all treatments.",
              name_of(glass.relaxation.bulk))) +
          '\n';
  if (context.casting.walls) {
    text += wrapped(
                "What half and double of an assumed conductivity of the walls would change, "
                "`thickset hold` and `thickset tail` say of one thickness.") +
            '\n';
  }
  return text +
         wrapped(
             "Rates are left out: they belong to one casting. `thickset tail` plans them, "
             "with the steps to key.") +
         '\n';
}

std::string table_no_plan(const ReportContext& context, std::span<const ThicknessRow> rows) {
  std::string text;
  for (const ThicknessRow& row : rows) {
    if (row.planned()) continue;
    text += fmt::format("No plan for {}:\n", show(row.thickness, context.display));
    text += listed(row.no_plan);
  }
  return text;
}

std::vector<std::string> table_notes(const ReportContext& context,
                                     std::span<const ThicknessRow> rows) {
  struct Note {
    std::string text, thicknesses;
    const ThicknessRow* last;
  };
  std::vector<Note> notes;
  const auto add = [&](const std::string& text, const ThicknessRow& row) {
    const std::string thickness = show(row.thickness, context.display);
    const auto known = std::find_if(
        notes.begin(), notes.end(), [&](const Note& other) { return other.text == text; });
    if (known == notes.end()) {
      notes.push_back({text, thickness, &row});
    } else if (known->last != &row) {
      known->thicknesses += ", " + thickness;
      known->last = &row;
    }
  };
  for (const ThicknessRow& row : rows) {
    if (!row.planned()) continue;
    if (!row.found->choice.empty()) add(row.found->choice, row);
    const Tail& tail = row.found->tail;
    for (const std::string& note : tail.notes) add(note, row);
    for (const std::string& note : tail.hold.notes) add(note, row);
    for (const Finding& finding : tail.check.findings) {
      // That the kiln is slower is in the hours; its steps are not shown here.
      if (finding.kind != Finding::Kind::kiln_cannot_follow) add(finding.text, row);
    }
  }
  std::vector<std::string> lines;
  for (const Note& note : notes) lines.push_back(note.thicknesses + ": " + note.text);
  return lines;
}

std::string table_text(const ReportContext& context, std::span<const ThicknessRow> rows) {
  std::string text = table_to_do(context, rows);
  text += '\n' + hours_table(context, rows);
  const std::string no_plan = table_no_plan(context, rows);
  if (!no_plan.empty()) text += '\n' + no_plan;
  text += '\n' + table_columns(context);
  text += '\n' + wrapped(table_made_for(context)) + '\n' + limits_section(context.limits);
  text += '\n' + assumptions_section(context);
  const std::vector<std::string> notes = table_notes(context, rows);
  if (!notes.empty()) text += "\nNotes:\n" + listed(notes);
  return text + '\n' + short_cautions();
}

}  // namespace thickset
