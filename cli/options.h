#pragma once

#include "checking/limits.h"
#include "checking/measure.h"
#include "glass/relaxation_law.h"
#include "pictures.h"
#include "planning/fastest_stages.h"
#include "reporting/display.h"
#include "reporting/waking_start.h"
#include "schedule/program.h"
#include "typed.h"
#include "units/duration.h"
#include "units/length.h"

#include <cstdint>
#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace thickset::cli {

enum class Command {
  hold,
  tail,
  table,
  check,
  sure,
  now,
  rewarm,
  kiln,
  convert,
  list,
  reading,
  why,
  sag,
  help,
  version
};
enum class Format { text, csv, keys };

/// How sure a result is: what is asked for and how it is computed.
struct SureOptions {
  double confidence = 0.9;  ///< the chance that is asked for
  bool asked = false;       ///< it was typed: `tail` then plans for it
  bool off = false;         ///< nothing is sampled
  std::uint64_t samples = 1024;
  std::optional<std::pair<std::uint64_t, std::uint64_t>> slice{};  ///< part, of so many
  bool gather = false;
  std::vector<std::string> parts{};  ///< files to gather
  unsigned threads = 0;              ///< 0: as many as the machine has
};

/// The command line, with every quantity read and in range; names are not looked up yet.
struct Options {
  Command command = Command::help;
  Typed typed;        ///< all that was typed, by the names of the options
  std::string topic;  ///< of help: a command or "cautions"; of list: a kind or a name; may be empty

  // What is cast: a file, or a glass and a shape.
  std::optional<std::string> casting, glass, shape, thickness, size, faces;
  std::optional<std::string> inside, mesh, mesh_unit, insulated;
  std::optional<Length> reservoir;
  std::optional<std::string> mould, top, bottom, left, right, front, back, mould_grips;
  std::vector<Length> rows;       ///< of table: its thicknesses
  std::vector<std::string> with;  ///< castings that share the kiln: files or names

  std::optional<std::string> kiln, controller;
  std::string program;  ///< of check and convert; of check it may be a log, of now and kiln it is
  std::optional<std::string> second;                     ///< of kiln: the log's other sensor
  std::optional<std::pair<Duration, Duration>> between;  ///< and its part, since the first reading
  std::optional<std::string> plan, sensor;               ///< of a log that is checked
  // Of now, where there is no log: what the display shows, since when, how long without power.
  std::optional<Temperature> air;
  std::optional<Duration> since_hold, since_start, off_for;
  std::optional<Duration> at;  ///< of now: as if the log ended so long after its first reading
  std::optional<Temperature> until;  ///< of now: how cool the slowest glass is to be

  Firing firing;
  bool from_given = false;
  Limits limits;
  std::optional<Temperature> hold_at;
  std::optional<Duration> hold;
  std::optional<int> steps;
  bool fewest_steps = false;
  StageWishes stages;
  std::optional<Retardation> retardation;  ///< of rewarm: what the piece shows before it
  std::optional<std::string> heat_up;      ///< the user's own steps before the tail: a program
  std::optional<int> reserve;              ///< or how many they are
  std::optional<Clock> start;
  std::optional<WakingHours> awake;  ///< of tail: when somebody can look in
  std::optional<Notation> to;

  std::optional<Degrees> degrees;
  Lengths lengths = Lengths::millimetre;
  Format format = Format::text;
  std::optional<std::string> out;
  bool explain = false;
  std::optional<Bulk> bulk;                   ///< other than the glass's own treatment
  std::optional<std::string> trace, profile;  ///< files for the history and the final profile
  bool ascii = false;                         ///< text without any sign beyond ASCII
  bool sketch = false, no_sketch = false;
  std::optional<std::string> record;  ///< a file for the whole firing, to be checked again
  SureOptions sure;
  bool card = false;  ///< the keying card instead of the report
  Pictures pictures;
};

/// Reads the command line, the program's own name left out. Throws: Error with one line for the
/// first thing that is wrong: an unknown command or option (with the nearest one), a missing value,
/// a bare number, a value out of range.
Options read_options(std::vector<std::string> words);

/// What --help prints: all commands, or one of them with its options and an example.
std::string help_text(const std::string& topic);

}  // namespace thickset::cli
