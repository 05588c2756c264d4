#pragma once

#include "checking/break_causes.h"

#include <span>
#include <string>

namespace thickset {

/// The word of a sign on the command line: "rounded" of edges_rounded.
const char* word(BreakSign sign);
/// The option that a question is answered with: "edges".
const char* word(BreakQuestion question);

/// What to look at first, each cause with what speaks for and against it and what would tell it
/// from the others, what to find out next. At most 80 columns.
std::string break_text(std::span<const BreakSign> signs, const BreakRanking& ranking);
std::string break_csv(const BreakRanking& ranking);
std::string break_keys(const BreakRanking& ranking);

}  // namespace thickset
