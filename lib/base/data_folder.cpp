#include "base/data_folder.h"

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <system_error>

#include <fmt/format.h>

#include "base/entries.h"
#include "base/error.h"
#include "base/text.h"

namespace thickset {

namespace {

namespace fs = std::filesystem;

bool is_folder(const fs::path& path) {
  std::error_code error;
  return fs::is_directory(path, error);
}

bool is_file(const fs::path& path) {
  std::error_code error;
  const fs::file_status status = fs::status(path, error);
  return fs::exists(status) && !fs::is_directory(status);
}

bool holds_data(const fs::path& folder) {
  return is_folder(folder / "glasses");
}

/// The folder of the running program, empty where the system does not tell.
fs::path program_folder() {
  std::error_code error;
  const fs::path program = fs::read_symlink("/proc/self/exe", error);
  return error ? fs::path{} : program.parent_path();
}

std::string joined(const std::vector<std::string>& names) {
  return fmt::format("{}", fmt::join(names, ", "));
}

}  // namespace

std::string find_data_folder(const std::string& beside_program, const std::string& source_data) {
  const char* const chosen = std::getenv("THICKSET_DATA");
  if (chosen != nullptr && *chosen != '\0') {
    if (holds_data(chosen)) return chosen;
    throw Error{Place{"THICKSET_DATA"},
                fmt::format("{} is not a data folder: it has no glasses/ in it", in_quotes(chosen)),
                "name the folder that holds glasses/, or unset THICKSET_DATA"};
  }
  std::vector<std::string> tried;
  const fs::path beside = program_folder();
  if (!beside.empty() && !beside_program.empty()) {
    const std::string folder = (beside / beside_program).lexically_normal().string();
    if (holds_data(folder)) return folder;
    tried.push_back(folder);
  }
  if (!source_data.empty()) {
    if (holds_data(source_data)) return source_data;
    tried.push_back(source_data);
  }
  throw Error{Place{},
              fmt::format("no data folder found; tried {}", joined(tried)),
              "set THICKSET_DATA to the folder that holds glasses/"};
}

std::string own_data_folder() {
  const auto absolute = [](const char* variable) {
    const char* const value = std::getenv(variable);
    return value != nullptr && fs::path{value}.is_absolute() ? fs::path{value} : fs::path{};
  };
  if (const fs::path data = absolute("XDG_DATA_HOME"); !data.empty()) {
    return (data / "thickset").string();
  }
  const fs::path home = absolute("HOME");
  return home.empty() ? "" : (home / ".local/share/thickset").string();
}

std::string find_data_file(const std::string& folder,
                           const std::string& kind,
                           const std::string& extension,
                           const std::string& name,
                           const std::string& asked_by) {
  const Place place{asked_by};
  if (name.empty()) {
    throw Error{place, "the name is empty", fmt::format("name a file, or one of {}", kind)};
  }
  if (name.find('/') != name.npos || is_file(name)) return name;
  const std::string own_folder = own_data_folder();
  if (!own_folder.empty()) {
    const fs::path own = fs::path{own_folder} / kind / fmt::format("{}.{}", name, extension);
    if (is_file(own)) return own.string();
  }
  const std::string shipped =
      (fs::path{folder} / kind / fmt::format("{}.{}", name, extension)).string();
  if (is_file(shipped)) return shipped;

  const std::vector<std::string> names = data_names(folder, kind, extension);
  const std::string nearest = nearest_name(name, names);
  // A file that is not there; but some shipped names have a point in them.
  if (name.find('.') != name.npos && nearest.empty()) return name;
  const std::string what = fmt::format("no {} is called {}", extension, in_quotes(name));
  if (!nearest.empty()) throw Error{place, what, fmt::format("did you mean {}?", nearest)};
  if (names.empty()) {
    throw Error{place, what, fmt::format("there are no {} in {}", kind, in_quotes(folder))};
  }
  throw Error{place, what, fmt::format("known: {}", joined(names))};
}

bool hides_shipped(const std::string& path,
                   const std::string& folder,
                   const std::string& kind,
                   const std::string& extension,
                   const std::string& name) {
  const std::string own = own_data_folder();
  const fs::path file = fs::path{kind} / fmt::format("{}.{}", name, extension);
  return !own.empty() && path == (fs::path{own} / file).string() &&
         is_file(fs::path{folder} / file);
}

std::vector<std::string> data_names(const std::string& folder,
                                    const std::string& kind,
                                    const std::string& extension) {
  std::vector<std::string> names;
  std::error_code error;
  fs::directory_iterator it{fs::path{folder} / kind, error};
  for (; !error && it != fs::directory_iterator{}; it.increment(error)) {
    const fs::path& path = it->path();
    if (is_file(path) && path.extension() == "." + extension) names.push_back(path.stem().string());
  }
  std::sort(names.begin(), names.end());
  return names;
}

}  // namespace thickset
