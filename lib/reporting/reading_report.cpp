#include "reporting/reading_report.h"

#include <algorithm>
#include <iterator>
#include <string_view>

#include <fmt/format.h>

#include "reporting/cautions.h"
#include "stress/light_seen.h"

namespace thickset {
namespace {

constexpr int last_printed_temper_number = 10;

const char* name_of(Use use) {
  switch (use) {
    case Use::display: return "display";
    case Use::cutting: return "cutting";
    case Use::re_annealing: return "re-annealing";
  }
  return "";
}

/// Of keys and columns.
const char* word(Objection objection) {
  switch (objection) {
    case Objection::none_found: return "none-found";
    case Objection::too_close: return "too-close-to-call";
    case Objection::raised: return "objection";
    case Objection::cannot_tell: return "cannot-tell";
  }
  return "";
}

const char* sentence(Objection objection) {
  switch (objection) {
    case Objection::none_found: return "no objection found by this reading";
    case Objection::too_close: return "too close to call";
    case Objection::raised: return "objection";
    case Objection::cannot_tell: return "this reading cannot tell";
  }
  return "";
}

const char* word(Anneal anneal) {
  switch (anneal) {
    case Anneal::fine: return "fine";
    case Anneal::between: return "between";
    case Anneal::coarse: return "coarse";
    case Anneal::undecided: return "undecided";
  }
  return "";
}

const char* sentence(Anneal anneal) {
  switch (anneal) {
    case Anneal::fine: return "a fine anneal (below 10 nm/cm)";
    case Anneal::between: return "between a fine (below 10) and a coarse anneal (above 20 nm/cm)";
    case Anneal::coarse: return "a coarse anneal (above 20 nm/cm)";
    case Anneal::undecided:
      return "the range spans a limit: fine is below 10, coarse above 20 nm/cm";
  }
  return "";
}

/// "17.8 nm/cm (16.4 to 19.2)", with digits that fit the size.
std::string shown(const stress::Spread& spread, double unit, const char* name) {
  const double value = spread.value / unit;
  const int decimals = value < 1.0 ? 2 : value < 100.0 ? 1 : 0;
  return fmt::format("{:.{}f}{} ({:.{}f} to {:.{}f})",
                     value,
                     decimals,
                     name,
                     spread.low / unit,
                     decimals,
                     spread.high / unit,
                     decimals);
}

std::string shown_path(const ReadingContext& context) {
  const Lengths unit = context.display.lengths;
  const stress::Spread& path_m = context.reading.path_m;
  if (unit == Lengths::millimetre) return shown(path_m, 1e-3, " mm");
  const auto in_inch = [](double m) { return Length::from_m(m).in_inch(); };
  // A tenth of an inch is more than the path is off by.
  return fmt::format("{:.2f} {} ({:.2f} to {:.2f})",
                     in_inch(path_m.value),
                     unit_name(unit),
                     in_inch(path_m.low),
                     in_inch(path_m.high));
}

std::vector<UseJudged> asked_for(const ReadingContext& context, const ReadingResult& result) {
  std::vector<UseJudged> uses;
  std::copy_if(
      result.uses.begin(),
      result.uses.end(),
      std::back_inserter(uses),
      [&](const UseJudged& judged) { return !context.next || judged.use == *context.next; });
  return uses;
}

std::string first_line(const ReadingContext& context, const ReadingResult& result) {
  std::string objections, close, silent, untold;
  const auto add = [](std::string& names, Use use) {
    names += (names.empty() ? "" : ", ") + std::string{name_of(use)};
  };
  for (const UseJudged& judged : asked_for(context, result)) {
    if (judged.objection == Objection::raised) add(objections, judged.use);
    if (judged.objection == Objection::too_close) add(close, judged.use);
    if (judged.objection == Objection::none_found) add(silent, judged.use);
    if (judged.objection == Objection::cannot_tell) add(untold, judged.use);
  }
  std::string text;
  if (!objections.empty()) text += fmt::format("Objection to: {}. ", objections);
  if (!close.empty()) text += fmt::format("Too close to call: {}. ", close);
  if (!silent.empty()) text += fmt::format("No objection found by this reading: {}. ", silent);
  if (!untold.empty()) text += fmt::format("This reading cannot tell: {}. ", untold);
  text.pop_back();
  return text;
}

std::string held_to(const ReadingContext& context, const ReadingResult& result, Use use) {
  const Limits& limits = context.limits;
  if (use == Use::cutting) {
    return fmt::format("{}, limit {:g} ({})",
                       shown(result.nm_per_cm, 1.0, " nm/cm"),
                       limits.grade.in_nm_per_cm(),
                       limits.grade_reason);
  }
  if (use == Use::display) {
    return fmt::format("{}, limit {:g} ({})",
                       shown(result.stress_Pa, 1e6, " MPa"),
                       limits.tension.in_MPa(),
                       limits.tension_reason);
  }
  if (context.reading.hugs == Hugs::boundary) return "no annealing cures a mismatch";
  return fmt::format(
      "heating pulls at the core where tension is already: of the limit of {:g} MPa it leaves {}",
      limits.tension.in_MPa(),
      shown(result.left_for_heating_Pa, 1e6, " MPa"));
}

std::vector<std::string> what_it_cannot_tell(const ReadingContext& context,
                                             const ReadingResult& result) {
  std::vector<std::string> lines = {
      "One reading sees the mean of one line through the glass, without its sign, and only stress "
      "that differs between the two directions across the light. Stress that is hidden, local, at "
      "a boundary or of a higher order may exist.",
      "Warmth from a hand or a lamp shows light that goes away: read again when the piece has lain "
      "until it is even.",
      "Read a slab along its faces, near the middle of a long path: near its ends there is less "
      "to see. In rods, balls and blocks the stress changes along the path; the largest is more "
      "than the mean that is read."};
  if (context.dark) {
    lines.emplace_back(
        "Dark glass is also glass whose stress lies along the polarisers: turn the piece by 45 "
        "degrees. And of a whole number of bands in light of one colour.");
  }
  if (context.white_light_colour) {
    lines.emplace_back(
        "A colour is a wide range: eyes and lamps differ, and the same one comes back in higher "
        "orders. Turning an analyser tells more.");
  }
  constexpr double bright_nm = 100.0;
  constexpr double low_nm_per_cm = 20.0;
  if (context.reading.retardation_m.value * 1e9 >= bright_nm &&
      result.nm_per_cm.value <= low_nm_per_cm) {
    lines.push_back(fmt::format(
        "A thick path looks bright though the stress is low: the same stress through 10 mm would "
        "show {:.0f} nm.",
        result.nm_per_cm.value));
  }
  lines.emplace_back("Structural, overhead, public or food use needs a qualified person.");
  return lines;
}

std::string temper_line(const ReadingContext& context) {
  const double retardation_m = context.reading.retardation_m.value;
  const int apparent = stress::apparent_temper_number(retardation_m);
  std::string text = fmt::format(
      "Temper number (ASTM C148): apparent {}{} over {}, real {:.2g} per {}.",
      apparent,
      apparent > last_printed_temper_number ? " (beyond its table, which ends at 10)" : "",
      show(context.wall, context.display),
      stress::real_temper_number(apparent, context.wall.in_m()),
      context.display.lengths == Lengths::inch ? "0.160 in" : "4.06 mm");
  return wrapped(text) + '\n';
}

}  // namespace

Objection worst(const ReadingContext& context, const ReadingResult& result) {
  const auto badness = [](Objection objection) {
    switch (objection) {
      case Objection::none_found: return 0;
      case Objection::too_close: return 1;
      case Objection::cannot_tell: return 2;
      case Objection::raised: return 3;
    }
    return 3;
  };
  Objection found = Objection::none_found;
  for (const UseJudged& judged : asked_for(context, result)) {
    if (badness(judged.objection) > badness(found)) found = judged.objection;
  }
  return found;
}

std::string reading_text(const ReadingContext& context, const ReadingResult& result) {
  std::string text = wrapped(first_line(context, result)) + "\n\n";
  if (!result.why_nothing_follows.empty()) {
    text += "Why it cannot tell:\n" + listed(result.why_nothing_follows) + '\n';
  }
  if (context.reading.hugs == Hugs::boundary) {
    text += wrapped(
                "Light that hugs a boundary of two glasses speaks of mismatch: they shrink unlike. "
                "No annealing cures that. Right beside the boundary the stress is more than the "
                "mean that is read. A piece of one glass alone, fired the same way, tells "
                "how much of the light is the firing's.") +
            "\n\n";
  }
  text += wrapped(fmt::format("Read: {}: {} over {}.",
                              context.how,
                              shown(context.reading.retardation_m, 1e-9, " nm"),
                              shown_path(context))) +
          '\n';
  if (result.why_nothing_follows.empty()) {
    text += wrapped(fmt::format("That is {}, a stress of {}.",
                                shown(result.nm_per_cm, 1.0, " nm/cm"),
                                shown(result.stress_Pa, 1e6, " MPa"))) +
            '\n';
    text += wrapped(fmt::format("ISO 10110-18: {}.", sentence(result.anneal))) + '\n';
    text += temper_line(context);
  }
  text += "\nHeld to:\n";
  for (const UseJudged& judged : asked_for(context, result)) {
    const bool counts = judged.objection != Objection::cannot_tell;
    text += wrapped(fmt::format("  {:<13} {}{}",
                                name_of(judged.use),
                                sentence(judged.objection),
                                counts ? ": " + held_to(context, result, judged.use) : ""),
                    79,
                    16) +
            '\n';
  }
  text += "\nWhat it rests on:\n";
  std::vector<std::string> rests = {
      fmt::format("Stress-optical coefficient {}; {}",
                  shown(context.reading.stress_optical_per_Pa, 1e-12, " /TPa"),
                  context.glass)};
  rests.insert(rests.end(), context.assumed.begin(), context.assumed.end());
  text += listed(rests);
  text += "\nWhat it cannot tell:\n" + listed(what_it_cannot_tell(context, result));
  return text + '\n' + short_cautions();
}

std::string reading_csv(const ReadingContext& context, const ReadingResult& result) {
  std::string text =
      "use,objection,retardation_nm,retardation_nm_per_cm,low_nm_per_cm,high_nm_per_cm,stress_MPa,"
      "low_MPa,high_MPa,limit,limit_unit\n";
  for (const UseJudged& judged : asked_for(context, result)) {
    const bool cutting = judged.use == Use::cutting;
    text +=
        fmt::format("{},{},{:.6g},{:.6g},{:.6g},{:.6g},{:.6g},{:.6g},{:.6g},{:.6g},{}\n",
                    name_of(judged.use),
                    word(judged.objection),
                    context.reading.retardation_m.value * 1e9,
                    result.nm_per_cm.value,
                    result.nm_per_cm.low,
                    result.nm_per_cm.high,
                    result.stress_Pa.value * 1e-6,
                    result.stress_Pa.low * 1e-6,
                    result.stress_Pa.high * 1e-6,
                    cutting ? context.limits.grade.in_nm_per_cm() : context.limits.tension.in_MPa(),
                    cutting ? "nm/cm" : "MPa");
  }
  return text;
}

std::string reading_keys(const ReadingContext& context, const ReadingResult& result) {
  std::string text;
  const auto key = [&](const char* name, double value) {
    text += fmt::format("{} = {:.6g}\n", name, value);
  };
  const auto spread = [&](std::string_view name,
                          std::string_view unit,
                          const stress::Spread& values,
                          double per_SI) {
    key(fmt::format("{}_{}", name, unit).c_str(), values.value * per_SI);
    key(fmt::format("{}_low_{}", name, unit).c_str(), values.low * per_SI);
    key(fmt::format("{}_high_{}", name, unit).c_str(), values.high * per_SI);
  };
  spread("retardation", "nm", context.reading.retardation_m, 1e9);
  spread("path", "mm", context.reading.path_m, 1e3);
  spread("stress_optical", "per_TPa", context.reading.stress_optical_per_Pa, 1e12);
  const bool follows = result.why_nothing_follows.empty();
  if (follows) {
    spread("retardation_per_path", "nm_per_cm", result.nm_per_cm, 1.0);
    spread("stress", "MPa", result.stress_Pa, 1e-6);
    spread("left_for_heating", "MPa", result.left_for_heating_Pa, 1e-6);
    const int apparent = stress::apparent_temper_number(context.reading.retardation_m.value);
    text += fmt::format("apparent_temper_number = {}\n", apparent);
    key("real_temper_number", stress::real_temper_number(apparent, context.wall.in_m()));
  }
  text += fmt::format("anneal = {}\n", word(result.anneal));
  text += fmt::format("mismatch = {}\n", context.reading.hugs == Hugs::boundary ? "yes" : "no");
  for (const UseJudged& judged : asked_for(context, result)) {
    std::string name = name_of(judged.use);
    std::replace(name.begin(), name.end(), '-', '_');
    text += fmt::format("{} = {}\n", name, word(judged.objection));
  }
  return text;
}

}  // namespace thickset
