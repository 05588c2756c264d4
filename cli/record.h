#pragma once

#include <string>

#include "commands.h"
#include "inputs.h"
#include "options.h"
#include "reporting/report.h"

namespace thickset::cli {

/// Refuses a --record of what could not be checked again from it: a mesh, several castings.
void refuse_record(const Options& options, const Casting& casting);

/// What a command has to say for a record besides the files it has read.
struct ToRecord {
  std::string command;  ///< that computes it again: check or now
  std::string keys;     ///< "name = value" lines, of which the main ones are kept
  std::string keyed;    ///< the steps for a person; may be empty
};

/// Writes the file of --record, where it was asked for. planned: of `tail`, the program, which is
/// then what is checked again; nullptr: that of the command line.
void put_record(const Options& options,
                const ReportContext& context,
                const ToRecord& what,
                const std::string* planned = nullptr);

/// Where a record is checked: the report, and whether its main numbers have come out again; before
/// it where they have not, else after it.
std::string with_comparison(std::string text, const std::string& keys);

/// `check` of a record: the command in it, with its options and files and what was typed beside it
/// about output.
ExitStatus check_record(const Options& options, const InputText& input);

}  // namespace thickset::cli
