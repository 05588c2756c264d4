#pragma once

#include "kiln/kiln.h"
#include "options.h"
#include "schedule/controller.h"
#include "schedule/heat_up.h"
#include "simulation/casting.h"

#include <string>
#include <vector>

namespace thickset::cli {

/// The folder of shipped glasses, castings, moulds, kilns and controllers.
std::string data_folder();

/// A shipped kind of thing: its folder and the ending of its files.
struct DataKind {
  const char* folder;
  const char* extension;
};
inline constexpr DataKind glasses{"glasses", "glass"};
inline constexpr DataKind castings{"castings", "casting"};
inline constexpr DataKind moulds{"moulds", "mould"};
inline constexpr DataKind kilns{"kilns", "kiln"};
inline constexpr DataKind controllers{"controllers", "controller"};

/// The names that find one of a kind: the user's own, sorted, then the other shipped ones, sorted.
std::vector<std::string> names_of(DataKind kind);

Glass load_glass(const std::string& name, const Place& asked_by);
Mould load_mould(const std::string& name, const Place& asked_by);
Casting load_casting_file(const std::string& name, const Place& asked_by);

/// A program or a log as text, and the name that messages give to where it comes from.
struct InputText {
  std::string text;
  std::string source;
};

/// Of a file, or of standard input where its name is "-".
InputText read_input(const std::string& name);
Program read_program_input(const std::string& name);

/// The casting that the options describe. Throws: Error where they describe none, or two.
Casting load_casting(const Options& options);

/// The named kiln, or the one used where none is named.
Kiln load_kiln(const Options& options);

/// The named controller, or one that takes rates in the degrees asked for.
Controller load_controller(const Options& options);

/// The heat-up of --heat-up or --reserve; one of no steps where neither is given.
HeatUp load_heat_up(const Options& options);

/// The casting and those of --with, which share its kiln.
std::vector<Casting> load_castings(const Options& options);

/// The treatments of the bulk that limits are to be kept under: all, or the one asked for.
std::vector<Bulk> bulks_held_to(const Options& options);

/// Writes the files of --trace and --profile, where they were asked for.
void deliver_history(const Options& options, const Measured& measured);

/// Writes to --out, or to the screen.
void deliver(const Options& options, const std::string& answer);

}  // namespace thickset::cli
