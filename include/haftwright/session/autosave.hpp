// Unsaved work, kept where a crash can't reach it and offered back afterwards.
//
// Each running program has a folder of its own under CONFIG/unsaved, with a lock that the system lets go of
// when the program ends in whatever way. A folder whose lock can be taken belongs to nobody: what it holds is
// offered back.
#pragma once

#include <chrono>
#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "haftwright/design/design.hpp"

namespace haftwright {

/// Unsaved work that somebody left behind.
struct Offer {
  std::filesystem::path folder;
  std::filesystem::path project;  ///< the file it was opened from; empty: never saved
  std::string name;               ///< the project's own name, else its file's
  std::chrono::system_clock::time_point when;
  std::optional<std::uint64_t> based_on;  ///< content of the file it was made from
  Design design;
};

/// This program's own place for unsaved work. Makes nothing on disk before the first keep().
class Autosave {
 public:
  /// `config_folder` as in settings.hpp.
  explicit Autosave(const std::filesystem::path& config_folder);
  /// Lets go of what it holds, which is then offered back: only clear() takes it away.
  ~Autosave();
  Autosave(const Autosave&) = delete;
  Autosave& operator=(const Autosave&) = delete;

  /// Writes `design` safely in place of what was kept before. `based_on` is the content (see disk_stamp.hpp)
  /// that the project's file had when it was read or written last. Throws OutputError.
  void keep(const Design& design, const std::filesystem::path& project,
            std::optional<std::uint64_t> based_on = std::nullopt);
  bool holds_work() const { return holds_work_; }
  /// Nothing is unsaved any longer: removes the folder. Never throws.
  void clear();

  /// Where the work is; a new one after clear().
  const std::filesystem::path& folder() const { return folder_; }

 private:
  void open_folder();
  void release();

  std::filesystem::path parent_;
  std::filesystem::path folder_;
  int lock_ = -1;
  bool holds_work_ = false;
};

/// Work left behind by programs that are gone, newest first. Never throws; work that can't be read any longer
/// is set aside once and told in `unreadable` (the folder it is in now, and why).
struct LeftBehind {
  std::vector<Offer> offers;
  std::vector<std::string> unreadable;
};
LeftBehind find_left_behind(const std::filesystem::path& config_folder);
/// Removes it, once it was restored or is not wanted. False when another program took it meanwhile.
bool discard(const Offer& offer);

}  // namespace haftwright
