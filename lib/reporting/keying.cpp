#include "reporting/keying.h"

#include <algorithm>
#include <cmath>
#include <initializer_list>
#include <optional>

#include <fmt/format.h>

#include "reporting/display.h"

namespace thickset {
namespace {

/// "2328 min", or "38:48" where the controller is told hours and minutes.
std::string keyed_time(Duration duration, const Controller* controller) {
  if (controller == nullptr || !controller->keys_hours_and_minutes) {
    return fmt::format("{:.0f} min", in_min(duration));
  }
  const long long whole_min = std::llround(in_min(duration));
  return fmt::format("{}:{:02}", whole_min / 60, whole_min % 60);
}

/// How the ramp of a step is keyed: "4 °C/h", "1006 min", "16:46" or the digits for as fast as
/// possible.
std::string keyed_pace(const Step& step, const Controller* controller, const Display& keyed) {
  if (std::holds_alternative<AsFastAsPossible>(step.pace)) {
    const bool has_key = controller != nullptr && controller->as_fast_key;
    return has_key ? "key " + *controller->as_fast_key : "as fast as it goes";
  }
  if (const Rate* rate = std::get_if<Rate>(&step.pace)) {
    return fmt::format("{:g} °{}/h", in_degrees_per_h(*rate, keyed.degrees), letter(keyed.degrees));
  }
  return keyed_time(std::get<Duration>(step.pace), controller);
}

Controller::StepForm form_of(const Controller* controller, const Program& program) {
  if (controller != nullptr) return controller->step_form;
  return program.notation == Notation::time ? Controller::StepForm::target_minutes
                                            : Controller::StepForm::rate_target_hold;
}

KeyedSteps by_time(const Controller* controller, const Program& program, int before) {
  const Display keyed{.degrees = program.degrees};
  KeyedSteps steps{{"step", "target", "time"}, {}};
  for (std::size_t i = 0; i < program.steps.size(); ++i) {
    const Step& step = program.steps[i];
    steps.rows.push_back({{fmt::format("{}", static_cast<int>(i) + 1 + before),
                           show(step.target, keyed),
                           keyed_pace(step, controller, keyed)},
                          step.comment,
                          i,
                          false});
  }
  return steps;
}

KeyedSteps by_rate(const Controller* controller, const Program& program, int before) {
  const Display keyed{.degrees = program.degrees};
  KeyedSteps steps{{"step", "rate", "target", "hold"}, {}};
  for (std::size_t i = 0; i < program.steps.size(); ++i) {
    const Step& step = program.steps[i];
    steps.rows.push_back({{fmt::format("{}", static_cast<int>(i) + 1 + before),
                           keyed_pace(step, controller, keyed),
                           show(step.target, keyed),
                           keyed_time(step.hold, controller)},
                          step.comment,
                          i,
                          false});
  }
  return steps;
}

KeyedSteps by_lines(const Controller* controller, const Program& program, int before) {
  const Display keyed{.degrees = program.degrees};
  KeyedSteps steps{{"line", "", "", "target"}, {}};
  int line = before;
  std::optional<Temperature> at;
  for (std::size_t i = 0; i < program.steps.size(); ++i) {
    const Step& step = program.steps[i];
    const bool only_holds = at == step.target;  // goes on with the hold before it
    at = step.target;
    if (!only_holds) {
      steps.rows.push_back({{fmt::format("{}", ++line),
                             "ramp",
                             keyed_pace(step, controller, keyed),
                             show(step.target, keyed)},
                            step.comment,
                            i,
                            false});
    }
    if (step.hold.count() > 0.0) {
      steps.rows.push_back(
          {{fmt::format("{}", ++line), "hold", keyed_time(step.hold, controller), ""},
           "",
           i,
           true});
    }
  }
  return steps;
}

/// How wide a column is in text; below zero where it stands to the left.
std::vector<int> widths_of(Controller::StepForm form) {
  switch (form) {
    case Controller::StepForm::target_minutes: return {4, 8, 18};
    case Controller::StepForm::rate_target_hold: return {4, 18, 8, 9};
    case Controller::StepForm::ramp_and_hold_lines: return {4, -5, 18, 8};
  }
  return {};
}

/// One line of the table; the cells that are empty at its end are left out, but of the heads.
std::string text_line(const std::vector<std::string>& cells,
                      const std::vector<int>& widths,
                      const std::string& purpose,
                      bool whole) {
  std::size_t shown = cells.size();
  while (!whole && shown > 0 && cells[shown - 1].empty()) --shown;
  std::string text;
  for (std::size_t i = 0; i < shown; ++i) {
    text += widths[i] < 0 ? fmt::format("  {:<{}}", cells[i], -widths[i])
                          : fmt::format("  {:>{}}", cells[i], widths[i]);
  }
  if (!purpose.empty()) text += "  " + purpose;
  return text + '\n';
}

std::string text_table(const KeyedSteps& steps, Controller::StepForm form) {
  const std::vector<int> widths = widths_of(form);
  std::string text = text_line(steps.heads, widths, "", true);
  for (const KeyedSteps::Row& row : steps.rows) {
    text += text_line(row.cells, widths, row.purpose, false);
  }
  return text;
}

/// "steps 1-4 are your heat-up; key the tail as steps 5-9".
std::string heat_up_line(const Controller& controller, const Program& program, int heat_up_steps) {
  const bool lines = controller.step_form == Controller::StepForm::ramp_and_hold_lines;
  const std::string name = lines ? "line" : "step";
  const int last = heat_up_steps + steps_used(program, controller);
  const std::string heat_up =
      heat_up_steps == 1 ? name + " 1 is" : fmt::format("{}s 1-{} are", name, heat_up_steps);
  return fmt::format(
      "{} your heat-up; key the tail as {}s {}-{}", heat_up, name, heat_up_steps + 1, last);
}

}  // namespace

KeyedSteps keyed_steps(const Controller* controller, const Program& program, int heat_up_steps) {
  switch (form_of(controller, program)) {
    case Controller::StepForm::target_minutes: return by_time(controller, program, heat_up_steps);
    case Controller::StepForm::rate_target_hold: return by_rate(controller, program, heat_up_steps);
    case Controller::StepForm::ramp_and_hold_lines: break;
  }
  return by_lines(controller, program, heat_up_steps);
}

std::string keyed_start(const Controller& controller,
                        const Program& program,
                        int heat_up_steps,
                        const char* begin) {
  if (heat_up_steps > 0) return heat_up_line(controller, program, heat_up_steps);
  if (program.start) {
    return "start setpoint " + show(*program.start, Display{.degrees = program.degrees});
  }
  return fmt::format("it starts from the reading: {}", begin);
}

std::string keyed_end(const Controller& controller) {
  std::string end = "after the last step: ";
  end += controller.end_key.empty() ? std::string{"nothing to key"} : "key " + controller.end_key;
  switch (controller.after_end) {
    case Controller::AfterEnd::off: end += "; the kiln then goes off"; break;
    case Controller::AfterEnd::holds:
      end += "; it then holds the last target until you switch it off";
      break;
    case Controller::AfterEnd::returns:
      end += "; it then goes back to its main setpoint: set that to room temperature first";
      break;
  }
  return end;
}

std::string late_on_cooling_line(const Controller& controller) {
  if (controller.late_on_cooling_known) return {};
  return "What it does when the kiln is late on cooling is not known: taken as going on by the "
         "clock.";
}

std::string keying_table(const Controller& controller,
                         const Program& program,
                         int heat_up_steps,
                         const char* begin) {
  std::string text = wrapped("Key into the controller (" + controller.title + "):") + "\n";
  text += wrapped("  " + keyed_start(controller, program, heat_up_steps, begin), 78, 4) + '\n';
  text += text_table(keyed_steps(&controller, program, heat_up_steps), controller.step_form);
  text += wrapped("  " + keyed_end(controller), 78, 4) + '\n';
  const std::string late = late_on_cooling_line(controller);
  return late.empty() ? text : text + wrapped("  " + late) + '\n';
}

std::string setting_line(const std::string& choice) {
  return choice.empty() ? std::string{} : wrapped("The controller: " + choice + ".") + '\n';
}

std::string program_table(const Program& program) {
  return text_table(keyed_steps(nullptr, program), form_of(nullptr, program));
}

}  // namespace thickset
