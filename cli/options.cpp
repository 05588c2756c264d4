#include "options.h"

#include <algorithm>
#include <cctype>
#include <map>
#include <sstream>
#include <vector>

#include <fmt/format.h>
#include <boost/program_options.hpp>

#include "base/entries.h"
#include "base/error.h"
#include "base/text.h"
#include "command_options.h"
#include "command_table.h"
#include "completion.h"
#include "glass/read_relaxation.h"
#include "read_clock.h"
#include "read_rows.h"
#include "read_stage_wishes.h"
#include "read_sure.h"
#include "units/read_quantity.h"
#include "units/spoken.h"

namespace thickset::cli {
namespace {

namespace po = boost::program_options;

/// What was typed, by the names of the options.
std::map<std::string, std::string> words_of(const po::variables_map& map) {
  std::map<std::string, std::string> words;
  for (const auto& [name, value] : map) {
    if (name == "operand") continue;
    const auto* const text = boost::any_cast<std::string>(&value.value());
    words[name] = text != nullptr ? *text : "";
  }
  return words;
}

void read_limits(const Typed& typed, Options& options) {
  if (const auto grade = typed.value("grade", read_grade)) {
    options.limits.grade = grade->value;
    options.limits.grade_reason = grade->reason;
  }
  if (const auto tension = typed.value("tension", read_tension)) {
    options.limits.tension = tension->value;
    options.limits.tension_reason = tension->reason;
  }
}

constexpr Temperature coldest = Temperature::from_C(-20.0);
constexpr Temperature hottest = Temperature::from_C(1300.0);
constexpr Temperature hottest_room = Temperature::from_C(50.0);

void read_firing(const Typed& typed, Options& options) {
  if (const auto from = typed.value("from", read_temperature)) {
    require("from",
            *from >= coldest && *from <= hottest,
            outside(*from, coldest, hottest),
            "give the end of the process hold, such as 800C");
    options.firing.from = *from;
    options.from_given = true;
  }
  if (const auto room = typed.value("room", read_temperature)) {
    require("room",
            *room >= coldest && *room <= hottest_room,
            outside(*room, coldest, hottest_room),
            "give the temperature of the room the kiln stands in");
    options.firing.room = *room;
  }
}

/// "14h,30h".
std::pair<Duration, Duration> read_part_of_log(const std::string& text, const Place& place) {
  const std::size_t comma = text.find(',');
  if (comma == std::string::npos) {
    throw Error{place,
                fmt::format("{} is not two times", in_quotes(text)),
                "write from and to since the first reading: 14h,30h"};
  }
  const Duration from = read_duration(text.substr(0, comma), place);
  const Duration to = read_duration(text.substr(comma + 1), place);
  constexpr double longest_h = 24000.0;
  if (!(in_s(from) >= 0.0 && to > from && in_h(to) <= longest_h)) {
    throw Error{place,
                fmt::format("{} does not go forward within {:g} h", in_quotes(text), longest_h),
                "write the earlier time first: 14h,30h"};
  }
  return {from, to};
}

/// What `now` is told without a log.
void read_moment(const Typed& typed, Options& options) {
  const auto temperature = [&](const char* name) {
    const std::optional<Temperature> typed_T = typed.value(name, read_temperature);
    if (!typed_T) return typed_T;
    require(name,
            *typed_T >= coldest && *typed_T <= hottest,
            outside(*typed_T, coldest, hottest),
            "write what the display shows, such as 430C");
    return typed_T;
  };
  const auto time = [&](const char* name) {
    const std::optional<Duration> typed_time = typed.value(name, read_duration);
    if (!typed_time) return typed_time;
    require(name,
            in_h(*typed_time) >= 0.0 && in_h(*typed_time) <= 2400.0,
            fmt::format("{:g} h is not within 0 to 2400 h", in_h(*typed_time)),
            "write for example 20h");
    return typed_time;
  };
  options.air = temperature("air");
  options.until = temperature("until");
  options.since_hold = time("since-hold");
  options.since_start = time("since-start");
  options.off_for = time("off-for");
  options.at = time("at");
}

void read_plan(const Typed& typed, Options& options) {
  options.hold_at = typed.value("hold-at", read_temperature);
  if (const auto hold = typed.value("hold", read_duration)) {
    require("hold",
            in_h(*hold) > 0.0 && in_h(*hold) <= 2400.0,
            fmt::format("{:g} h is not above 0 and up to 2400 h", in_h(*hold)),
            "write for example 3h");
    options.hold = *hold;
  }
  if (const auto with = typed.text("with")) {
    std::stringstream names{*with};
    for (std::string name; std::getline(names, name, ',');) options.with.push_back(name);
  }
  options.fewest_steps = typed.text("steps") == "auto";
  if (const auto steps =
          options.fewest_steps ? std::nullopt : typed.value("steps", read_whole_number)) {
    require("steps",
            *steps >= 2 && *steps <= 999,
            fmt::format("{} is outside 2 to 999", *steps),
            "a tail needs two steps at least: the hold and one cooling");
    options.steps = *steps;
  }
  if (const auto ends = typed.value("stage-ends", read_stage_ends)) options.stages.ends = *ends;
  if (const auto rates = typed.value("rates", read_stage_rates)) {
    options.stages.rates = *rates;
    const std::size_t ends = options.stages.ends.size();
    require("rates",
            ends == 0 || rates->size() == ends + 1,
            fmt::format("{} rates do not go with {} stage ends", rates->size(), ends),
            "give one rate more than ends, or write free for those to be found");
  }
  options.heat_up = typed.text("heat-up");
  if (const auto reserve = typed.value("reserve", read_whole_number)) {
    require("reserve", !options.heat_up, "--heat-up is given as well", "leave one of them out");
    require("reserve",
            *reserve >= 0 && *reserve <= 999,
            fmt::format("{} is outside 0 to 999", *reserve),
            "write how many steps your heat-up takes");
    options.reserve = *reserve;
  }
  if (options.command == Command::rewarm) {
    options.retardation = typed.value("retardation", read_retardation);
    require("retardation",
            options.retardation.has_value(),
            "it is not given",
            "write what the polariscope shows edge-on through the middle, such as 60nm/cm; heating "
            "adds to it");
    const double read = options.retardation->in_nm_per_cm();
    require("retardation",
            read >= 0.0 && read <= 1000.0,
            fmt::format("{:g} nm/cm is outside 0 to 1000 nm/cm", read),
            "check the reading: nm divided by the path in cm");
  }
  options.start = typed.value("start", read_clock);
  options.awake = typed.value("awake", read_waking_hours);
  require("awake",
          !options.awake || options.start,
          "there is no --start to move",
          "add the earliest start, such as --start \"2026-11-27 18:00\"");
  options.bulk = typed.value("bulk", read_bulk);
  options.trace = typed.text("trace");
  options.profile = typed.text("profile");
  options.plan = typed.text("plan");
  options.sensor = typed.text("sensor");
  options.second = typed.text("second");
  options.between = typed.value("between", read_part_of_log);
  read_moment(typed, options);
  options.to = typed.choice<Notation>("to", {{"rate", Notation::rate}, {"time", Notation::time}});
}

void read_output(const Typed& typed, Options& options) {
  options.degrees = typed.choice<Degrees>("degrees",
                                          {{"C", Degrees::celsius},
                                           {"F", Degrees::fahrenheit},
                                           {"c", Degrees::celsius},
                                           {"f", Degrees::fahrenheit}},
                                          "write C or F");
  options.lengths =
      typed
          .choice<Lengths>(
              "lengths",
              {{"mm", Lengths::millimetre}, {"inch", Lengths::inch}, {"in", Lengths::inch}})
          .value_or(Lengths::millimetre);
  options.format =
      typed
          .choice<Format>("format",
                          {{"text", Format::text}, {"csv", Format::csv}, {"keys", Format::keys}})
          .value_or(Format::text);
  options.out = typed.text("out");
  options.ascii = typed.has("ascii");
  options.record = typed.text("record");
  for (const char* other : {"out", "page", "chart", "trace", "profile"}) {
    require("record",
            !options.record || typed.text(other) != options.record,
            fmt::format("--{} is written to the same file", other),
            "give each a name of its own");
  }
  // `check` reads a program, not a report: the ending of the file says which is wanted.
  const bool wants_csv = options.out && options.out->ends_with(".csv");
  if (wants_csv && !typed.text("format")) options.format = Format::csv;
}

/// Standard input is named "-", can be read once, and only read.
void read_dashes(const Typed& typed, const Options& options) {
  bool taken = options.program == "-";
  for (const char* name : {"plan", "heat-up"}) {
    if (typed.text(name) != "-") continue;
    require(name,
            !taken,
            "standard input (-) is read already, for another file",
            "name a file for one of the two");
    taken = true;
  }
  for (const char* name : {"page", "chart", "trace", "profile", "record"}) {
    require(name,
            typed.text(name) != "-",
            "the screen takes the report",
            "name a file; ./- is one called -");
  }
  require("out",
          options.command != Command::kiln || typed.text("out") != "-",
          "the screen takes the report",
          "name a file; ./- is one called -");
}

/// "--thickness -5mm" reads as one option and its value, not as two options.
std::vector<std::string> joined_negative_values(const std::vector<std::string>& words) {
  std::vector<std::string> joined;
  for (const std::string& word : words) {
    const bool negative_number =
        word.size() > 1 && word[0] == '-' &&
        (std::isdigit(static_cast<unsigned char>(word[1])) != 0 || word[1] == '.');
    const bool after_option = !joined.empty() && joined.back().starts_with("--") &&
                              joined.back().find('=') == std::string::npos;
    if (negative_number && after_option) {
      joined.back() += "=" + word;
    } else {
      joined.push_back(word);
    }
  }
  return joined;
}

Command read_command(const std::string& word) {
  std::vector<std::string> names = {"help", "version"};
  for (const CommandInfo& info : all_commands()) {
    if (word == info.name) return info.command;
    names.emplace_back(info.name);
  }
  if (word == "help" || word == "--help" || word == "-h") return Command::help;
  if (word == "--version" || word == "version") return Command::version;
  const bool dashed = word.starts_with("--");
  const std::string plain = dashed ? word.substr(2) : word;
  const std::string nearest = nearest_name(plain, names);
  if (dashed && !nearest.empty()) {
    const bool is_option = nearest == "help" || nearest == "version";
    throw Error{{},
                fmt::format("{} is no option of its own", in_quotes(word)),
                fmt::format("did you mean {}{}?", is_option ? "--" : "", nearest)};
  }
  throw Error{
      {},
      fmt::format("there is no command {}", in_quotes(word)),
      nearest.empty() ? "`thickset help` lists them" : fmt::format("did you mean {}?", nearest)};
}

/// `help` of what is neither a command nor a topic of its own.
void read_help_topic(const std::string& word) {
  std::vector<std::string> topics = {"help", "cautions", "manual", "completion"};
  for (const CommandInfo& info : all_commands()) topics.emplace_back(info.name);
  if (std::find(topics.begin(), topics.end(), word) != topics.end() || word == "version") return;
  constexpr std::size_t shortest_guess = 4;  // three letters are near to nearly anything
  const std::string nearest = word.size() < shortest_guess ? "" : nearest_name(word, topics);
  throw Error{{},
              fmt::format("there is no help for {}", in_quotes(word)),
              nearest.empty() ? "`thickset help` lists the commands; cautions, manual and "
                                "completion are pages too"
                              : fmt::format("did you mean {}?", nearest)};
}

po::variables_map parse(Command command, const std::vector<std::string>& words) {
  po::options_description all;
  std::vector<std::string> names;
  for (const po::options_description& group : groups_of(command)) all.add(group);
  for (const auto& known : all.options()) names.push_back("--" + known->long_name());
  all.add_options()("operand", po::value<std::vector<std::string>>());
  po::positional_options_description positional;
  positional.add("operand", -1);
  po::variables_map map;
  namespace style = po::command_line_style;
  try {
    po::store(po::command_line_parser{words}
                  .options(all)
                  .positional(positional)
                  .style(style::unix_style & ~style::allow_guessing)
                  .run(),
              map);
  } catch (const po::unknown_option& error) {
    const std::string nearest = nearest_name(error.get_option_name(), names);
    throw Error{
        {},
        fmt::format(
            "{} has no option {}", info_of(command).name, in_quotes(error.get_option_name())),
        nearest.empty() ? fmt::format("`thickset {} --help` lists them", info_of(command).name)
                        : fmt::format("did you mean {}?", nearest)};
  } catch (const po::multiple_occurrences& error) {
    throw Error{{.source = error.get_option_name()}, "given more than once", "give it once"};
  } catch (const po::error_with_option_name& error) {
    throw Error{{.source = error.get_option_name()},
                "its value is missing or not wanted",
                fmt::format("see `thickset {} --help`", info_of(command).name)};
  }
  for (const auto& [name, value] : map) {
    const auto* const text = boost::any_cast<std::string>(&value.value());
    if (text == nullptr || !text->starts_with("--")) continue;
    throw Error{option(name),
                fmt::format("its value is missing: {} follows", in_quotes(*text)),
                fmt::format("write a value after --{}", name)};
  }
  return map;
}

void read_operands(const po::variables_map& map, Options& options) {
  std::vector<std::string> operands;
  if (map.count("operand") > 0) operands = map["operand"].as<std::vector<std::string>>();
  const bool takes_log = options.command == Command::kiln;
  const bool takes_either = options.command == Command::check || options.command == Command::sure;
  const bool takes_program = takes_either || options.command == Command::convert || takes_log;
  if (options.command == Command::sure && map.count("gather") > 0) {
    if (operands.empty()) {
      throw Error{{}, "--gather needs the parts", "for example: thickset sure --gather part-*.csv"};
    }
    options.sure.parts = std::move(operands);
    return;
  }
  const bool may_take_log = options.command == Command::now;
  const bool takes_topic = options.command == Command::list;
  if (takes_program && operands.empty()) {
    throw Error{{},
                fmt::format("{} needs {}",
                            info_of(options.command).name,
                            takes_log      ? "a log"
                            : takes_either ? "a program file or a log"
                                           : "a program file"),
                fmt::format("for example: {}", info_of(options.command).example)};
  }
  const std::size_t most = takes_program || takes_topic || may_take_log ? 1 : 0;
  if (operands.size() > most) {
    throw Error{{},
                fmt::format("{} is not expected here", in_quotes(operands[most])),
                fmt::format("see `thickset {} --help`", info_of(options.command).name)};
  }
  if (operands.empty()) return;
  (takes_program || may_take_log ? options.program : options.topic) = operands.front();
}

}  // namespace

Options read_options(std::vector<std::string> words) {
  Options options;
  if (words.empty()) return options;
  options.command = read_command(words.front());
  words.erase(words.begin());
  if (options.command == Command::version) return options;
  if (options.command == Command::help) {
    if (!words.empty()) options.topic = words.front();
    if (options.topic == "completion") {
      options.topic = words.size() > 1 ? words[1] : "";
      if (is_completion_topic(options.topic)) return options;
      throw Error{{},
                  options.topic.empty()
                      ? std::string{"completion is for a shell, and none is named"}
                      : fmt::format("there is no completion for {}", in_quotes(options.topic)),
                  "name the shell: thickset help completion bash, or zsh or fish"};
    }
    const bool of_its_own = options.topic == "cautions" || options.topic == "manual";
    if (!options.topic.empty() && !of_its_own) read_help_topic(options.topic);
    return options;
  }
  const po::variables_map map = parse(options.command, joined_negative_values(words));
  if (map.count("help") > 0) {
    options.topic = info_of(options.command).name;
    options.command = Command::help;
    return options;
  }
  read_operands(map, options);
  options.typed = Typed{words_of(map)};
  const Typed& typed = options.typed;
  options.casting = typed.text("casting");
  options.glass = typed.text("glass");
  options.shape = typed.text("shape");
  options.thickness = typed.text("thickness");
  options.size = typed.text("size");
  options.faces = typed.text("faces");
  options.inside = typed.text("inside");
  options.mesh = typed.text("mesh");
  options.mesh_unit = typed.text("mesh-unit");
  options.insulated = typed.text("insulated");
  options.reservoir = typed.value("reservoir", read_length);
  options.mould = typed.text("mould");
  options.top = typed.text("top");
  options.bottom = typed.text("bottom");
  options.left = typed.text("left");
  options.right = typed.text("right");
  options.front = typed.text("front");
  options.back = typed.text("back");
  options.mould_grips = typed.text("mould-grips");
  options.rows = typed.value("rows", read_rows).value_or(usual_rows());
  options.kiln = typed.text("kiln");
  options.controller = typed.text("controller");
  options.explain = map.count("explain") > 0;
  read_firing(typed, options);
  read_limits(typed, options);
  read_plan(typed, options);
  if (takes_how_sure(options.command)) read_how_sure(typed, options);
  read_output(typed, options);
  read_dashes(typed, options);
  const Command command = options.command;
  if (command == Command::tail || command == Command::table || command == Command::check ||
      command == Command::now || command == Command::rewarm) {
    options.pictures = read_pictures(typed, options.command == Command::tail);
    options.card = typed.has("card");
    require("card",
            !options.card || options.format == Format::text,
            "the card is text",
            "leave out --card, or --format and the .csv of --out");
    options.sketch = typed.has("sketch");
    options.no_sketch = typed.has("no-sketch");
    require("sketch",
            !options.sketch || !options.no_sketch,
            "--no-sketch is given as well",
            "leave one of them out");
    require("sketch",
            !options.sketch || (options.format == Format::text && !options.card),
            "it is drawn below the text report",
            "leave it out, or --card, --format and the .csv of --out");
  }
  return options;
}

}  // namespace thickset::cli
