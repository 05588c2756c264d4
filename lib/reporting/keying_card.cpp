#include "reporting/keying_card.h"

#include <algorithm>
#include <cctype>
#include <span>
#include <sstream>

#include <fmt/format.h>

#include "base/text.h"
#include "checking/slips.h"
#include "reporting/page/firing_views.h"

namespace thickset {
namespace {

/// The text with a space in each word that is longer than `most` characters.
std::string broken_words(const std::string& text, std::size_t most) {
  std::string result;
  std::size_t length = 0;
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t bytes = std::max<std::size_t>(utf8_length_at(text, at), 1);
    if (text[at] == ' ') {
      length = 0;
    } else if (length++ == most) {
      result += ' ';
      length = 1;
    }
    result += text.substr(at, bytes);
    at += bytes;
  }
  return result;
}

std::string paragraph(const std::string& text, std::size_t indent = 0) {
  if (text.empty()) return {};
  return wrapped(broken_words(text, card_columns - indent), card_columns, indent) + '\n';
}

std::string sentence(std::string text) {
  if (text.empty()) return text;
  text.front() = static_cast<char>(std::toupper(static_cast<unsigned char>(text.front())));
  return text.ends_with('.') ? text : text + '.';
}

/// The widest cell of each column.
std::vector<std::size_t> widths_of(const KeyedSteps& steps) {
  std::vector<std::size_t> widths;
  for (const std::string& head : steps.heads) widths.push_back(count_characters(head));
  for (const KeyedSteps::Row& row : steps.rows) {
    for (std::size_t i = 0; i < row.cells.size(); ++i) {
      widths[i] = std::max(widths[i], count_characters(row.cells[i]));
    }
  }
  return widths;
}

std::string line_of(const std::vector<std::string>& cells,
                    const KeyedSteps& steps,
                    const std::vector<std::size_t>& widths,
                    std::size_t apart) {
  std::string line;
  for (std::size_t i = 0; i < cells.size(); ++i) {
    if (i > 0) line.append(apart, ' ');
    const std::string padding(widths[i] - count_characters(cells[i]), ' ');
    const bool is_kind = i == 1 && steps.heads[i].empty();  // "ramp" or "hold"
    line += is_kind ? cells[i] + padding : padding + cells[i];
  }
  line.erase(line.find_last_not_of(' ') + 1);
  return line + '\n';
}

/// Cells too wide to stand side by side: the row goes on in the next line, no cell in two that fits
/// in one.
std::string flowing_line(const std::vector<std::string>& cells) {
  constexpr std::size_t indent = 5;
  constexpr std::size_t width = card_columns - indent;
  std::string text;
  std::string line;
  const auto end_line = [&] {
    text += (text.empty() ? "" : std::string(indent, ' ')) + line + '\n';
    line.clear();
  };
  for (const std::string& cell : cells) {
    if (cell.empty()) continue;
    const std::size_t with_it = count_characters(line) + 2 + count_characters(cell);
    if (!line.empty() && with_it <= width) {
      line += "  " + cell;
      continue;
    }
    if (!line.empty()) end_line();
    std::istringstream pieces{wrapped(broken_words(cell, width), width, 0)};
    for (std::string piece; std::getline(pieces, piece);) {
      if (!line.empty()) end_line();
      line = piece;
    }
  }
  end_line();
  return text;
}

std::string table_of(const KeyedSteps& steps) {
  const std::vector<std::size_t> widths = widths_of(steps);
  std::size_t sum = 0;
  for (const std::size_t width : widths) sum += width;
  const std::size_t gaps = widths.size() - 1;
  const std::size_t apart = sum + 2 * gaps <= card_columns ? 2 : 1;
  const bool fits = sum + apart * gaps <= card_columns;
  const auto line = [&](const std::vector<std::string>& cells) {
    return fits ? line_of(cells, steps, widths, apart) : flowing_line(cells);
  };
  std::string text = line(steps.heads);
  for (const KeyedSteps::Row& row : steps.rows) text += line(row.cells);
  return text;
}

/// A moment after the start, on the wall clock where that is known.
std::string moment(const ReportContext& context, Duration after_start) {
  if (!context.start) return show_days(after_start) + " after " + counted_from(context);
  return show(*context.start + std::chrono::ceil<std::chrono::minutes>(after_start));
}

/// others: in the same kiln, which is opened for all of them.
std::vector<std::string> times_of(const ReportContext& context,
                                  const CheckResult& result,
                                  std::span<const CheckResult> others = {}) {
  bool opens = result.opens;
  Duration open_after = result.open_after;
  for (const CheckResult& other : others) {
    opens = opens && other.opens;
    open_after = std::max(open_after, other.open_after);
  }
  std::vector<std::string> times = {
      fmt::format("Total {}{}, as computed for this kiln.",
                  show_days(result.program_time),
                  context.heat_up_steps > 0 ? " from the end of your heat-up" : "")};
  if (context.start) {
    times.push_back(fmt::format(
        "Starts {}, ends {}.", show(*context.start), moment(context, result.program_time)));
  }
  times.push_back(opens ? fmt::format("Open no sooner than {}.", moment(context, open_after))
                        : "When it may be opened was not found.");
  return times;
}

const char* warning_of(Verdict verdict) {
  switch (verdict) {
    case Verdict::within: return "";
    case Verdict::too_close_to_call: return "TOO CLOSE TO CALL, as simulated: see the report.";
    case Verdict::over: return "OVER THE LIMITS, as simulated: see the report.";
  }
  return "";
}

std::string title_of(const Casting& casting) {
  return casting.title + "; " + casting.glass.title;
}

std::string setting_of(const ReportContext& context) {
  return context.setting.empty() ? std::string{}
                                 : fmt::format("Set to {}.", setting_name(context.controller));
}

}  // namespace

