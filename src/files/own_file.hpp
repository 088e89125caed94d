// What project, shop and bin files have in common when they are read: their marker, their size, how they are
// refused.
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "haftwright/design/limits.hpp"
#include "haftwright/design/validate.hpp"
#include "json_text.hpp"

namespace haftwright::files {

/// A kind of file: the key that marks it and holds the number of its format, the newest number there is, and
/// what people call it, how large one may be.
struct FileKind {
  std::string_view version_key;
  int version = 0;
  std::string_view noun;
  std::size_t most_bytes = limits::kFileBytes;
};
inline constexpr FileKind kProjectFile{"haftwright", 2, "project"};
inline constexpr FileKind kShopFile{"haftwright_shop", 1, "shop file"};
inline constexpr FileKind kBinFile{"haftwright_bin", 1, "bin of offcuts", limits::kBinBytes};

/// The root object of a text of that kind, of any format up to the newest. Throws InputError for what is too
/// large, is no JSON, or lacks the marker: without that nothing else can be judged.
Json root_of(std::string_view json_text, const FileKind& kind);

/// Throws InputError with the first of many problems.
[[noreturn]] void refuse(std::vector<Problem> problems);

/// Everything in the file, or more than `most_bytes` of it; none where there is no file. Throws InputError
/// with an empty field for one that can't be read.
std::optional<std::string> bytes_of(const std::filesystem::path& path,
                                    std::size_t most_bytes = limits::kFileBytes);
/// The same, with a problem where there is no file.
std::string bytes_there(const std::filesystem::path& path, std::size_t most_bytes = limits::kFileBytes);

}  // namespace haftwright::files
