// Paths and small files of our own.
#pragma once

#include <cstddef>
#include <filesystem>
#include <fstream>
#include <optional>
#include <string>
#include <system_error>
#include <utility>

namespace haftwright::session {

/// Absolute, the folder as the system resolves it: "link/.." is the folder above the one that the link points
/// at. The name itself stays, even that of a link. `path` itself when there is no telling.
inline std::filesystem::path full_path(const std::filesystem::path& path) {
  std::error_code error;
  const std::filesystem::path full = std::filesystem::absolute(path, error);
  if (error) return path;
  const std::filesystem::path name = full.filename();
  const bool plain = !name.empty() && name != "." && name != "..";
  const std::filesystem::path real =
      std::filesystem::weakly_canonical(plain ? full.parent_path() : full, error);
  if (error) return full.lexically_normal();
  return plain ? real / name : real;
}

/// A folder, a pipe, a device ...: there, but not to be read or written as a file is. Reading a pipe may wait
/// for ever.
inline bool is_no_file(const std::filesystem::path& path) {
  std::error_code error;
  const std::filesystem::file_status status = std::filesystem::status(path, error);
  return std::filesystem::exists(status) && !std::filesystem::is_regular_file(status);
}

/// The file's bytes; none when it can't be read or holds more than `most`.
inline std::optional<std::string> read_text(const std::filesystem::path& path, std::size_t most) {
  if (is_no_file(path)) return std::nullopt;
  std::ifstream file(path, std::ios::binary);
  if (!file) return std::nullopt;
  std::string text(most + 1, '\0');
  file.read(text.data(), static_cast<std::streamsize>(text.size()));
  if (file.bad()) return std::nullopt;
  text.resize(static_cast<std::size_t>(file.gcount()));
  return text.size() > most ? std::nullopt : std::optional(std::move(text));
}

}  // namespace haftwright::session
