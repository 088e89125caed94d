// The shop file: JSON beside the projects, read as strictly and written as safely as they are.
// projects/FORMAT.md is its schema too.
#pragma once

#include <filesystem>
#include <string>
#include <string_view>

#include "haftwright/design/shop.hpp"
#include "haftwright/files/safe_write.hpp"

namespace haftwright {

/// shop.json in data_folder(), see folders.hpp. There or not.
std::filesystem::path shop_file();

/// Reads and validates. Throws InputError as parse_project does.
Shop parse_shop(std::string_view json_text);
/// As parse_shop. Where there is no file, the built-in defaults; a file that is there and can't be read gives
/// InputError with an empty field.
Shop read_shop(const std::filesystem::path& path);

/// The file's text, as project_text writes it. Throws InputError for a Shop that does not pass validate().
std::string shop_text(const Shop& shop);
/// Safe save through write_file_safely; makes the folder when there is none. Throws InputError as shop_text
/// does, and OutputError.
void write_shop(const Shop& shop, const std::filesystem::path& path, OldFile old_file = OldFile::replace);

}  // namespace haftwright
