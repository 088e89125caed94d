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

/// Absolute and without dots; `path` itself when there is no telling.
inline std::filesystem::path full_path(const std::filesystem::path& path) {
  std::error_code error;
  const std::filesystem::path full = std::filesystem::absolute(path, error);
  return (error ? path : full).lexically_normal();
}

/// The file's bytes; none when it can't be read or holds more than `most`.
inline std::optional<std::string> read_text(const std::filesystem::path& path, std::size_t most) {
  std::ifstream file(path, std::ios::binary);
  if (!file) return std::nullopt;
  std::string text(most + 1, '\0');
  file.read(text.data(), static_cast<std::streamsize>(text.size()));
  if (file.bad()) return std::nullopt;
  text.resize(static_cast<std::size_t>(file.gcount()));
  return text.size() > most ? std::nullopt : std::optional(std::move(text));
}

}  // namespace haftwright::session
