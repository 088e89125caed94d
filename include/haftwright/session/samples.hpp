// The projects that come with the program, to look at and to try things on.
#pragma once

#include <filesystem>
#include <vector>

namespace haftwright {

/// Where the samples lie for the program in the file `program`: as an installed tree has it (PREFIX/bin
/// beside PREFIX/share), else as the build folder has it; empty when in neither.
std::filesystem::path samples_folder(const std::filesystem::path& program);
/// In order of their names; none when their folder can't be read.
std::vector<std::filesystem::path> sample_projects();
/// Whether `path` is a project in the samples' folder, by whatever name or link that folder is reached. A
/// sample is opened as a copy without a file, so that saving never writes over it.
bool is_sample(const std::filesystem::path& path);

}  // namespace haftwright
