#pragma once

#include <functional>
#include <string>

namespace thickset {

/// Is told what a long computation is about to do, in a few words for a person who waits; may be
/// empty.
using Progress = std::function<void(const std::string& what)>;

}  // namespace thickset
