#include "schedule/read_controller.h"

#include <cmath>
#include <filesystem>
#include <utility>

#include <fmt/format.h>

#include "base/entries.h"
#include "base/text.h"
#include "base/text_file.h"
#include "schedule/keyable.h"
#include "schedule/settings.h"
#include "units/read_quantity.h"

namespace thickset {

namespace {

using StepForm = Controller::StepForm;
using LateOnCooling = Controller::LateOnCooling;

const std::vector<std::string> known_keys = {"title",
                                             "step_form",
                                             "degrees",
                                             "degree_step",
                                             "lowest_target",
                                             "highest_target",
                                             "rate_step",
                                             "smallest_rate",
                                             "largest_rate",
                                             "time_step",
                                             "time_form",
                                             "longest_time",
                                             "steps",
                                             "as_fast_as_possible",
                                             "end",
                                             "start",
                                             "late_on_cooling",
                                             "after_end"};

constexpr double finest_degree_step = 0.01;
constexpr double coarsest_degree_step = 10.0;
constexpr double finest_rate_step_per_h = 0.001;
constexpr double coarsest_rate_step_per_h = 100.0;
constexpr double finest_time_step_s = 1.0;
constexpr double coarsest_time_step_s = 3600.0;
constexpr double lowest_target_C = -50.0;
constexpr double highest_target_C = 2000.0;
constexpr int most_steps = 999;
constexpr std::size_t longest_key = 24;

/// "none" or "key 9999": what is keyed, nullopt for the word that says nothing is.
std::optional<std::string> read_key(std::string_view text,
                                    const Place& place,
                                    std::string_view nothing) {
  if (text == nothing) return std::nullopt;
  const std::string_view prefix = "key ";
  const std::string_view digits =
      text.starts_with(prefix) ? trimmed(text.substr(prefix.size())) : std::string_view{};
  if (digits.empty() || digits.size() > longest_key) {
    throw Error{place,
                fmt::format("{} does not say what to key", in_quotes(text)),
                fmt::format("write {}, or key and the digits, as in key 9999", nothing)};
  }
  return std::string{digits};
}

/// "C" or "C or F": what comes first, and the other one. The parts are views of the text.
std::pair<std::string_view, std::optional<std::string_view>> either(std::string_view text) {
  const std::string_view between = " or ";
  const std::size_t at = text.find(between);
  if (at == std::string_view::npos) return {text, std::nullopt};
  return {trimmed(text.substr(0, at)), trimmed(text.substr(at + between.size()))};
}

/// Reads a file's settings into a controller, a group at a time.
class ControllerReader {
 public:
  ControllerReader(Settings& settings, const std::string& path) : settings_{settings} {
    controller_.name = std::filesystem::path{path}.stem().string();
    controller_.title = settings_.value(
        "title", controller_.name, [](auto text, auto&) { return std::string{text}; });
  }

  Controller read() {
    read_form();
    read_targets();
    read_rates();
    read_times();
    read_behaviour();
    settings_.finish();
    return controller_;
  }

 private:
  void read_form() {
    settings_.need("step_form", "write target_minutes or rate_target_hold or ramp_and_hold_lines");
    settings_.need("degrees", "write C or F");
    settings_.need("steps", "write how many steps a program may have");
    read_either<StepForm>("step_form",
                          controller_.step_form,
                          controller_.other_step_form,
                          {{"target_minutes", StepForm::target_minutes},
                           {"rate_target_hold", StepForm::rate_target_hold},
                           {"ramp_and_hold_lines", StepForm::ramp_and_hold_lines}});
    const bool one_by_time = controller_.step_form == StepForm::target_minutes ||
                             controller_.other_step_form == StepForm::target_minutes;
    if (controller_.other_step_form && !one_by_time) {
      settings_.problem("step_form",
                        "neither form of step is target_minutes",
                        "leave out the one with more steps to key");
    }
    read_either<Degrees>("degrees",
                         controller_.degrees,
                         controller_.other_degrees,
                         {{"C", Degrees::celsius}, {"F", Degrees::fahrenheit}});
    controller_.steps = settings_.value("steps", controller_.steps, read_whole_number);
    if (controller_.steps < 1 || controller_.steps > most_steps) {
      settings_.problem("steps",
                        fmt::format("{} steps", controller_.steps),
                        fmt::format("write a number from 1 to {}", most_steps));
    }
  }

  /// One of the words, or two of them with "or" between for a controller that can be set to both.
  template <class T>
  void read_either(std::string_view key,
                   T& own,
                   std::optional<T>& other,
                   const std::vector<std::pair<std::string, T>>& words) {
    const Entry* const entry = settings_.find(key);
    if (entry == nullptr) return;
    const auto [first, second] = either(entry->value);
    const auto meaning = [&](std::string_view word) -> std::optional<T> {
      for (const auto& [name, is] : words) {
        if (word == name) return is;
      }
      return std::nullopt;
    };
    const std::optional<T> own_meaning = meaning(first);
    const std::optional<T> other_meaning = second ? meaning(*second) : std::nullopt;
    if (!own_meaning || (second && !other_meaning)) {
      settings_.choice<T>(key, own, words);  // tells which words are known
      return;
    }
    if (own_meaning == other_meaning) {
      settings_.problem(key, fmt::format("{} names the same twice", key), "write it once");
      return;
    }
    own = *own_meaning;
    other = other_meaning;
  }

