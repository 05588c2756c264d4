#pragma once

#include <string>
#include <vector>

/// A command line in words.
using Words = std::vector<std::string>;

inline Words with(Words words, const Words& more) {
  words.insert(words.end(), more.begin(), more.end());
  return words;
}
