#pragma once

#include <cstddef>

namespace thickset {

/// A place in a container, from a number that may also be counted with below zero.
constexpr std::size_t as_index(std::ptrdiff_t number) {
  return static_cast<std::size_t>(number);
}

}  // namespace thickset
