#pragma once

#include <string>

#include "planning/tail.h"

namespace thickset {

/// What one stage fewer costs, and how near the tail is to the least possible: a sentence or two.
std::string price_of_one_fewer(const Tail& tail);

/// What a tenth more of each limit and an hour more of hold would save: a sentence or two.
std::string price_of_limits(const Tail& tail, const Limits& limits);

/// The price list of stages as a table.
std::string prices_section(const Tail& tail, const Limits& limits);

/// The price list as keys.
std::string price_keys(const Tail& tail, const Limits& limits);

}  // namespace thickset
