#include "recorded_files.h"

#include <algorithm>
#include <utility>

#include <fmt/format.h>

#include "base/error.h"
#include "base/text.h"

namespace thickset::cli {

RecordedFiles& RecordedFiles::of_this_run() {
  static RecordedFiles files;
  return files;
}

void RecordedFiles::replay(FiringRecord record, std::string source) {
  record_ = std::move(record);
  source_ = std::move(source);
  replaying_ = true;
}

void RecordedFiles::add(File file) {
  const bool known =
      std::any_of(record_.files.begin(), record_.files.end(), [&](const File& other) {
        return other.kind == file.kind && other.name == file.name;
      });
  if (!known) record_.files.push_back(std::move(file));
}

const RecordedFiles::File& RecordedFiles::find(const std::string& kind,
                                               const std::string& name) const {
  for (const File& file : record_.files) {
    if (file.kind == kind && file.name == name) return file;
  }
  throw Error{Place{source_},
              fmt::format("holds no {} called {}", kind, in_quotes(name)),
              "it was changed: find it as it was written"};
}

const RecordedFiles::File& RecordedFiles::first(const std::string& kind) const {
  for (const File& file : record_.files) {
    if (file.kind == kind) return file;
  }
  throw Error{Place{source_},
              fmt::format("holds no {}", kind),
              "it was changed: find it as it was written"};
}

}  // namespace thickset::cli
