#include <algorithm>

#include "base/unfinished_file.h"
#include "run.h"
#include "screen.h"

int main(int argc, char** argv) {
  thickset::remove_unfinished_files_on_signals();
  thickset::cli::outlive_closed_pipes();
  return thickset::cli::run({argv + std::min(argc, 1), argv + argc});
}
