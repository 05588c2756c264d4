#include "reporting/keying.h"

#include <optional>

#include <fmt/format.h>

#include "reporting/display.h"

namespace thickset {
namespace {

std::string keyed_minutes(Duration duration) {
  return fmt::format("{:.0f} min", in_min(duration));
}

/// How the ramp of a step is keyed: "4 °C/h", "1006 min" or the digits for as fast as possible.
std::string keyed_pace(const Step& step, const Controller* controller, const Display& keyed) {
  if (std::holds_alternative<AsFastAsPossible>(step.pace)) {
    const bool has_key = controller != nullptr && controller->as_fast_key;
    return has_key ? "key " + *controller->as_fast_key : "as fast as it goes";
  }
  if (const Rate* rate = std::get_if<Rate>(&step.pace)) {
    return fmt::format("{:g} °{}/h", in_degrees_per_h(*rate, keyed.degrees), letter(keyed.degrees));
  }
  return keyed_minutes(std::get<Duration>(step.pace));
}

std::string purpose(const Step& step) {
  return step.comment.empty() ? std::string{} : "  " + step.comment;
}

std::string by_time(const Controller* controller,
                    const Program& program,
                    int before,
                    const Display& keyed) {
  std::string text = fmt::format("  {:>4}  {:>8}  {:>18}\n", "step", "target", "time");
  for (std::size_t i = 0; i < program.steps.size(); ++i) {
    const Step& step = program.steps[i];
    text += fmt::format("  {:>4}  {:>8}  {:>18}{}\n",
                        static_cast<int>(i) + 1 + before,
                        show(step.target, keyed),
                        keyed_pace(step, controller, keyed),
                        purpose(step));
  }
  return text;
}

std::string by_rate(const Controller* controller,
                    const Program& program,
                    int before,
                    const Display& keyed) {
  std::string text =
      fmt::format("  {:>4}  {:>18}  {:>8}  {:>9}\n", "step", "rate", "target", "hold");
  for (std::size_t i = 0; i < program.steps.size(); ++i) {
    const Step& step = program.steps[i];
    text += fmt::format("  {:>4}  {:>18}  {:>8}  {:>9}{}\n",
                        static_cast<int>(i) + 1 + before,
                        keyed_pace(step, controller, keyed),
                        show(step.target, keyed),
                        keyed_minutes(step.hold),
                        purpose(step));
  }
  return text;
}

std::string by_lines(const Controller* controller,
                     const Program& program,
                     int before,
                     const Display& keyed) {
  std::string text = fmt::format("  {:>4}  {:<5}  {:>18}  {:>8}\n", "line", "", "", "target");
  int line = before;
  std::optional<Temperature> at;
  for (const Step& step : program.steps) {
    const bool only_holds = at == step.target;  // goes on with the hold before it
    at = step.target;
    if (!only_holds) {
      text += fmt::format("  {:>4}  {:<5}  {:>18}  {:>8}{}\n",
                          ++line,
                          "ramp",
                          keyed_pace(step, controller, keyed),
                          show(step.target, keyed),
                          purpose(step));
    }
    if (step.hold.count() > 0.0) {
      text += fmt::format("  {:>4}  {:<5}  {:>18}\n", ++line, "hold", keyed_minutes(step.hold));
    }
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
  return wrapped(fmt::format("  {} your heat-up; key the tail as {}s {}-{}",
                             heat_up,
                             name,
                             heat_up_steps + 1,
                             last),
                 78,
                 4) +
         '\n';
}

}  // namespace

std::string keying_table(const Controller& controller,
                         const Program& program,
                         int heat_up_steps,
                         const char* begin) {
  const Display keyed{.degrees = program.degrees};
  std::string text = wrapped("Key into the controller (" + controller.title + "):") + "\n";
  if (heat_up_steps > 0) {
    text += heat_up_line(controller, program, heat_up_steps);
  } else if (program.start) {
    text += fmt::format("  start setpoint {}\n", show(*program.start, keyed));
  } else {
    text += fmt::format("  it starts from the reading: {}\n", begin);
  }
  switch (controller.step_form) {
    case Controller::StepForm::target_minutes:
      text += by_time(&controller, program, heat_up_steps, keyed);
      break;
    case Controller::StepForm::rate_target_hold:
      text += by_rate(&controller, program, heat_up_steps, keyed);
      break;
    case Controller::StepForm::ramp_and_hold_lines:
      text += by_lines(&controller, program, heat_up_steps, keyed);
      break;
  }
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
  text += wrapped("  " + end, 78, 4) + '\n';
  if (!controller.late_on_cooling_known) {
    text += wrapped(
                "  What it does when the kiln is late on cooling is not known: taken as going "
                "on by the clock.") +
            '\n';
  }
  return text;
}

std::string setting_line(const std::string& choice) {
  return choice.empty() ? std::string{} : wrapped("The controller: " + choice + ".") + '\n';
}

std::string program_table(const Program& program) {
  const Display shown{.degrees = program.degrees};
  return program.notation == Notation::time ? by_time(nullptr, program, 0, shown)
                                            : by_rate(nullptr, program, 0, shown);
}

}  // namespace thickset
