#pragma once

#include "inputs.h"
#include "options.h"

/// One function for each command: read, compute, report. The result is the exit status.
namespace thickset::cli {

enum ExitStatus { fine = 0, over_a_limit = 1, input_needs_mending = 2, our_fault = 3 };

ExitStatus hold(const Options& options);   ///< casting + limits    -> how hot, how long, why
ExitStatus tail(const Options& options);   ///< casting + limits    -> program, simulated
ExitStatus table(const Options& options);  ///< thicknesses + limits -> hours of each
ExitStatus check(const Options& options);  ///< casting + program or log -> findings
ExitStatus check_log(const Options& options, const InputText& log);  ///< of a real firing
ExitStatus sure(const Options& options);  ///< casting + program or log -> chances, what matters
ExitStatus now(
    const Options& options);  ///< log or display -> the glass now, the rest of the firing
ExitStatus rewarm(const Options& options);   ///< casting + reading   -> program from cold to cold
ExitStatus kiln(const Options& options);     ///< log of a fall -> a kiln file
ExitStatus convert(const Options& options);  ///< program             -> the same, keyed elsewhere
ExitStatus list(const Options& options);     ///< what ships, and what its values rest on
ExitStatus reading(const Options& options);  ///< what a polariscope showed -> stress, objections
ExitStatus why(const Options& options);      ///< what was seen of a break -> likely causes
ExitStatus sag(const Options& options);      ///< a sag test -> the annealing point as a range

}  // namespace thickset::cli
