#pragma once

#include <string>

#include "base/error.h"

namespace thickset {

/// The message of the Error that `run` throws, or "no error" where it throws none.
template <class Run>
std::string message_of(Run&& run) {
  try {
    run();
  } catch (const Error& error) {
    return error.what();
  }
  return "no error";
}

}  // namespace thickset
