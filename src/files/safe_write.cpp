#include "haftwright/files/safe_write.hpp"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <atomic>
#include <cerrno>
#include <cstdio>
#include <ctime>
#include <optional>
#include <utility>

#include "plain_reason.hpp"

namespace haftwright {

using namespace files;
namespace {

namespace fs = std::filesystem;

constexpr int kMostLinks = 40;  // as the kernel itself follows
constexpr mode_t kNewFileMode = 0666;
constexpr std::string_view kTemporaryStart = ".haftwright-";
constexpr std::string_view kTemporaryEnd = ".tmp";
constexpr std::time_t kLongestWrite = 3600;  // s; nothing here takes so long to write

[[noreturn]] void refuse(const fs::path& path, int error) {
  throw OutputError(path.string() + " can't be written: " + plain_write_reason(error));
}

/// The file a path stands for once its links are followed, there already or not.
fs::path followed(const fs::path& path) {
  fs::path target = path;
  for (int links = 0; links < kMostLinks; ++links) {
    std::error_code error;
    if (!fs::is_symlink(fs::symlink_status(target, error))) return target;
    const fs::path next = fs::read_symlink(target, error);
    if (error) refuse(path, error.value());
    target = next.is_absolute() ? next : target.parent_path() / next;
  }
  refuse(path, ELOOP);
}

/// What is there now; nothing when the file is new. Refuses what must not be replaced.
std::optional<struct stat> status_of_old(const fs::path& path, const fs::path& target) {
  struct stat status {};
  if (::stat(target.c_str(), &status) != 0) {
    if (errno == ENOENT) return std::nullopt;
    refuse(path, errno);
  }
  if (S_ISDIR(status.st_mode)) refuse(path, EISDIR);
  if (!S_ISREG(status.st_mode))
    throw OutputError(path.string() + " can't be written: it is not an ordinary file");
  // A rename would replace it all the same; whoever took the permission away meant it.
  if (::faccessat(AT_FDCWD, target.c_str(), W_OK, AT_EACCESS) != 0) refuse(path, errno);
  return status;
}

/// A file of its own beside the target, removed again unless it has taken the target's place.
class TemporaryFile {
 public:
  TemporaryFile(const fs::path& path, const fs::path& folder, const std::optional<struct stat>& like)
      : path_(path) {
    static std::atomic<unsigned> number{0};
    const mode_t mode = like ? like->st_mode & 07777 : kNewFileMode;
    do {
      name_ = folder / (std::string(kTemporaryStart) + std::to_string(::getpid()) + '-' +
                        std::to_string(number++) + std::string(kTemporaryEnd));
      file_ = ::open(name_.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, mode);
    } while (file_ < 0 && errno == EEXIST);
    if (file_ < 0) refuse(path_, errno);
    if (!like) return;
    // Another's file stays theirs where the system lets us; the content matters more than the owner.
    if (::fchown(file_, like->st_uid, like->st_gid) != 0) errno = 0;
    if (::fchmod(file_, mode) != 0) fail();
  }
  TemporaryFile(const TemporaryFile&) = delete;
  TemporaryFile& operator=(const TemporaryFile&) = delete;
  ~TemporaryFile() { discard(); }

  void write(std::string_view bytes) {
    while (!bytes.empty()) {
      const ssize_t written = ::write(file_, bytes.data(), bytes.size());
      if (written < 0 && errno == EINTR) continue;
      if (written < 0) fail();
      bytes.remove_prefix(static_cast<std::size_t>(written));
    }
  }

  /// To the disk, and then in one step to its place.
  void take_place_of(const fs::path& target, OldFile old_file) {
    if (::fsync(file_) != 0) fail();
    const int file = std::exchange(file_, -1);
    if (::close(file) != 0) fail();
    if (old_file == OldFile::refuse)
      take_new_name(target);
    else if (std::rename(name_.c_str(), target.c_str()) != 0)
      fail();
    name_.clear();
  }

 private:
  /// Whoever else makes a file of that name at this moment, one of both comes first and the other is told.
  void take_new_name(const fs::path& target) {
    if (::renameat2(AT_FDCWD, name_.c_str(), AT_FDCWD, target.c_str(), RENAME_NOREPLACE) == 0) return;
    if (errno != EINVAL && errno != ENOSYS) fail();
    // Not every file system knows that; a second name does the same where there are second names.
    if (::link(name_.c_str(), target.c_str()) != 0) fail();
    ::unlink(name_.c_str());
  }

  [[noreturn]] void fail() {
    const int error = errno;
    discard();
    refuse(path_, error);
  }
  void discard() {
    if (file_ >= 0) ::close(std::exchange(file_, -1));
    if (!name_.empty()) ::unlink(name_.c_str());
    name_.clear();
  }

  fs::path path_;
  fs::path name_;
  int file_ = -1;
};

/// Removes what this user's killed programs left in the folder. What can't be removed does no harm.
void sweep(const fs::path& folder) {
  std::error_code error;
  for (fs::directory_iterator entry(folder, error), end; !error && entry != end; entry.increment(error)) {
    const std::string name = entry->path().filename().string();
    if (!name.starts_with(kTemporaryStart) || !name.ends_with(kTemporaryEnd)) continue;
    struct stat status {};
    if (::lstat(entry->path().c_str(), &status) == 0 && S_ISREG(status.st_mode) &&
        status.st_uid == ::geteuid() && status.st_mtime < std::time(nullptr) - kLongestWrite)
      ::unlink(entry->path().c_str());
  }
}

/// Makes the new name last through a power cut. Some file systems have no such thing to ask for.
void flush_folder(const fs::path& path, const fs::path& folder) {
  const int handle = ::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC);
  if (handle < 0) return;  // a folder may be written to without being read
  const int error = ::fsync(handle) == 0 ? 0 : errno;
  ::close(handle);
  if (error == EIO || error == ENOSPC || error == EDQUOT)
    throw OutputError(path.string() +
                      " was written, but the disk did not confirm it: " + plain_write_reason(error));
}

}  // namespace

void write_file_safely(const fs::path& path, std::string_view bytes, OldFile old_file) {
  const fs::path target = followed(path);
  if (!target.has_filename()) refuse(path, EISDIR);
  const auto old = status_of_old(path, target);
  if (old && old_file == OldFile::refuse) refuse(path, EEXIST);
  const fs::path folder = target.has_parent_path() ? target.parent_path() : fs::path(".");
  sweep(folder);
  TemporaryFile file(path, folder, old);
  file.write(bytes);
  file.take_place_of(target, old_file);
  flush_folder(path, folder);
}

}  // namespace haftwright
