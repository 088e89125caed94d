#include "haftwright/session/history.hpp"

#include <utility>

namespace haftwright {
namespace {

const std::string kNoLabel;

}  // namespace

History::History(std::shared_ptr<const Design> design, std::shared_ptr<const Design> saved)
    : saved_(std::move(saved)) {
  steps_.push_back({"", std::move(design)});
}

bool History::push(std::string label, std::shared_ptr<const Design> design) {
  if (*design == current()) return false;
  steps_.resize(cursor_ + 1);
  steps_.push_back({std::move(label), std::move(design)});
  ++cursor_;
  return true;
}

bool History::join_last() {
  if (cursor_ < 2) return false;
  const auto step = [this] { return steps_.begin() + static_cast<std::ptrdiff_t>(cursor_); };
  steps_.erase(step() - 1);
  --cursor_;
  if (*steps_[cursor_].design == *steps_[cursor_ - 1].design) {
    steps_.erase(step());
    --cursor_;
  }
  return true;
}

const std::string& History::undo_label() const {
  return can_undo() ? steps_[cursor_].label : kNoLabel;
}

const std::string& History::redo_label() const {
  return can_redo() ? steps_[cursor_ + 1].label : kNoLabel;
}

bool History::undo() {
  return can_undo() && go_to(cursor_ - 1);
}

bool History::redo() {
  return can_redo() && go_to(cursor_ + 1);
}

bool History::go_to(std::size_t step) {
  if (step >= steps_.size() || step == cursor_) return false;
  cursor_ = step;
  return true;
}

bool History::unsaved(const std::shared_ptr<const Design>& design) const {
  return !saved_ || (saved_ != design && *saved_ != *design);
}

}  // namespace haftwright
