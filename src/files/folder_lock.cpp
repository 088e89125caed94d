#include "folder_lock.hpp"

#include <fcntl.h>
#include <sys/file.h>
#include <unistd.h>

#include <cerrno>
#include <chrono>
#include <thread>

#include "haftwright/files/safe_write.hpp"

namespace haftwright::files {
namespace {

constexpr auto kPatience = std::chrono::seconds(10);
constexpr auto kBetweenTries = std::chrono::milliseconds(5);

}  // namespace

FolderLock::FolderLock(const std::filesystem::path& folder)
    : folder_(::open(folder.empty() ? "." : folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC)) {
  if (folder_ < 0) return;
  const auto until = std::chrono::steady_clock::now() + kPatience;
  while (::flock(folder_, LOCK_EX | LOCK_NB) != 0) {
    if (errno == EINTR) continue;
    if (errno != EWOULDBLOCK) return;
    if (std::chrono::steady_clock::now() > until) {
      ::close(folder_);
      throw OutputError(folder.string() +
                        ": another Haftwright is writing there and does not come to an end; try again later");
    }
    std::this_thread::sleep_for(kBetweenTries);
  }
}

FolderLock::~FolderLock() {
  if (folder_ >= 0) ::close(folder_);
}

}  // namespace haftwright::files
