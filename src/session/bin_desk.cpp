#include "haftwright/session/bin_desk.hpp"

#include <system_error>
#include <utility>

#include "haftwright/files/bin_file.hpp"
#include "session_words.hpp"
#include "small_files.hpp"

namespace haftwright {

using namespace session;
namespace {

namespace fs = std::filesystem;

/// The first problem says enough for one line; the others come once it is put right.
std::string sentence_of(const InputError& error) {
  const std::vector<std::string> lines = words::lines_of(error.problems());
  return (lines.empty() ? std::string(error.what()) : lines.front()) + ".";
}

/// Refusals are written to stand within a sentence.
std::string whole_sentence(std::string words) {
  if (words.empty()) return words;
  if (words[0] >= 'a' && words[0] <= 'z') words[0] = static_cast<char>(words[0] - 'a' + 'A');
  return words.back() == '.' ? words : words + ".";
}

bool is_there(const fs::path& path) {
  std::error_code error;
  return !path.empty() && fs::exists(path, error);
}

}  // namespace

void BinDesk::say(bool trouble, std::string words) {
  if (said_.words == words && said_.trouble == trouble) return;
  said_ = {trouble, std::move(words)};
  ++revision_;
}

void BinDesk::read_once() {
  if (!std::exchange(read_, true)) take_in();
}

bool BinDesk::take_in() {
  stamp_ = stamp_of(path_, limits::kBinBytes);
  if (path_.empty()) return true;
  try {
    if (is_no_file(path_)) throw InputError("", "it is a folder, a pipe or a device and no bin");
    BinOnDisk disk = read_bin_with_bytes(path_);
    bytes_ = std::move(disk.bytes);
    if (disk.bin == *steps_[cursor_].bin) return true;
    steps_ = {{"", std::make_shared<const Bin>(std::move(disk.bin))}};
    cursor_ = 0;
    ++revision_;
    return true;
  } catch (const InputError& error) {
    say(true, path_.string() + " can't be used as a bin: " + sentence_of(error) + " It stays as it is.");
  } catch (const std::exception& error) {
    say(true, path_.string() + " can't be read: " + error.what() + ".");
  }
  return false;
}

bool BinDesk::open(const fs::path& file) {
  BinDesk other(full_path(file));
  other.read_ = true;
  if (!other.take_in()) {
    say(true, other.said_.words);
    return false;
  }
  other.revision_ += revision_ + 1;
  *this = std::move(other);
  return true;
}

bool BinDesk::there() const {
  if (!read_) return is_there(path_);
  return stamp_.has_value() || bytes_.has_value() || is_no_file(path_);
}

std::shared_ptr<const Bin> BinDesk::snapshot() {
  read_once();
  return steps_[cursor_].bin;
}

bool BinDesk::write(const Bin& bin) {
  try {
    if (path_.empty()) throw OutputError("no place for a bin's file is known");
    bytes_ = write_bin_over(bin, path_, bytes_);
    stamp_ = stamp_of(path_, limits::kBinBytes);
    said_ = {};
    ++revision_;
    return true;
  } catch (const BinChanged&) {
    if (take_in())
      say(true,
          "Another window or command has changed the bin. It has been read again, and nothing was written: "
          "do it once more if it is still right.");
  } catch (const InputError& error) {
    say(true, "The bin stays as it was: " + sentence_of(error));
  } catch (const std::exception& error) {
    say(true, "The bin can't be written: " + std::string(error.what()) + ".");
  }
  return false;
}

bool BinDesk::apply(std::string label, const EditedBin& edit) {
  read_once();
  if (!edit) {
    say(true, whole_sentence(edit.refusal()));
    return false;
  }
  if (*edit == bin()) {
    say(false, "");
    return true;
  }
  if (!write(*edit)) return false;
  steps_.resize(cursor_ + 1);
  steps_.push_back({std::move(label), std::make_shared<const Bin>(*edit)});
  ++cursor_;
  return true;
}

bool BinDesk::go_to(std::size_t step) {
  const std::shared_ptr<const Bin> wanted = steps_[step].bin;
  if (!write(*wanted)) return false;
  cursor_ = step;
  return true;
}

bool BinDesk::undo() {
  return can_undo() && go_to(cursor_ - 1);
}
bool BinDesk::redo() {
  return can_redo() && go_to(cursor_ + 1);
}

void BinDesk::look() {
  if (!read_ || path_.empty()) return;
  const bool changed = stamp_ ? change_since(path_, *stamp_) != DiskChange::none : is_there(path_);
  if (!changed) return;
  const std::shared_ptr<const Bin> before = snapshot();
  const bool was_there = bytes_.has_value();
  if (!take_in() || snapshot() == before) return;
  const bool gone = was_there && !bytes_;
  say(false, gone ? path_.string() + " is no longer there."
                  : "Another window or command has changed the bin. It has been read again.");
}

}  // namespace haftwright
