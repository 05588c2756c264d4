#include "reporting/read_back.h"

#include <cmath>
#include <vector>

#include <fmt/format.h>

#include "checking/slips.h"

namespace thickset {
namespace {

constexpr std::size_t most_legs = 40;   // in words; of a longer program
constexpr std::size_t first_legs = 30;  // so many, and the last
constexpr double differs_min = 1.0;     // a total as the kiln runs it, from the one keyed

/// "5 d 3 h 20 min" from two days on.
std::string in_days(Duration duration) {
  const long long total_min = std::llround(in_min(duration));
  if (in_h(duration) < days_from_h) return show(duration);
  const long long days = total_min / (24 * 60);
  const long long rest_min = total_min % (24 * 60);
  if (rest_min == 0) return fmt::format("{} d", days);
  return fmt::format("{} d {}", days, show(minutes(static_cast<double>(rest_min))));
}

/// A time with the digits it was keyed with: a part of a minute is not lost.
std::string as_keyed(Duration time) {
  const double total_min = in_min(time);
  if (std::abs(total_min - std::round(total_min)) < 0.01) return in_days(time);
  return total_min < 600.0 ? fmt::format("{:.4g} min", total_min) : in_days(time);
}

std::string as_keyed(Temperature t, const Display& display) {
  const double value = std::round(100.0 * in_degrees(t, display.degrees)) / 100.0 + 0.0;
  return fmt::format("{:g} °{}", value, letter(display.degrees));
}

std::string as_keyed(Rate rate, const Display& display) {
  return fmt::format(
      "{:.4g} °{}/h", in_degrees_per_h(rate, display.degrees), letter(display.degrees));
}

std::string in_words(const Leg& leg, const Display& display) {
  const std::string to = as_keyed(leg.to, display);
  if (leg.is_hold) return fmt::format("hold {} at {}", as_keyed(std::get<Duration>(leg.pace)), to);
  const bool heats = leg.from && leg.to > *leg.from;
  const std::string way = fmt::format("{} to {}", heats ? "heating" : "down", to);
  if (std::holds_alternative<AsFastAsPossible>(leg.pace))
    return fmt::format("as fast as the kiln goes {}", way);
  if (const auto* const rate = std::get_if<Rate>(&leg.pace)) {
    const Duration time = *ramp_time(leg.pace, *leg.from, leg.to);
    return fmt::format("{} {} ({})", as_keyed(*rate, display), way, in_days(time));
  }
  return fmt::format("{} {}", as_keyed(std::get<Duration>(leg.pace)), way);
}

struct Total {
  Duration keyed{0.0};
  int own_pace = 0;  ///< steps whose time is the kiln's
};

Total total_of(const std::vector<Leg>& all) {
  Total total;
  for (const Leg& leg : all) {
    const auto time = leg.is_hold ? std::optional{std::get<Duration>(leg.pace)}
                                  : ramp_time(leg.pace, *leg.from, leg.to);
    if (time) {
      total.keyed += *time;
    } else {
      ++total.own_pace;
    }
  }
  return total;
}

std::string totals(const ReportContext& context, const Total& total, const CheckResult& result) {
  const bool own_pace = total.own_pace > 0;
  std::string text = fmt::format(
      "{} in all{}", in_days(total.keyed), own_pace ? " beside the kiln's own pace" : "");
  if (own_pace || std::abs(in_min(result.program_time - total.keyed)) >= differs_min)
    text += fmt::format("; as this kiln runs it {}", in_days(result.program_time));
  if (context.start) {
    const auto end = *context.start + std::chrono::ceil<std::chrono::minutes>(result.program_time);
    text += fmt::format("; ends {}", show(end));
  }
  return text;
}

}  // namespace

std::string read_back(const ReportContext& context,
                      const Program& program,
                      const CheckResult& result) {
  const Temperature start = start_of(program, context.firing);
  const std::vector<Leg> all = legs(program, start);
  std::string text = fmt::format("Keyed, from {}{}: ",
                                 as_keyed(start, context.display),
                                 program.start ? "" : " where the kiln is");
  for (std::size_t i = 0; i < all.size(); ++i) {
    if (all.size() > most_legs && i == first_legs) {
      text += fmt::format("then {} more, ", all.size() - first_legs - 1);
      i = all.size() - 1;
    }
    if (i > 0) text += "then ";
    text += in_words(all[i], context.display) + (i + 1 < all.size() ? ", " : "");
  }
  text += fmt::format("; {}.", totals(context, total_of(all), result));
  return wrapped(text) + '\n';
}

std::string read_back_keys(const ReportContext& context, const Program& program) {
  const Total total = total_of(legs(program, start_of(program, context.firing)));
  return fmt::format("program_as_keyed_min = {:.6g}\nprogram_as_keyed_own_pace_steps = {}\n",
                     in_min(total.keyed),
                     total.own_pace);
}

std::string slips_section(const CheckResult& result) {
  std::vector<std::string> lines;
  for (const Finding& finding : result.findings) {
    if (is_about_keying(finding)) lines.push_back(finding.text);
  }
  return lines.empty() ? std::string{} : "Look again at what was keyed:\n" + listed(lines);
}

std::string slip_keys(const ReportContext& context, const CheckResult& result) {
  std::string text;
  int number = 0;
  for (const Finding& finding : result.findings) {
    if (!is_about_keying(finding)) continue;
    ++number;
    text += fmt::format("slip_{}_step = {}\nslip_{} = {}\n",
                        number,
                        finding.step + context.firing.first_step,
                        number,
                        finding.text);
  }
  return fmt::format("slips = {}\n", number) + text;
}

}  // namespace thickset
