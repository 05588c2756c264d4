#include "record.h"

#include <algorithm>
#include <chrono>
#include <sstream>
#include <utility>

#include <fmt/format.h>

#include "base/error.h"
#include "base/text.h"
#include "base/text_file.h"
#include "recorded_files.h"
#include "reporting/sections.h"

namespace thickset::cli {
namespace {

/// Options that say what is computed, not what is shown of it, in the order of a record.
constexpr const char* inputs[] = {
    "casting",   "glass",     "shape",       "thickness",   "size",       "faces", "inside",
    "insulated", "reservoir", "mould",       "top",         "bottom",     "left",  "right",
    "front",     "back",      "mould-grips", "kiln",        "controller", "from",  "room",
    "grade",     "tension",   "bulk",        "confidence",  "hold-at",    "plan",  "sensor",
    "start",     "air",       "since-hold",  "since-start", "off-for",    "at",    "until"};

/// Options of output that change how numbers are shown: recorded, and to be typed anew.
constexpr const char* shown_in[] = {"degrees", "lengths"};

constexpr const char* main_numbers[] = {"verdict",
                                        "residual_retardation_nm_per_cm",
                                        "residual_mid_MPa",
                                        "residual_surface_MPa",
                                        "peak_tension_MPa",
                                        "program_h",
                                        "open_after_h",
                                        "log_readings",
                                        "kiln_C",
                                        "slowest_C",
                                        "mean_C",
                                        "surface_C",
                                        "tension_MPa",
                                        "pulled_MPa",
                                        "advice",
                                        "advice_within",
                                        "certain_nm_per_cm",
                                        "leaves_nm_per_cm",
                                        "pulls_MPa",
                                        "grade_nm_per_cm",
                                        "tension_limit_MPa"};

template <class Names>
bool is_in(const Names& names, const std::string& name) {
  return std::find(std::begin(names), std::end(names), name) != std::end(names);
}

std::vector<FiringRecord::Line> main_lines(const std::string& keys) {
  std::vector<FiringRecord::Line> lines;
  std::istringstream in{keys};
  for (std::string line; std::getline(in, line);) {
    const std::size_t sign = line.find(" = ");
    if (sign == std::string::npos || !is_in(main_numbers, line.substr(0, sign))) continue;
    lines.push_back({line.substr(0, sign), line.substr(sign + 3)});
  }
  return lines;
}

/// The options typed and, where they were not, the numbers that the program took instead.
std::vector<FiringRecord::Line> recorded_options(const Options& options,
                                                 const ReportContext& context,
                                                 bool starts_anywhere) {
  std::vector<FiringRecord::Line> lines;
  const auto add = [&](const char* name, const std::string& otherwise) {
    if (const auto typed = options.typed.text(name)) {
      lines.push_back({name, *typed});
    } else if (!otherwise.empty()) {
      lines.push_back({name, otherwise});
    }
  };
  for (const char* name : inputs) {
    const std::string of = name;
    if (of == "hold-at" && options.command == Command::tail) continue;
    if (of == "start" && options.awake) {
      lines.push_back({name, show(*context.start).substr(4)});  // as it was moved, no weekday
    } else if (of == "from") {
      add(name, starts_anywhere ? fmt::format("{:.12g} C", options.firing.from.in_C()) : "");
    } else if (of == "room") {
      add(name, fmt::format("{:.12g} C", options.firing.room.in_C()));
    } else if (of == "grade") {
      add(name, fmt::format("{:.12g} nm/cm", options.limits.grade.in_nm_per_cm()));
    } else if (of == "tension") {
      add(name, fmt::format("{:.12g} MPa", options.limits.tension.in_MPa()));
    } else {
      add(name, "");
    }
  }
  for (const char* name : shown_in) add(name, "");
  return lines;
}

void add_lines(const std::string& text, std::vector<std::string>& lines) {
  std::istringstream in{text};
  for (std::string line; std::getline(in, line);) lines.push_back(line);
}

std::string date_and_time() {
  const auto now = std::chrono::floor<std::chrono::minutes>(std::chrono::system_clock::now());
  return show(Clock{now.time_since_epoch()}) + " UTC";
}

}  // namespace

void refuse_record(const Options& options, const Casting& casting) {
  if (!options.record) return;
  const auto require_none = [](bool there, const char* what) {
    require("record",
            !there,
            fmt::format("{} cannot be put into a record", what),
            "leave one of the two out");
  };
  const bool is_mesh = casting.solid && casting.solid->places == PlaceWords::from_corner;
  require_none(options.mesh || is_mesh || casting.side_walls, "a mesh");
  require_none(!options.with.empty(), "a load of several castings");
}

void put_record(const Options& options,
                const ReportContext& context,
                const ToRecord& what,
                const std::string* planned) {
  if (!options.record) return;
  const bool log_alone = planned == nullptr && !options.program.empty() && !options.plan &&
                         what.command == "check" && what.keyed.empty();
  FiringRecord record{.written = date_and_time(),
                      .program = "thickset " THICKSET_VERSION,
                      .command = what.command,
                      .operand = planned != nullptr ? "tail.csv" : options.program,
                      .options = recorded_options(options, context, !log_alone),
                      .files = RecordedFiles::of_this_run().files(),
                      .outcome = main_lines(what.keys),
                      .for_people = {}};
  if (planned != nullptr) {
    std::erase_if(record.files, [](const auto& file) { return file.kind == "input"; });
    record.files.push_back({"input", "tail.csv", "planned", *planned});
  }
  add_lines(what.keyed, record.for_people);
  if (!what.keyed.empty()) record.for_people.emplace_back();
  add_lines(made_for(context) + assumptions_section(context), record.for_people);
  const std::string text = write_record(record);
  require("record",
          text.size() <= largest_text_bytes,
          fmt::format("it would be larger than {} bytes", largest_text_bytes),
          "thin the log out");
  write_text_file(*options.record, text);
}

std::string with_comparison(std::string text, const std::string& keys) {
  const RecordedFiles& recorded = RecordedFiles::of_this_run();
  if (!recorded.replaying()) return text;
  const FiringRecord& record = recorded.record();
  const std::vector<FiringRecord::Line> now = main_lines(keys);
  std::vector<std::string> differ;
  for (const FiringRecord::Line& was : record.outcome) {
    const auto is = std::find_if(now.begin(), now.end(), [&](const FiringRecord::Line& line) {
      return line.name == was.name;
    });
    if (is != now.end() && is->value == was.value) continue;
    differ.push_back(fmt::format("{}: recorded {}, now {}",
                                 was.name,
                                 was.value,
                                 is == now.end() ? std::string{"nothing"} : is->value));
  }
  const std::string from =
      fmt::format("Recorded on {} by {}.", in_quotes(record.written), in_quotes(record.program));
  if (differ.empty()) {
    text += '\n' + wrapped(from + " Computed again: the main numbers are the same.") + '\n';
    return text;
  }
  return wrapped(from + " Computed again, these are not the same:") + '\n' + listed(differ) + '\n' +
         text;
}

ExitStatus check_record(const Options& options, const InputText& input) {
  FiringRecord record = parse_record(input.text, input.source);
  std::vector<std::string> words = {record.command};
  if (!record.operand.empty()) words.push_back(record.operand);
  for (const FiringRecord::Line& option : record.options) {
    if (!is_in(inputs, option.name) && !is_in(shown_in, option.name)) {
      throw Error{Place{input.source, option.number},
                  fmt::format("{} is no option of a record", in_quotes(option.name)),
                  "put it back as it was written"};
    }
    if (is_in(shown_in, option.name) && options.typed.has(option.name)) continue;
    words.push_back("--" + option.name + '=' + option.value);
  }
  for (const auto& [name, value] : options.typed.words()) {
    require(name, !is_in(inputs, name), "the record tells it already", "leave it out");
    words.push_back(value.empty() ? "--" + name : "--" + name + '=' + value);
  }
  const Options again = read_options(std::move(words));
  RecordedFiles::of_this_run().replay(std::move(record), input.source);
  return again.command == Command::now ? now(again) : check(again);
}

}  // namespace thickset::cli
