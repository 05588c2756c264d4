#include "schedule/settings.h"

#include <algorithm>

#include <fmt/format.h>

#include "base/text.h"

namespace thickset {

Settings::Settings(std::vector<Entry> entries,
                   const std::string& source,
                   std::vector<std::string> known)
    : entries_{std::move(entries)}, source_{source} {
  for (const Entry& entry : entries_) {
    if (std::find(known.begin(), known.end(), entry.key) == known.end()) {
      const std::string nearest = nearest_name(entry.key, known);
      problems_.add(entry.key_place,
                    fmt::format("{} is not a known key", in_quotes(entry.key)),
                    nearest.empty() ? fmt::format("known are {}", fmt::join(known, ", "))
                                    : fmt::format("did you mean {}?", nearest));
    } else if (find(entry.key) != &entry) {
      problems_.add(
          entry.key_place, fmt::format("{} is given twice", entry.key), "leave one of them out");
    }
  }
}

const Entry* Settings::find(std::string_view key) const {
  for (const Entry& entry : entries_) {
    if (entry.key == key) return &entry;
  }
  return nullptr;
}

const Entry* Settings::need(std::string_view key, std::string_view mend) {
  const Entry* const entry = find(key);
  if (entry == nullptr) problem(key, fmt::format("{} is missing", key), mend);
  return entry;
}

void Settings::problem(std::string_view key, std::string_view what, std::string_view mend) {
  const Entry* const entry = find(key);
  problems_.add(entry == nullptr ? Place{source_} : entry->value_place, what, mend);
}

void Settings::refuse_word(const Entry& entry, const std::vector<std::string>& words) {
  problems_.add(entry.value_place,
                fmt::format("{} is no value of {}", in_quotes(entry.value), entry.key),
                fmt::format("write {}", fmt::join(words, " or ")));
}

}  // namespace thickset
