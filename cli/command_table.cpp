#include "command_table.h"

#include <algorithm>

namespace thickset::cli {
namespace {

constexpr CommandInfo commands[] = {
    {Command::hold,
     "hold",
     "",
     "how hot to hold, how long, and what that time is made of",
     "thickset hold --glass soda-lime-float --thickness 60mm"},
    {Command::tail,
     "tail",
     "",
     "the hold and the staged cool-down as steps for your controller, simulated, with what limits "
     "each stage",
     "thickset tail --casting block-75x75x150 --controller seven-steps-by-time"},
    {Command::table,
     "table",
     "",
     "for one glass, kiln and grade: the hours of each part of the firing against thickness",
     "thickset table --glass soda-lime-float --kiln small-fibre --rows 20mm,40mm,60mm"},
    {Command::check,
     "check",
     "PROGRAM, LOG or RECORD",
     "is this program too fast, or was this firing, by its log: where, by how much, and what mends "
     "it",
     "thickset check tail.csv --casting slab-50"},
    {Command::sure,
     "sure",
     "PROGRAM, LOG or FILES",
     "how sure is it: the chance that such a casting stays within each limit, what that hangs on, "
     "and the one measurement worth making",
     "thickset sure data/programs/slab-50-gentle.csv --casting slab-50"},
    {Command::now,
     "now",
     "[LOG]",
     "how the glass is now, in the middle of a firing: how to go on, when it may be opened or "
     "switched off",
     "thickset now --air 401C --since-hold 3h --off-for 45min --plan "
     "data/programs/slab-50-gentle.csv --casting slab-50"},
    {Command::rewarm,
     "rewarm",
     "",
     "how fast a cold thick piece may be heated for another anneal, and the anneal",
     "thickset rewarm --casting slab-50 --retardation 60nm/cm"},
    {Command::kiln,
     "kiln",
     "LOG",
     "a kiln's own fall from a log of it: rates against temperature, as a .kiln file",
     "thickset kiln data/logs/slab-50-good.csv --between 0h,80min"},
    {Command::convert,
     "convert",
     "PROGRAM",
     "a program in another notation, unit or controller, and its loss",
     "thickset convert tail.csv --to rate --degrees F"},
    {Command::list,
     "list",
     "[KIND or NAME]",
     "the glasses, castings, moulds, kilns and controllers that ship, and what each value rests on",
     "thickset list casting-soda-lime-9.0"},
    {Command::reading,
     "reading",
     "",
     "what the polariscope showed: nm/cm, MPa with their range, and what it objects to",
     "thickset reading --turn 34deg --path 60mm --glass soda-lime-float"},
    {Command::why,
     "why",
     "",
     "likely causes of a break, ranked by what was seen, and what would tell them apart; never a "
     "verdict",
     "thickset why --edges sharp --path hooked --when later"},
    {Command::sag,
     "sag",
     "",
     "the annealing point of an unknown glass as a range, from a strip that sagged in the kiln",
     "thickset sag --touch 655C --thickness 6mm --drop 25mm"},
};

constexpr FileLine program_lines[] = {{"target_C,rate_C_per_h,hold_min", "the header, by rate"},
                                      {"513,asap,180", "as fast as it goes to 513, held 3 h"},
                                      {"360,7,0", "7 C an hour to 360, no hold"},
                                      {"target_C,minutes", "or the header, by time"},
                                      {"513,180", "at 513 already: held 3 h"},
                                      {"360,1310", "to 360 in 1310 min"}};

constexpr FileLine log_lines[] = {{"clock,air_C", "the header, by the clock"},
                                  {"18:30,651", "or 6:30 pm"},
                                  {"time,air_C", "or the header, with dates"},
                                  {"2026-11-27 18:30,651", "or 2026-11-27T18:30"},
                                  {"minutes,air_C", "or hours, seconds: since some start"},
                                  {"30,651", "half an hour after it"}};

constexpr FileForm program_form{"A program has one step a row:",
                                program_lines,
                                "_F for _C where the numbers are in F. A first row with an empty "
                                "rate (800,,0), or of 0 minutes "
                                "(800,0), says where it starts."};

constexpr FileForm log_form{
    "A log has one reading a row:",
    log_lines,
    "_F for _C where the numbers are in F. Any other name that ends so is another sensor."};

constexpr ExitMeaning meanings[] = {{0, "fine"},
                                    {1, "over a limit or not to be keyed"},
                                    {2, "mend the input"},
                                    {3, "our fault"}};

}  // namespace

std::span<const ExitMeaning> exit_meanings() {
  return meanings;
}

std::span<const CommandInfo> all_commands() {
  return commands;
}

bool reads_programs(Command command) {
  switch (command) {
    case Command::tail:
    case Command::check:
    case Command::sure:
    case Command::now:
    case Command::kiln:
    case Command::convert: return true;
    default: return false;
  }
}

std::vector<FileForm> files_of(Command command) {
  switch (command) {
    case Command::check:
    case Command::now: return {program_form, log_form};
    case Command::convert: return {program_form};
    case Command::kiln: return {log_form};
    default: return {};
  }
}

const char* standard_input_words() {
  return "A program or a log named - is read from standard input.";
}

const CommandInfo& info_of(Command command) {
  return *std::find_if(std::begin(commands), std::end(commands), [&](const CommandInfo& info) {
    return info.command == command;
  });
}

}  // namespace thickset::cli
