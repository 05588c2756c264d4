#pragma once

#include <map>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "base/error.h"
#include "base/place.h"
#include "base/text.h"

namespace thickset::cli {

inline Place option(const std::string& name) {
  return {.source = "--" + name};
}

/// What was typed for the options of one command, by their names; switches have an empty text.
class Typed {
 public:
  Typed() = default;
  explicit Typed(std::map<std::string, std::string> words) : words_{std::move(words)} {}

  const std::map<std::string, std::string>& words() const { return words_; }
  bool has(const std::string& name) const { return words_.count(name) > 0; }

  std::optional<std::string> text(const std::string& name) const {
    const auto found = words_.find(name);
    if (found == words_.end()) return std::nullopt;
    if (found->second.empty()) {
      throw Error{option(name), "nothing was given", "write a value after it"};
    }
    return found->second;
  }

  template <class Read>
  auto value(const std::string& name, const Read& read) const
      -> std::optional<decltype(read("", Place{}))> {
    const std::optional<std::string> typed = text(name);
    if (!typed) return std::nullopt;
    return read(*typed, option(name));
  }

  template <class T>
  std::optional<T> choice(const std::string& name,
                          const std::vector<std::pair<std::string, T>>& words,
                          std::string mend = "") const {
    const std::optional<std::string> typed = text(name);
    if (!typed) return std::nullopt;
    std::string known;
    for (const auto& [word, meaning] : words) {
      if (*typed == word) return meaning;
      known += (known.empty() ? "" : ", ") + word;
    }
    if (mend.empty()) mend = "write one of: " + known;
    throw Error{option(name), in_quotes(*typed) + " is not known", mend};
  }

 private:
  std::map<std::string, std::string> words_;
};

inline void require(const std::string& name,
                    bool holds,
                    const std::string& what,
                    const std::string& mend) {
  if (!holds) throw Error{option(name), what, mend};
}

}  // namespace thickset::cli
