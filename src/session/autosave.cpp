#include "haftwright/session/autosave.hpp"

#include <fcntl.h>
#include <sys/file.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <nlohmann/json.hpp>
#include <system_error>
#include <utility>

#include "haftwright/design/limits.hpp"
#include "haftwright/design/schema.hpp"
#include "haftwright/design/validate.hpp"
#include "haftwright/files/project_file.hpp"
#include "haftwright/files/safe_write.hpp"
#include "small_files.hpp"

namespace haftwright {

using namespace session;
namespace {

namespace fs = std::filesystem;
using Json = nlohmann::ordered_json;
using std::chrono::system_clock;

constexpr const char* kParent = "unsaved";
constexpr const char* kWork = "work.json";
constexpr const char* kLock = "lock";
constexpr const char* kSetAside = "unreadable-";
// The project stands in it as one text, every quote escaped.
constexpr std::size_t kMostBytes = 2 * limits::kFileBytes + (1u << 16);

/// A lock on a folder that the system lets go of with the program that holds it.
class FolderLock {
 public:
  /// Takes it when nobody has it.
  explicit FolderLock(const fs::path& folder) : file_(open((folder / kLock).c_str(), O_RDWR | O_CLOEXEC)) {
    if (file_ >= 0 && flock(file_, LOCK_EX | LOCK_NB) != 0) release();
  }
  ~FolderLock() { release(); }
  FolderLock(const FolderLock&) = delete;
  FolderLock& operator=(const FolderLock&) = delete;
  bool taken() const { return file_ >= 0; }

 private:
  void release() {
    if (file_ >= 0) close(file_);
    file_ = -1;
  }
  int file_;
};

long long seconds(system_clock::time_point when) {
  return std::chrono::duration_cast<std::chrono::seconds>(when.time_since_epoch()).count();
}

std::string work_text(const Design& design, const fs::path& project, std::optional<std::uint64_t> based_on) {
  // JSON holds UTF-8 only: a project whose path is something else comes back as one never saved.
  const std::string path = schema::text_problem(project.string()).empty() ? project.string() : "";
  Json json = {{"pid", getpid()},
               {"project", path},
               {"kept_at", seconds(system_clock::now())},
               {"design", project_text(design)}};
  if (based_on) json["based_on"] = *based_on;
  return json.dump(2) + "\n";
}

Offer offer_from(const fs::path& folder) {
  const auto text = read_text(folder / kWork, kMostBytes);
  if (!text) throw InputError("", "can't be read");
  const Json json = Json::parse(*text);
  Offer offer;
  offer.folder = folder;
  offer.project = json.at("project").get<std::string>();
  offer.when = system_clock::time_point(std::chrono::seconds(json.at("kept_at").get<long long>()));
  if (json.contains("based_on")) offer.based_on = json.at("based_on").get<std::uint64_t>();
  offer.design = parse_project(json.at("design").get_ref<const std::string&>());
  offer.name = offer.design.name.empty() ? offer.project.stem().string() : offer.design.name;
  return offer;
}

/// Moves work that can't be read out of the way, so that it is told of once and not lost.
std::string set_aside(const fs::path& folder, const char* why) {
  const fs::path aside = folder.parent_path() / (kSetAside + folder.filename().string());
  std::error_code error;
  fs::rename(folder, aside, error);
  return (error ? folder : aside).string() + ": " + why;
}

bool is_set_aside(const fs::path& folder) {
  return folder.filename().string().starts_with(kSetAside);
}

}  // namespace

Autosave::Autosave(const fs::path& config_folder) : parent_(config_folder / kParent) {}

Autosave::~Autosave() {
  release();
}

void Autosave::release() {
  if (lock_ >= 0) close(lock_);
  lock_ = -1;
}

void Autosave::open_folder() {
  std::error_code error;
  if (lock_ >= 0 && fs::exists(folder_ / kLock, error)) return;
  release();
  fs::create_directories(parent_, error);
  std::string name = (parent_ / (std::to_string(getpid()) + "-XXXXXX")).string();
  if (error || !mkdtemp(name.data()))
    throw OutputError(parent_.string() + ": no folder for unsaved work can be made: " +
                      (error ? error.message() : std::strerror(errno)));
  folder_ = name;
  lock_ = open((folder_ / kLock).c_str(), O_RDWR | O_CREAT | O_CLOEXEC, 0600);
  if (lock_ < 0 || flock(lock_, LOCK_EX | LOCK_NB) != 0)
    throw OutputError(folder_.string() + ": can't be locked: " + std::strerror(errno));
}

void Autosave::keep(const Design& design, const fs::path& project, std::optional<std::uint64_t> based_on) {
  open_folder();
  write_file_safely(folder_ / kWork, work_text(design, project, based_on));
  holds_work_ = true;
}

void Autosave::clear() {
  holds_work_ = false;
  if (lock_ < 0) return;
  std::error_code error;
  fs::remove_all(folder_, error);
  release();
  fs::remove(parent_, error);  // when nobody else has work there
}

LeftBehind find_left_behind(const fs::path& config_folder) {
  LeftBehind found;
  std::error_code error;
  for (fs::directory_iterator entry(config_folder / kParent, error), end; !error && entry != end;
       entry.increment(error)) {
    const fs::path folder = entry->path();
    std::error_code ignored;
    // A folder without work may be one that another program is just making.
    if (is_set_aside(folder) || !fs::exists(folder / kWork, ignored)) continue;
    const FolderLock lock(folder);
    if (!lock.taken()) continue;
    try {
      found.offers.push_back(offer_from(folder));
    } catch (const std::exception& why) {
      found.unreadable.push_back(set_aside(folder, why.what()));
    }
  }
  std::ranges::sort(found.offers, std::ranges::greater{}, &Offer::when);
  return found;
}

bool discard(const Offer& offer) {
  const FolderLock lock(offer.folder);
  if (!lock.taken()) return false;
  std::error_code error;
  fs::remove_all(offer.folder, error);
  fs::remove(offer.folder.parent_path(), error);
  return true;
}

}  // namespace haftwright
