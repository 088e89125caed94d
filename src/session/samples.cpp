#include "haftwright/session/samples.hpp"

#include <algorithm>
#include <system_error>

namespace haftwright {
namespace {

namespace fs = std::filesystem;

constexpr const char* kEnding = ".json";
constexpr const char* kSampleBin = "bin.json";  // lies beside the projects and is none

const fs::path& samples() {
  static const fs::path folder = [] {
    std::error_code error;
    return samples_folder(fs::read_symlink("/proc/self/exe", error));
  }();
  return folder;
}

}  // namespace

fs::path samples_folder(const fs::path& program) {
  if (!program.is_absolute()) return {};  // else the samples of whoever's folder this runs in would be found
  const fs::path beside = program.parent_path();
  std::error_code error;
  for (const fs::path& data : {beside / HAFTWRIGHT_DATA_FROM_PROGRAM, beside / "share/haftwright"})
    if (fs::is_directory(data / "projects", error)) return data / "projects";
  return {};
}

std::vector<fs::path> sample_projects() {
  std::vector<fs::path> files;
  std::error_code error;
  for (fs::directory_iterator at(samples(), error), end; !error && at != end; at.increment(error))
    if (at->path().extension() == kEnding && at->path().filename() != kSampleBin) files.push_back(at->path());
  std::sort(files.begin(), files.end());
  return files;
}

bool is_sample(const fs::path& path) {
  std::error_code error;
  const fs::path real = fs::weakly_canonical(path, error);
  return !error && real.extension() == kEnding && fs::equivalent(real.parent_path(), samples(), error) &&
         !error;
}

}  // namespace haftwright