  void read_targets() {
    Controller& c = controller_;
    c.degree_step = in_degrees(settings_.value("degree_step",
                                               difference_from_degrees(c.degree_step, c.degrees),
                                               read_temperature_difference),
                               c.degrees);
    check_step(
        "degree_step", c.degree_step, finest_degree_step, coarsest_degree_step, letter(c.degrees));
    c.lowest_target = settings_.value("lowest_target", c.lowest_target, read_temperature);
    c.highest_target = settings_.value("highest_target", c.highest_target, read_temperature);
    check_target("lowest_target", c.lowest_target);
    check_target("highest_target", c.highest_target);
    if (!(c.lowest_target < c.highest_target)) {
      settings_.problem(
          "highest_target", "highest_target is not above lowest_target", "the two may be swapped");
    }
  }

  void check_target(std::string_view key, Temperature target) {
    if (target.in_C() >= lowest_target_C && target.in_C() <= highest_target_C) return;
    settings_.problem(key,
                      fmt::format("{} {:.0f} C is outside {:.0f} to {:.0f} C",
                                  key,
                                  target.in_C(),
                                  lowest_target_C,
                                  highest_target_C),
                      "check the digits and the degrees");
  }

  void check_step(std::string_view key,
                  double step,
                  double finest,
                  double coarsest,
                  std::string_view unit) {
    if (step >= finest && step <= coarsest) return;
    settings_.problem(
        key,
        fmt::format("{} {} {} is outside {} to {} {}", key, step, unit, finest, coarsest, unit),
        "write the smallest step the display has");
  }

  void read_rates() {
    Controller& c = controller_;
    for (const char* const key : {"rate_step", "smallest_rate", "largest_rate"}) {
      const bool only_by_time = c.step_form == StepForm::target_minutes && !c.other_step_form;
      if (only_by_time && settings_.find(key) != nullptr) {
        settings_.problem(key,
                          fmt::format("{} means nothing where steps are keyed by time", key),
                          "leave it out");
      }
    }
    const auto own_rate = [&c](double value) { return rate_from_degrees_per_h(value, c.degrees); };
    const Rate step = settings_.value("rate_step", own_rate(c.rate_step_per_h), read_rate);
    c.rate_step_per_h = in_degrees_per_h(step, c.degrees);
    const std::string unit = fmt::format("{}/h", letter(c.degrees));
    check_step(
        "rate_step", c.rate_step_per_h, finest_rate_step_per_h, coarsest_rate_step_per_h, unit);
    c.smallest_rate = settings_.value("smallest_rate", step, read_rate);
    c.largest_rate = settings_.value("largest_rate", own_rate(999.0), read_rate);
    if (!(c.smallest_rate.in_K_per_s() > 0.0)) {
      settings_.problem("smallest_rate",
                        "smallest_rate is not above 0",
                        "write the slowest ramp that can be keyed");
    } else if (!(keyable::smallest_rate_deg_per_h(c) <= keyable::largest_rate_deg_per_h(c))) {
      settings_.problem("largest_rate",
                        "no rate lies between smallest_rate and largest_rate",
                        "the two may be swapped");
    }
  }

  void read_times() {
    Controller& c = controller_;
    c.time_step = settings_.value("time_step", c.time_step, read_duration);
    check_step("time_step", in_s(c.time_step), finest_time_step_s, coarsest_time_step_s, "s");
    c.keys_hours_and_minutes =
        settings_.choice<bool>("time_form", false, {{"minutes", false}, {"hours:minutes", true}});
    c.longest_time = settings_.value("longest_time", c.longest_time, read_duration);
    if (!(c.longest_time >= c.time_step && in_h(c.longest_time) <= 24.0 * 1000.0)) {
      settings_.problem("longest_time",
                        "longest_time is not between time_step and 1000 days",
                        "write the longest ramp or hold that can be keyed");
    }
  }

  void read_behaviour() {
    Controller& c = controller_;
    c.as_fast_key =
        settings_.value("as_fast_as_possible", c.as_fast_key, [](auto text, const Place& place) {
          return read_key(text, place, "none");
        });
    c.end_key = settings_.value("end", c.end_key, [](auto text, const Place& place) {
      return read_key(text, place, "nothing").value_or("");
    });
    c.start = settings_.choice<Controller::Start>(
        "start",
        c.start,
        {{"from_reading", Controller::Start::from_reading}, {"stored", Controller::Start::stored}});
    // Not known is taken as goes_on, which shortens a hold by the kiln's lateness.
    const auto late =
        settings_.choice<std::optional<LateOnCooling>>("late_on_cooling",
                                                       std::nullopt,
                                                       {{"waits", LateOnCooling::waits},
                                                        {"goes_on", LateOnCooling::goes_on},
                                                        {"stops", LateOnCooling::stops},
                                                        {"unknown", std::nullopt}});
    c.late_on_cooling_known = late.has_value();
    c.late_on_cooling = late.value_or(LateOnCooling::goes_on);
    c.after_end =
        settings_.choice<Controller::AfterEnd>("after_end",
                                               c.after_end,
                                               {{"off", Controller::AfterEnd::off},
                                                {"holds", Controller::AfterEnd::holds},
                                                {"returns", Controller::AfterEnd::returns}});
  }

  Settings& settings_;
  Controller controller_;
};

}  // namespace

Controller parse_controller(std::string_view text, const std::string& path) {
  Settings settings{parse_entries(text, path), path, known_keys};
  return ControllerReader{settings, path}.read();
}

Controller read_controller(const std::string& path) {
  return parse_controller(read_text_file(path, largest_entries_bytes), path);
}

}  // namespace thickset
