#pragma once

#include "options.h"
#include "typed.h"

namespace thickset::cli {

/// Whether a command has options on how sure its result is.
bool takes_how_sure(Command command);

/// --confidence, --threads and, of `sure`, --samples, --slice and --gather. Throws: Error for the
/// first that is out of range or does not go with another.
void read_how_sure(const Typed& typed, Options& options);

}  // namespace thickset::cli
