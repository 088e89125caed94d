// Noticing that a file was changed by somebody else.
#pragma once

#include <cstddef>
#include <cstdint>
#include <filesystem>
#include <optional>

#include "haftwright/design/limits.hpp"

namespace haftwright {

/// A file as it was when we read or wrote it.
struct DiskStamp {
  std::uintmax_t size = 0;
  std::filesystem::file_time_type modified;
  std::uint64_t content = 0;  ///< FNV-1a of all bytes
};
/// None when the file can't be read, is no regular file, or is larger than `most_bytes`, the most that a file
/// of its kind may have (which is told by its size: nothing that large is read).
std::optional<DiskStamp> stamp_of(const std::filesystem::path& path,
                                  std::size_t most_bytes = limits::kFileBytes);

enum class DiskChange { none, changed, gone };
/// Has the content changed since `stamp`? Size and time are looked at first and the bytes only when the time
/// alone differs, so that it may be asked every second; `by_content` reads the bytes whenever the size is the
/// same, for the moment before writing. A file that was only touched has not changed; `stamp` then learns its
/// new time.
DiskChange change_since(const std::filesystem::path& path, DiskStamp& stamp, bool by_content = false);

}  // namespace haftwright
