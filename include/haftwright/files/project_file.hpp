// Project files: JSON in millimetres and degrees, read strictly, written safely. projects/FORMAT.md is the
// schema.
#pragma once

#include <filesystem>
#include <string>
#include <string_view>

#include "haftwright/design/design.hpp"
#include "haftwright/files/safe_write.hpp"

namespace haftwright {

/// Reads and validates. Throws InputError (field paths as in the file) for anything that is not a good
/// project: unknown key (names the nearest known one), wrong type, not finite, out of range, too large, not
/// UTF-8, and what validate() finds. Formats 1 and 2 are read; what has no id gets one (with_ids()).
Design parse_project(std::string_view json_text);
/// As parse_project; a file that can't be read gives InputError with an empty field.
Design read_project(const std::filesystem::path& path);

/// The file's text: keys in a fixed order, shortest numbers that read back equal, defaults written out.
/// What has no id is written with one.
/// Throws InputError for a Design that does not pass validate(): nothing is saved that could not be read
/// back.
std::string project_text(const Design& design);
/// Safe save through write_file_safely. Throws InputError as project_text does, and OutputError.
void write_project(const Design& design, const std::filesystem::path& path,
                   OldFile old_file = OldFile::replace);

}  // namespace haftwright
