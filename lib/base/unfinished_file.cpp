#include "base/unfinished_file.h"

#include <unistd.h>

#include <array>
#include <atomic>
#include <cerrno>
#include <csignal>
#include <utility>

namespace thickset {
namespace {

// A handler may only do what is async-signal-safe (POSIX.1-2017, 2.4.3): it reads atomics that need
// no lock, and calls unlink and raise.
std::array<std::atomic<const char*>, 8> unfinished{};
static_assert(std::atomic<const char*>::is_always_lock_free);

void remove_and_end(int signal) {
  for (const std::atomic<const char*>& path : unfinished) {
    const char* const name = path.load();
    if (name != nullptr) ::unlink(name);
  }
  ::raise(signal);  // by SA_RESETHAND what it does without a handler
}

int taken_slot(const char* path) {
  for (std::size_t i = 0; i < unfinished.size(); ++i) {
    const char* none = nullptr;
    if (unfinished[i].compare_exchange_strong(none, path)) return static_cast<int>(i);
  }
  return -1;
}

}  // namespace

UnfinishedFile::UnfinishedFile(std::string path)
    : path_{std::move(path)}, slot_{taken_slot(path_.c_str())} {}

UnfinishedFile::~UnfinishedFile() {
  if (path_.empty()) return;
  const int error = errno;  // the caller still has to say why
  ::unlink(path_.c_str());
  errno = error;
  keep();
}

void UnfinishedFile::keep() {
  if (slot_ >= 0) unfinished[static_cast<std::size_t>(slot_)].store(nullptr);
  slot_ = -1;
  path_.clear();
}

void remove_unfinished_files_on_signals() {
  for (const int signal : {SIGINT, SIGTERM, SIGHUP}) {
    struct sigaction before {};
    ::sigaction(signal, nullptr, &before);
    if (before.sa_handler == SIG_IGN) continue;
    struct sigaction tidy {};
    tidy.sa_handler = remove_and_end;
    tidy.sa_flags = static_cast<int>(SA_RESETHAND | SA_NODEFER);
    ::sigemptyset(&tidy.sa_mask);
    ::sigaction(signal, &tidy, nullptr);
  }
}

}  // namespace thickset
