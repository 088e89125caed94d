// Turns at a folder's files, for programs that have one file in hand at the same time. Private to this room.
#pragma once

#include <filesystem>

namespace haftwright::files {

/// Holds the folder's lock while it lives. A lock of the system (flock), not a file: it goes with the program
/// that held it, however that ends. Does without where the folder can't be locked. Throws OutputError when
/// the lock does not come free in time.
class FolderTurn {
 public:
  explicit FolderTurn(const std::filesystem::path& folder);
  ~FolderTurn();
  FolderTurn(const FolderTurn&) = delete;
  FolderTurn& operator=(const FolderTurn&) = delete;

 private:
  int folder_ = -1;
};

}  // namespace haftwright::files
