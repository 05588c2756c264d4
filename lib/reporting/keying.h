#pragma once

#include "schedule/controller.h"
#include "schedule/program.h"

#include <cstddef>
#include <string>
#include <vector>

namespace thickset {

/// The steps of a program as a controller asks for them, in its order and unit.
struct KeyedSteps {
  struct Row {
    std::vector<std::string> cells;  ///< one for each head; empty where nothing is keyed there
    std::string purpose;             ///< "hold", "setting", ...; may be empty
    std::size_t step;                ///< of the program
    bool holds;                      ///< a line that is the hold of its step alone
  };
  std::vector<std::string> heads;  ///< "step", "rate", "target", "hold"; may be empty text
  std::vector<Row> rows;
};

/// In: controller, or nullptr for steps that are not for a particular one, in their own notation.
/// heat_up_steps: steps (lines) of the user's own heat-up that come before; numbers go on from it.
KeyedSteps keyed_steps(const Controller* controller, const Program& program, int heat_up_steps = 0);

inline constexpr const char* at_process_hold = "begin at the end of the process hold";

/// Where the controller begins: its start setpoint, after the heat-up, or from the reading, and
/// then when.
std::string keyed_start(const Controller& controller,
                        const Program& program,
                        int heat_up_steps = 0,
                        const char* begin = at_process_hold);

/// "after the last step: nothing to key; the kiln then goes off".
std::string keyed_end(const Controller& controller);

/// What is assumed of a controller whose file does not say what it does on a late kiln; may be
/// empty.
std::string late_on_cooling_line(const Controller& controller);

/// The steps as the controller asks for them, in its order and unit, and what to key at the end.
/// Steps (lines) are numbered on from those of the user's own heat-up, which come before.
std::string keying_table(const Controller& controller,
                         const Program& program,
                         int heat_up_steps = 0,
                         const char* begin = at_process_hold);

/// How a controller with several settings is to be set, and what the others would lose; nothing for
/// an empty choice.
std::string setting_line(const std::string& choice);

/// The steps of a program that is not for a particular controller.
std::string program_table(const Program& program);

}  // namespace thickset
