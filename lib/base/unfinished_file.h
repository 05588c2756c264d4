#pragma once

#include <string>

namespace thickset {

/// The name of a file that is being written, which nobody is to find half written: it is removed at
/// the end of the scope unless it was kept, and by a signal that ends the program.
class UnfinishedFile {
 public:
  /// To be made before the file is, so that no moment is left in which a signal would leave it.
  explicit UnfinishedFile(std::string path);
  UnfinishedFile(const UnfinishedFile&) = delete;
  UnfinishedFile& operator=(const UnfinishedFile&) = delete;
  ~UnfinishedFile();

  const std::string& path() const { return path_; }

  /// It has another name by now, or is to stay.
  void keep();

 private:
  std::string path_;
  int slot_;  ///< where the signal handler finds the name; -1: all were taken, it will not
};

/// From now on SIGINT, SIGTERM and SIGHUP remove the files that are unfinished before they end the
/// program as they would have. One that is ignored already, as by nohup, stays ignored.
void remove_unfinished_files_on_signals();

}  // namespace thickset
