// The projects that come with the program, to look at and to try things on.
#pragma once

#include <filesystem>
#include <vector>

namespace haftwright {

/// In order of their names; none when their folder can't be read.
std::vector<std::filesystem::path> sample_projects();
/// Whether `path` is a project in the samples' folder, by whatever name or link that folder is reached. A
/// sample is opened as a copy without a file, so that saving never writes over it.
bool is_sample(const std::filesystem::path& path);

}  // namespace haftwright
