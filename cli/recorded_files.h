#pragma once

#include <string>
#include <vector>

#include "reporting/firing_record.h"

namespace thickset::cli {

/// The text files that this run has read, for --record; or those of a record, in place of the ones
/// that are, where a record is checked.
class RecordedFiles {
 public:
  using File = FiringRecord::File;

  /// Of the run that this process is at: it reads its files once. `run` begins with none.
  static RecordedFiles& of_this_run();

  /// From now on files come from this record. source: its name, for messages.
  void replay(FiringRecord record, std::string source);
  bool replaying() const { return replaying_; }
  const FiringRecord& record() const { return record_; }

  void add(File file);
  const std::vector<File>& files() const { return record_.files; }

  /// A file of the record. Throws: Error where it has none of this kind and name.
  const File& find(const std::string& kind, const std::string& name) const;

  /// The first of a kind. Throws: Error where there is none.
  const File& first(const std::string& kind) const;

 private:
  FiringRecord record_;
  std::string source_;
  bool replaying_ = false;
};

}  // namespace thickset::cli
