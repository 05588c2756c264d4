#pragma once

#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <memory>
#include <stdexcept>
#include <string>
#include <string_view>

namespace thickset {

/// A new empty folder, removed with all it holds at the end of its scope.
class TemporaryFolder {
 public:
  TemporaryFolder() {
    std::string name = (std::filesystem::temp_directory_path() / "thickset-XXXXXX").string();
    if (::mkdtemp(name.data()) == nullptr) throw std::runtime_error{"no temporary folder"};
    path_ = name;
  }
  TemporaryFolder(const TemporaryFolder&) = delete;
  TemporaryFolder& operator=(const TemporaryFolder&) = delete;
  ~TemporaryFolder() {
    std::error_code ignored;
    std::filesystem::remove_all(path_, ignored);
  }

  std::string path() const { return path_.string(); }
  std::string operator/(std::string_view name) const { return (path_ / name).string(); }

  /// Makes a file of these bytes, and its folders; gives its path.
  std::string file(std::string_view name, std::string_view bytes) const {
    const std::filesystem::path path = path_ / name;
    std::filesystem::create_directories(path.parent_path());
    std::FILE* const file = std::fopen(path.c_str(), "wb");
    if (file == nullptr) throw std::runtime_error{"cannot make " + path.string()};
    std::fwrite(bytes.data(), 1, bytes.size(), file);
    std::fclose(file);
    return path.string();
  }

  /// The names in the folder, files and folders.
  std::size_t count() const {
    std::size_t names = 0;
    for ([[maybe_unused]] const auto& name : std::filesystem::directory_iterator{path_}) ++names;
    return names;
  }

 private:
  std::filesystem::path path_;
};

}  // namespace thickset
