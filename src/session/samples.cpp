#include "haftwright/session/samples.hpp"

#include <algorithm>
#include <system_error>

namespace haftwright {
namespace {

namespace fs = std::filesystem;

constexpr const char* kFolder = HAFTWRIGHT_PROJECTS;
constexpr const char* kEnding = ".json";

}  // namespace

std::vector<fs::path> sample_projects() {
  std::vector<fs::path> files;
  std::error_code error;
  for (fs::directory_iterator at(kFolder, error), end; !error && at != end; at.increment(error))
    if (at->path().extension() == kEnding) files.push_back(at->path());
  std::sort(files.begin(), files.end());
  return files;
}

bool is_sample(const fs::path& path) {
  std::error_code error;
  const fs::path real = fs::weakly_canonical(path, error);
  return !error && real.extension() == kEnding && fs::equivalent(real.parent_path(), kFolder, error) &&
         !error;
}

}  // namespace haftwright
