#include "reporting/how_sure_section.h"

#include <algorithm>
#include <cmath>
#include <string_view>
#include <vector>

#include <fmt/format.h>

#include "reporting/display.h"

namespace thickset {
namespace {

constexpr double little = 0.01;  // a share of the variance not worth a word

/// "87"; "over 97" where all of 128 do: with more out of 100, one of so many would have failed 95
/// times of 100 (the rule of three).
std::string of_hundred(const Chance& chance) {
  const double least = 3.0 / static_cast<double>(chance.of);
  if (chance.kept == chance.of)
    return fmt::format("over {:.0f}", std::floor(100.0 * (1.0 - least)));
  if (chance.kept == 0) return fmt::format("under {:.0f}", std::ceil(100.0 * least));
  return fmt::format("{:.0f}", std::clamp(100.0 * chance.share(), 1.0, 99.0));
}

std::string share_percent(double share) {
  if (share < little) return "-";
  return fmt::format("{:.0f} %", 100.0 * share);
}

const char* name_of(Decisive decisive) {
  return decisive == Decisive::residual ? "nm/cm" : "MPa";
}

std::string chance_row(std::string_view name, std::string_view limit, const Chance& chance) {
  return fmt::format("{:<22} {:>10}   {:>5.1f} {:>5.1f}",
                     name,
                     limit,
                     100.0 * chance.share(),
                     100.0 * chance.standard_error());
}

std::string band_text(const NineInTen& band, double given, int digits) {
  return fmt::format("{:>8.{}f} {:>7.{}f} {:>7.{}f} {:>8.{}f}",
                     band.low,
                     digits,
                     band.middle,
                     digits,
                     band.high,
                     digits,
                     given,
                     digits);
}

std::string chance_table(const HowSure& sure) {
  const Study& study = sure.study;
  std::string text = fmt::format("{:<22} {:>10}   {:>5} {:>5}{:>8} {:>7} {:>7} {:>8}\n",
                                 "of 100 within",
                                 "limit",
                                 "",
                                 "+-",
                                 "5 %",
                                 "half",
                                 "95 %",
                                 "as given");
  text += chance_row(
      "permanent, edge-on", fmt::format("{:g} nm/cm", study.grade_nm_per_cm), sure.residual);
  text += band_text(sure.residual_nm_per_cm, study.as_given.residual_nm_per_cm, 1) + '\n';
  text += chance_row(
      "tension at any moment", fmt::format("{:g} MPa", study.tension_limit_MPa), sure.tension);
  text += band_text(sure.tension_MPa, study.as_given.tension_MPa, 2) + '\n';
  text += chance_row("both", "", sure.both) + '\n';
  return text + chance_row("hold relaxes the glass", "", sure.relaxes) + '\n';
}

std::string input_table(const HowSure& sure) {
  std::string text = fmt::format("{:<38} {:>7} {:>7} {:>9} {:>7}\n",
                                 "share of the spread of",
                                 "nm/cm:",
                                 "with",
                                 "MPa:",
                                 "with");
  text += fmt::format("{:<38} {:>7} {:>7} {:>9} {:>7}\n", "", "alone", "others", "alone", "others");
  for (const std::size_t i : sure.ranked()) {
    text += fmt::format("{:<38} {:>7} {:>7} {:>9} {:>7}\n",
                        name_of(sure.study.inputs[i].what),
                        share_percent(sure.of_residual.first_order[i]),
                        share_percent(sure.of_residual.total[i]),
                        share_percent(sure.of_tension.first_order[i]),
                        share_percent(sure.of_tension.total[i]));
  }
  return text + fmt::format("{:<38} {:>7} {:>7} {:>9}\n",
                            "not explained by these shares",
                            share_percent(sure.of_residual.unexplained),
                            "",
                            share_percent(sure.of_tension.unexplained));
}

std::string range_lines(const Study& study, const Display& display) {
  std::vector<std::string> lines;
  for (const UncertainInput& input : study.inputs) {
    lines.push_back(fmt::format("{}: {}, {}", name_of(input.what), input.range, input.from));
    if (input.assumed) lines.back() += fmt::format("; yours: {}", stated_in(input.what));
  }
  return listed(in_one_scale(std::move(lines), display));
}

/// The input to measure: the one that matters most, or the thickness where that matters nearly as
/// much, since a calliper does.
std::size_t input_to_measure(const HowSure& sure) {
  constexpr double nearly_as_much = 0.8;
  const std::size_t first = sure.ranked().front();
  const std::vector<double>& share = sure.of_decisive().total;
  for (std::size_t i = 0; i < share.size(); ++i) {
    const bool is_thickness = sure.study.inputs[i].what == UncertainValue::thickness;
    if (is_thickness && share[i] >= nearly_as_much * share[first]) return i;
  }
  return first;
}

std::string worth_measuring(const HowSure& sure, const Display& display) {
  const std::size_t first = input_to_measure(sure);
  const double share = sure.of_decisive().total[first];
  if (share < little) return "No input changes this result: there is nothing to measure.\n";
  const Chance& decisive = sure.decisive == Decisive::residual ? sure.residual : sure.tension;
  if (decisive.kept == 0) {
    return wrapped(
               fmt::format("No measurement mends this: none of the castings drawn stayed within "
                           "the limit of {}. Cool more slowly (`thickset tail` plans it), then "
                           "ask again.",
                           name_of(sure.decisive))) +
           '\n';
  }
  return wrapped(fmt::format("The one measurement worth making: {}. It carries {:.0f} % of the "
                             "spread of {}; then state what is left of its range as {}.",
                             in_one_scale(measurement_of(sure.study.inputs[first].what), display),
                             100.0 * share,
                             name_of(sure.decisive),
                             stated_in(sure.study.inputs[first].what))) +
         '\n';
}

std::string change(double value, double given) {
  if (!(given > 0.0)) return "-";
  const double percent = std::round(100.0 * (value / given - 1.0));
  return fmt::format("{:+.0f} %", percent + 0.0);  // + 0: no minus sign of nothing
}

}  // namespace

std::string how_sure_lines(const HowSure& sure, double wanted, const Display& display) {
  const std::size_t first = sure.ranked().front();
  const UncertainInput& input = sure.study.inputs[first];
  std::string text = fmt::format(
      "How sure: {} of 100 such castings would stay within both limits, {} within that of nm/cm, "
      "{} within that of MPa ({} were drawn, so +-{:.0f}; bulk {}; {:g} of each asked for). Nine "
      "of "
      "ten leave {:.1f} to {:.1f} nm/cm and pull {:.1f} to {:.1f} MPa.",
      of_hundred(sure.both),
      of_hundred(sure.residual),
      of_hundred(sure.tension),
      sure.both.of,
      std::ceil(100.0 * sure.both.standard_error()),
      name_of(sure.study.bulk),
      100.0 * wanted,
      sure.residual_nm_per_cm.low,
      sure.residual_nm_per_cm.high,
      sure.tension_MPa.low,
      sure.tension_MPa.high);
  if (sure.of_decisive().total[first] >= little) {
    text += fmt::format(
        " What matters most is the {} ({}, {}): {:.0f} % of the spread of {}. `thickset "
        "sure` says more.",
        name_of(input.what),
        in_one_scale(input.range, display),
        input.from,
        100.0 * sure.of_decisive().total[first],
        name_of(sure.decisive));
  }
  return wrapped(text) + '\n';
}

std::string how_sure_paragraph(const ReportContext& context) {
  if (!context.how_sure) return {};
  std::string text = '\n' + how_sure_lines(*context.how_sure, context.confidence, context.display);
  if (!context.others.empty()) {
    const std::string& title = context.how_sure->study.title;
    text += wrapped(fmt::format(
                "That is of the {}, {}.",
                title.substr(0, title.find(';')),
                context.for_confidence
                    ? "of the castings in this kiln the least likely to stay within them"
                    : "of the castings in this kiln the nearest to a limit")) +
            '\n';
  }
  if (!context.for_confidence || !context.for_confidence->reached) return text;
  const HowSure& sure = *context.how_sure;
  return text +
         wrapped(
             fmt::format("Planned for {:g} of 100 within each limit, by aiming at {:.3g} nm/cm and "
                         "{:.3g} MPa: {:.1f} of 100 stay within {:g} nm/cm, {:.1f} within {:g} "
                         "MPa.",
                         100.0 * context.confidence,
                         context.for_confidence->aimed_at.grade.in_nm_per_cm(),
                         context.for_confidence->aimed_at.tension.in_MPa(),
                         100.0 * sure.residual.share(),
                         context.limits.grade.in_nm_per_cm(),
                         100.0 * sure.tension.share(),
                         context.limits.tension.in_MPa())) +
         '\n';
}

std::string short_of_confidence(const ReportContext& context) {
  if (!context.for_confidence || context.for_confidence->reached) return {};
  const HowSure& sure = *context.how_sure;
  return wrapped(
             fmt::format("No tail was found that stays within each limit for {:g} of 100 such "
                         "castings. The best found, below: {:.1f} of 100 within {:g} nm/cm, {:.1f} "
                         "within {:g} MPa.",
                         100.0 * context.confidence,
                         100.0 * sure.residual.share(),
                         context.limits.grade.in_nm_per_cm(),
                         100.0 * sure.tension.share(),
                         context.limits.tension.in_MPa())) +
         '\n';
}

std::string how_sure_text(const HowSure& sure, double wanted, const Display& display) {
  const Study& study = sure.study;
  const bool enough = std::min(sure.residual.share(), sure.tension.share()) >= wanted;
  std::string text = wrapped(fmt::format(
      "{:.1f} of 100 such castings would stay within both limits, as simulated: {:.1f} within "
      "{:g} nm/cm and {:.1f} within {:g} MPa. {:g} of each were asked for, which {} kept.",
      100.0 * sure.both.share(),
      100.0 * sure.residual.share(),
      study.grade_nm_per_cm,
      100.0 * sure.tension.share(),
      study.tension_limit_MPa,
      100.0 * wanted,
      enough ? "is" : "is not"));
  text += "\n\n" + wrapped(study.title) + "\n\n";
  text += chance_table(sure);
  text +=
      wrapped(fmt::format(
          "{} castings were drawn, each input anywhere in its range, whatever the others are; "
          "bulk {}. +-: standard error of the share, were the draws random; evenly spread "
          "draws do better. Hold relaxes the glass: the past has left at most a twentieth of what "
          "stays; that is no limit.",
          sure.both.of,
          name_of(study.bulk))) +
      "\n\n";
  text += input_table(sure);
  text += wrapped(fmt::format(
              "alone: what an input does by itself; with others: and where it acts together with "
              "others, which counts for each of them. From polynomials of degree {} and {}.",
              sure.of_residual.degree,
              sure.of_tension.degree)) +
          "\n\n";
  text += worth_measuring(sure, display) + '\n';
  text += "Ranges, and where they come from:\n" + range_lines(study, display);
  text += '\n' +
          wrapped(
              "Not drawn: the program's own doubt, which the three treatments of the bulk "
              "show (`--explain` of `check`); heat that reaches one side sooner; flaws. "
              "An estimate from a model, and no promise of any one piece.") +
          '\n';
  return text;
}

std::string one_at_a_time_section(const Study& study, std::span<const AtItsEnds> ends) {
  std::string text =
      fmt::format("{:<38} {:>18} {:>18}\n", "one input alone, at its ends", "nm/cm", "MPa");
  text += fmt::format("{:<38} {:>9}{:>9} {:>9}{:>9}\n", "", "low", "high", "low", "high");
  for (const AtItsEnds& input : ends) {
    text += fmt::format("{:<38} {:>9}{:>9} {:>9}{:>9}\n",
                        name_of(input.what),
                        change(input.low.residual_nm_per_cm, study.as_given.residual_nm_per_cm),
                        change(input.high.residual_nm_per_cm, study.as_given.residual_nm_per_cm),
                        change(input.low.tension_MPa, study.as_given.tension_MPa),
                        change(input.high.tension_MPa, study.as_given.tension_MPa));
  }
  return text;
}

}  // namespace thickset
