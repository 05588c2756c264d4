// The commands as targets, each run in this process with words and files made of the bytes; and
// what the program reads from its words alone.

#include <algorithm>
#include <cstddef>
#include <string>
#include <string_view>

#include "base/error.h"
#include "base/text.h"
#include "cli/commands.h"
#include "cli/options.h"
#include "cli/read_clock.h"
#include "cli/read_rows.h"
#include "cli/read_stage_wishes.h"
#include "fuzz/command_line.h"
#include "fuzz/target.h"

namespace thickset::fuzz {
namespace {

std::string lower(std::string_view text) {
  std::string letters{text};
  for (char& c : letters) {
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  }
  return letters;
}

bool is_letter(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == '_';
}

/// Whether a word stands in the text by itself: "nan C", but not "manganese".
bool holds_word(std::string_view text, std::string_view word) {
  for (std::size_t at = text.find(word); at != text.npos; at = text.find(word, at + 1)) {
    const std::size_t end = at + word.size();
    if ((at == 0 || !is_letter(text[at - 1])) && (end == text.size() || !is_letter(text[end]))) {
      return true;
    }
  }
  return false;
}

/// Plans take a second or so with the sanitizers up to these.
constexpr Length thickest = Length::from_mm(15.0);
constexpr int most_steps = 6;

void demand_text(std::string_view text) {
  demand(first_not_utf8(text) == text.npos && first_control(text) == text.npos,
         "an answer that disturbs a terminal");
}

/// Samples are many simulations; here a few have to do, and none where the input does not ask.
bool samples_long(std::string_view command, std::string_view bytes, CommandLine& line) {
  if (command == "sure") {
    if (bytes.find("--gath") == bytes.npos) line.words.push_back("--samples=32");
    return false;
  }
  if (command != "check" && command != "tail") return false;
  const bool asked = bytes.find("--conf") != bytes.npos;
  if (!asked) line.words.push_back("--confidence=off");
  return asked && command == "tail";
}

/// Runs a command as the program would, and demands of its answer what holds of every answer.
void run_command(const char* command, std::string_view bytes) {
  if (may_need_grid(bytes) || bytes.find("facet") != bytes.npos) return;
  CommandLine line = parse_command_line(bytes);
  line.words.insert(line.words.begin(), command);
  if (samples_long(command, bytes, line) || plans_long(line, thickest, most_steps)) return;
  const CommandRun run = run_in_process(line);
  demand(run.exit_status != cli::our_fault, run.errors.c_str());
  demand_text(run.output);
  demand_text(run.errors);
  if (run.exit_status == cli::input_needs_mending) {
    demand(run.errors.size() > 1 && run.errors.back() == '\n', "refused without a line");
    demand(run.files_left.empty(), "refused, and a file is left");
  }
  for (const std::string& name : run.files_left) {
    demand(!name.ends_with(".part"), "a half-written file is left");
  }
  const std::string typed = lower(bytes);
  for (const std::string_view word : {"nan", "inf"}) {
    demand(typed.find(word) != typed.npos || !holds_word(run.output, word),
           "what is no number is printed as one");
  }
}

/// A command by its name, as a function without anything bound to it.
template <std::size_t n>
struct Name {
  char text[n];
  constexpr Name(const char (&name)[n]) { std::copy_n(name, n, text); }
};
template <Name name>
void command(std::string_view bytes) {
  run_command(name.text, bytes);
}

template <class Read>
void read_or_refuse(Read&& read) {
  try {
    read();
  } catch (const Error& error) {
    demand_text(error.what());
  }
}

/// The words alone: nothing is looked up, nothing run.
void options(std::string_view bytes) {
  read_or_refuse([&] { cli::read_options(parse_command_line(bytes).words); });
}

void clock(std::string_view bytes) {
  read_or_refuse([&] { cli::read_clock(bytes, {"--start"}); });
  read_or_refuse([&] { cli::read_waking_hours(bytes, {"--awake"}); });
}

/// Lists with commas between.
void list_words(std::string_view bytes) {
  read_or_refuse([&] { cli::read_rows(bytes, {"--rows"}); });
  read_or_refuse([&] { cli::read_stage_ends(bytes, {"--stage-ends"}); });
  read_or_refuse([&] { cli::read_stage_rates(bytes, {"--rates"}); });
}

constexpr Target targets[] = {
    {"options", options},
    {"clock", clock},
    {"list_words", list_words},
    {"command_hold", command<"hold">},
    {"command_tail", command<"tail">},
    {"command_table", command<"table">},
    {"command_check", command<"check">},
    {"command_sure", command<"sure">},
    {"command_now", command<"now">},
    {"command_rewarm", command<"rewarm">},
    {"command_kiln", command<"kiln">},
    {"command_convert", command<"convert">},
    {"command_list", command<"list">},
    {"command_reading", command<"reading">},
    {"command_why", command<"why">},
    {"command_sag", command<"sag">},
    {"command_help", command<"help">},
};

}  // namespace

std::span<const Target> command_targets() {
  return targets;
}

}  // namespace thickset::fuzz
