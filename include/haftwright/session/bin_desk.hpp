// The bin of offcuts in force, with the way back: its file read, written and watched. No window in it.
//
// Every edit is on disk when apply() returns, so that other windows and commands see it; undo and redo write
// too. Nothing that somebody else wrote is ever written over: where the file has changed, it is read again,
// and what was to be done is refused with a sentence that says so. Steps made before that can't be taken back
// any longer, as they would take back the other's as well.
#pragma once

#include <cstdint>
#include <filesystem>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "haftwright/offcuts/bin_edits.hpp"
#include "haftwright/session/disk_stamp.hpp"

namespace haftwright {

class BinDesk {
 public:
  /// The file is read when the bin is first asked for. An empty path: there is none, and none can be begun.
  explicit BinDesk(std::filesystem::path file = {}) : path_(std::move(file)) {}

  const std::filesystem::path& path() const { return path_; }
  /// Another file takes the place of this one. False, and nothing happens, where it can't be read, which
  /// said() tells.
  bool open(const std::filesystem::path& file);
  /// Whether a file is there, readable or not. Reads nothing.
  bool there() const;
  /// Whether there is a file whose changes matter: it has been read.
  bool watched() const { return read_ && stamp_.has_value(); }
  /// As the file holds it; empty where there is none. The same pointer until it differs.
  std::shared_ptr<const Bin> snapshot();
  const Bin& bin() { return *snapshot(); }
  /// Grows whenever there(), bin() or said() may have changed.
  std::uint64_t revision() const { return revision_; }

  /// Edits and writes. False where the edit was refused, makes no good bin, or can't be written: then nothing
  /// has changed and said() tells why. True also where the edit changes nothing.
  bool apply(std::string label, const EditedBin& edit);
  bool can_undo() const { return cursor_ > 0; }
  bool can_redo() const { return cursor_ + 1 < steps_.size(); }
  /// Name of the step that undo() takes back, or redo() makes again; empty when there is none.
  std::string undo_label() const { return can_undo() ? steps_[cursor_].label : std::string(); }
  std::string redo_label() const { return can_redo() ? steps_[cursor_ + 1].label : std::string(); }
  /// False as of apply(), and where there is nothing to undo or redo.
  bool undo();
  bool redo();

  /// Reads the file again if somebody else has changed it.
  void look();

  /// What there is to tell about the last thing done or noticed; no words when all is well.
  struct Said {
    bool trouble = false;
    std::string words;  ///< whole sentences
  };
  const Said& said() const { return said_; }
  void say(bool trouble, std::string words);

 private:
  struct Step {
    std::string label;
    std::shared_ptr<const Bin> bin;
  };

  void read_once();
  bool take_in();
  bool write(const Bin& bin);
  bool go_to(std::size_t step);

  std::filesystem::path path_;
  bool read_ = false;
  std::optional<std::string> bytes_;  ///< that the bin was read from; none: there was no file
  std::optional<DiskStamp> stamp_;
  std::vector<Step> steps_{{"", std::make_shared<const Bin>()}};
  std::size_t cursor_ = 0;
  std::uint64_t revision_ = 0;
  Said said_;
};

}  // namespace haftwright
