// The sample projects of a folder, without the bin of offcuts that lies beside them.
#pragma once

#include <algorithm>
#include <filesystem>
#include <vector>

namespace haftwright::test {

inline std::vector<std::filesystem::path> sample_files(const std::filesystem::path& folder) {
  std::vector<std::filesystem::path> files;
  for (const auto& entry : std::filesystem::directory_iterator(folder))
    if (entry.path().extension() == ".json" && entry.path().filename() != "bin.json")
      files.push_back(entry.path());
  std::ranges::sort(files);
  return files;
}

}  // namespace haftwright::test
