// A lock on a folder's files, for programs that change one file at the same time. Private to this room.
#pragma once

#include <filesystem>

namespace haftwright::files {

/// Holds the folder's lock while it lives. It is a lock of the system (flock), not a file: it ends with the
/// program that holds it, however that ends. Where the folder can't be locked there is none. Throws
/// OutputError when the lock is not free within 10 seconds.
class FolderLock {
 public:
  explicit FolderLock(const std::filesystem::path& folder);
  ~FolderLock();
  FolderLock(const FolderLock&) = delete;
  FolderLock& operator=(const FolderLock&) = delete;

 private:
  int folder_ = -1;
};

}  // namespace haftwright::files
