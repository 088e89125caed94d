// Undo without limit: a list of labelled whole Designs, a cursor, and which of them is on disk.
#pragma once

#include <cstddef>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "haftwright/design/design.hpp"

namespace haftwright {

class History {
 public:
  /// `saved`: what the file holds; none when there is no file yet.
  explicit History(std::shared_ptr<const Design> design, std::shared_ptr<const Design> saved = nullptr);

  const Design& current() const { return *steps_[cursor_].design; }
  std::shared_ptr<const Design> snapshot() const { return steps_[cursor_].design; }

  /// The one place where a step is made: drops what could be redone. False, and nothing happens, when
  /// `design` equals the current one.
  bool push(std::string label, std::shared_ptr<const Design> design);

  /// Makes the current step and the one before it one step, under the current one's name; when the two
  /// together change nothing, both go. False, and nothing happens, with fewer than two steps to join.
  bool join_last();

  bool can_undo() const { return cursor_ > 0; }
  bool can_redo() const { return cursor_ + 1 < steps_.size(); }
  /// Name of the step that undo() takes back, or redo() makes again; empty when there is none.
  const std::string& undo_label() const;
  const std::string& redo_label() const;
  /// False when there is nothing to undo or redo.
  bool undo();
  bool redo();

  /// Steps for a list: 0 is the Design it began with (label empty). go_to makes `step` the current one.
  std::size_t size() const { return steps_.size(); }
  std::size_t cursor() const { return cursor_; }
  const std::string& label(std::size_t step) const { return steps_.at(step).label; }
  bool go_to(std::size_t step);

  void mark_saved() { saved_ = snapshot(); }
  /// Nothing on disk equals the current Design any longer (the file changed or is gone).
  void mark_unsaved() { saved_ = nullptr; }
  /// `design` differs, by value, from the one that was saved or read last.
  bool unsaved(const std::shared_ptr<const Design>& design) const;
  bool unsaved() const { return unsaved(snapshot()); }

 private:
  struct Step {
    std::string label;
    std::shared_ptr<const Design> design;
  };
  std::vector<Step> steps_;
  std::size_t cursor_ = 0;
  std::shared_ptr<const Design> saved_;
};

}  // namespace haftwright