std::string card_text(const KeyingCard& card) {
  const std::string rule(card_columns, '-');
  std::string text = "KEYING CARD       date ________________\n";
  text += paragraph(card.casting);
  for (const std::string& line : card.before) text += paragraph(line);
  text += rule + '\n';
  text += paragraph(sentence(card.start));
  if (!card.steps.rows.empty()) text += table_of(card.steps);
  text += paragraph(sentence(card.end));
  text += rule + '\n';
  for (const std::string& line : card.times) text += paragraph(line);
  return text +
         "HOT until checked. Glass can burst.\n"
         "Estimate only. Fit a separate cut-out.\n";
}

std::string tail_card(const ReportContext& context, const Tail& tail) {
  std::vector<std::string> before;
  const bool hold_short = in_s(tail.hold.short_by) > 0.0;
  const bool another_over =
      std::any_of(tail.others.begin(), tail.others.end(), [](const CheckResult& other) {
        return other.verdict != Verdict::within;
      });
  if (context.for_confidence && !context.for_confidence->reached) {
    before.emplace_back("NOT AS SURE AS ASKED: see the report.");
  }
  if (!tail.cannot.empty()) {
    before.emplace_back("NOT WITHIN THE LIMITS; the nearest that can be keyed: see the report.");
  } else if (tail.check.verdict != Verdict::within) {
    before.emplace_back(warning_of(tail.check.verdict));
  } else if (another_over) {
    before.emplace_back("OVER THE LIMITS for another piece in the kiln: see the report.");
  }
  if (hold_short) {
    before.push_back(fmt::format("THE HOLD IS {} TOO SHORT.", show(tail.hold.short_by)));
  }
  before.push_back(context.controller.title);
  before.push_back(setting_of(context));
  const Program& program = tail.fitted.program;
  return card_text({.casting = title_of(context.casting),
                    .before = before,
                    .start = keyed_start(context.controller, program, context.heat_up_steps),
                    .steps = keyed_steps(&context.controller, program, context.heat_up_steps),
                    .end = keyed_end(context.controller),
                    .times = times_of(context, tail.check, tail.others)});
}

std::string check_card(const ReportContext& context,
                       const Program& program,
                       const CheckResult& result,
                       bool for_controller) {
  const Controller* const controller = shown_for(context, program, for_controller);
  std::vector<std::string> before = {warning_of(result.verdict)};
  if (std::any_of(result.findings.begin(), result.findings.end(), is_about_keying)) {
    before.emplace_back("THE REPORT ASKS about these numbers: read it first.");
  }
  before.push_back(controller != nullptr ? controller->title
                                         : "The steps as the program has them.");
  return card_text({.casting = title_of(context.casting),
                    .before = before,
                    .start = controller != nullptr
                                 ? keyed_start(*controller, program)
                                 : "it begins at " + show(start_of(program, context.firing),
                                                          Display{.degrees = program.degrees}),
                    .steps = keyed_steps(controller, program),
                    .end = controller != nullptr ? keyed_end(*controller) : "",
                    .times = times_of(context, result)});
}

std::string rewarm_card(const ReportContext& context,
                        const Reanneal& plan,
                        const CheckResult& whole) {
  std::vector<std::string> before;
  if (!plan.within) before.emplace_back(warning_of(Verdict::over));
  before.push_back(context.controller.title);
  before.push_back(setting_of(context));
  return card_text({.casting = title_of(context.casting),
                    .before = before,
                    .start = keyed_start(context.controller, plan.whole),
                    .steps = keyed_steps(&context.controller, plan.whole),
                    .end = keyed_end(context.controller),
                    .times = times_of(context, whole)});
}

std::string now_card(const ReportContext& context, const Now& now) {
  const WayOn& way = advised(now.ways);
  const Program& program = way.fitted.program;
  std::vector<std::string> before = {fmt::format("From now on: {}.", name_of(way.kind)),
                                     within(way, context.limits)
                                         ? std::string{}
                                         : "OVER THE LIMITS, as simulated: see the report.",
                                     context.controller.title};
  KeyingCard card{.casting = title_of(context.casting),
                  .before = before,
                  .start = "the program is at its end: nothing is left to key",
                  .steps = {},
                  .end = {},
                  .times = {}};
  if (!program.steps.empty()) {
    card.start = keyed_start(context.controller, program, 0, "start it now");
    card.steps = keyed_steps(&context.controller, program);
    card.end = keyed_end(context.controller);
    const Duration left = of_way(context, now).program_time - seconds(now.so_far.now_s());
    card.times.push_back(
        fmt::format("Total {} from now on, as computed for this kiln.", show_days(left)));
  }
  const Opening opening = latest_opening(now);
  card.times.push_back(opening.opens
                           ? fmt::format("Open no sooner than {}.", when(now, opening.after))
                           : "When it may be opened was not found.");
  card.times.emplace_back("A crack suspected: do not reheat, do not open; stay clear.");
  return card_text(card);
}

}  // namespace thickset
