#pragma once

#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "base/entries.h"
#include "base/problems.h"

namespace thickset {

/// The entries of a file in which each key stands once. Problems are collected until finish().
class Settings {
 public:
  /// Collects a problem for each key that is not known, with the nearest one, or given twice.
  Settings(std::vector<Entry> entries, const std::string& source, std::vector<std::string> known);

  /// The entry of a key, nullptr where the file has none.
  const Entry* find(std::string_view key) const;

  /// Like find, but a missing key is a problem; `mend` says what to write.
  const Entry* need(std::string_view key, std::string_view mend);

  /// The entry's value through `read`(text, place); `otherwise` where there is none or it is bad.
  template <class T, class Read>
  T value(std::string_view key, T otherwise, const Read& read) {
    const Entry* const entry = find(key);
    if (entry == nullptr) return otherwise;
    return problems_.collect([&] { return T{read(entry->value, entry->value_place)}; }, otherwise);
  }

  /// One of several words, or `otherwise`.
  template <class T>
  T choice(std::string_view key, T otherwise, const std::vector<std::pair<std::string, T>>& words) {
    const Entry* const entry = find(key);
    if (entry == nullptr) return otherwise;
    std::vector<std::string> names;
    for (const auto& [name, meaning] : words) {
      if (entry->value == name) return meaning;
      names.push_back(name);
    }
    refuse_word(*entry, names);
    return otherwise;
  }

  /// A problem at the value of a key that is there; at the file where it is not.
  void problem(std::string_view key, std::string_view what, std::string_view mend);

  /// A problem found by someone else.
  void problem(const Error& error) { problems_.add(error); }

  /// Whether nothing was collected so far.
  bool sound() const { return problems_.empty(); }

  /// Throws what was collected, if anything.
  void finish() const { problems_.throw_if_any(); }

 private:
  void refuse_word(const Entry& entry, const std::vector<std::string>& words);

  std::vector<Entry> entries_;
  std::string source_;
  Problems problems_;
};

}  // namespace thickset
