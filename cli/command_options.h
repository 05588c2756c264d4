#pragma once

#include "options.h"

#include <vector>

#include <boost/program_options/options_description.hpp>

namespace thickset::cli {

/// The options of one command in groups, in the order its help shows them.
std::vector<boost::program_options::options_description> groups_of(Command command);

}  // namespace thickset::cli
