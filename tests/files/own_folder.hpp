// A folder to write into, and the bytes of files in it.
#pragma once

#include <stdlib.h>

#include <filesystem>
#include <fstream>
#include <sstream>
#include <stdexcept>
#include <string>

namespace haftwright::test {

namespace fs = std::filesystem;

/// A folder of the test's own, gone afterwards.
class Folder {
 public:
  Folder() {
    std::string name = (fs::temp_directory_path() / "haftwright-test-XXXXXX").string();
    if (!::mkdtemp(name.data())) throw std::runtime_error("no folder for the test");
    path_ = name;
  }
  ~Folder() { fs::remove_all(path_); }
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;

  fs::path operator/(const char* name) const { return path_ / name; }
  const fs::path& path() const { return path_; }
  std::size_t entries() const {
    return static_cast<std::size_t>(std::distance(fs::directory_iterator(path_), fs::directory_iterator()));
  }

 private:
  fs::path path_;
};

inline std::string content(const fs::path& path) {
  std::ifstream file(path, std::ios::binary);
  std::ostringstream text;
  text << file.rdbuf();
  return text.str();
}

inline void put(const fs::path& path, const std::string& text) {
  std::ofstream(path, std::ios::binary) << text;
}

}  // namespace haftwright::test
