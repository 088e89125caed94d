#include "haftwright/session/disk_stamp.hpp"

#include <array>
#include <fstream>

namespace haftwright {
namespace {

namespace fs = std::filesystem;

/// FNV-1a, 64 bit (Fowler, Noll and Vo): no secrets here, only "is it the same file".
std::optional<std::uint64_t> hash_of(const fs::path& path) {
  std::ifstream file(path, std::ios::binary);
  if (!file) return std::nullopt;
  std::uint64_t hash = 0xcbf29ce484222325u;
  std::array<char, 65536> buffer;
  while (file) {
    file.read(buffer.data(), buffer.size());
    for (std::streamsize i = 0; i < file.gcount(); ++i)
      hash = (hash ^ static_cast<unsigned char>(buffer[static_cast<std::size_t>(i)])) * 0x100000001b3u;
  }
  return file.bad() ? std::nullopt : std::optional(hash);
}

/// Size and time alone.
bool look(const fs::path& path, DiskStamp& stamp) {
  std::error_code error;
  if (!fs::is_regular_file(path, error)) return false;
  stamp.size = fs::file_size(path, error);
  if (error) return false;
  stamp.modified = fs::last_write_time(path, error);
  return !error;
}

}  // namespace

std::optional<DiskStamp> stamp_of(const fs::path& path, std::size_t most_bytes) {
  DiskStamp stamp;
  if (!look(path, stamp) || stamp.size > most_bytes) return std::nullopt;
  const auto content = hash_of(path);
  if (!content) return std::nullopt;
  stamp.content = *content;
  return stamp;
}

DiskChange change_since(const fs::path& path, DiskStamp& stamp, bool by_content) {
  DiskStamp now;
  if (!look(path, now)) return DiskChange::gone;
  if (now.size != stamp.size) return DiskChange::changed;
  if (!by_content && now.modified == stamp.modified) return DiskChange::none;
  const auto content = hash_of(path);
  if (!content) return DiskChange::gone;
  if (*content != stamp.content) return DiskChange::changed;
  stamp.modified = now.modified;
  return DiskChange::none;
}

}  // namespace haftwright
