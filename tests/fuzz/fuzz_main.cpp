// What libFuzzer calls. The program holds all targets; the name it is called by, fuzz_NAME, says
// which: CMake makes a link for each.

#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <string>
#include <string_view>

#include "fuzz/target.h"

namespace {

const thickset::fuzz::Target* chosen = nullptr;

}  // namespace

extern "C" int LLVMFuzzerInitialize(int* /*argc*/, char*** argv) {
  std::string_view name = (*argv)[0];
  name.remove_prefix(name.rfind('/') + 1);
  if (name.starts_with("fuzz_")) name.remove_prefix(5);
  using thickset::fuzz::command_targets, thickset::fuzz::reader_targets;
  for (const auto& targets : {reader_targets(), command_targets()}) {
    for (const auto& target : targets) {
      if (target.name == name) chosen = &target;
    }
  }
  if (chosen == nullptr) {
    std::fprintf(stderr,
                 "call this by one of its links, fuzz_NAME; it has no target %s\n",
                 std::string{name}.c_str());
    std::exit(2);
  }
  // The shipped files of this source, and no one's own.
  ::setenv("THICKSET_DATA", THICKSET_SOURCE "/data", 1);
  ::setenv("XDG_DATA_HOME", "/nonexistent", 1);
  return 0;
}

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  chosen->run({reinterpret_cast<const char*>(data), size});
  return 0;
}
