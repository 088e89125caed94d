#include "haftwright/session/document.hpp"

#include <utility>

namespace haftwright {
namespace {

const std::string kNoLabel;

std::shared_ptr<const Answers> answers_for(std::shared_ptr<const Design> design) {
  return std::make_shared<const Answers>(derive(std::move(design)));
}

}  // namespace

Document::Document(Design design, std::shared_ptr<const Design> saved)
    : history_(std::make_shared<const Design>(std::move(design)), std::move(saved)) {
  show_current();
}

void Document::show(AnswersPointer answers) {
  current_ = std::move(answers);
  if (current_->laid_out()) good_ = current_;
  problems_ = current_->problems;
  ++revision_;
}

void Document::show_current() {
  show(answers_for(history_.snapshot()));
}

const Answers* Document::settled_answers() const {
  return draft_ && draft_->before->laid_out() ? draft_->before.get() : good_.get();
}

const std::string& Document::draft_label() const {
  return draft_ ? draft_->label : kNoLabel;
}

Outcome Document::apply(std::string label, const Edited& edit) {
  begin(std::move(label));
  preview(edit);
  std::vector<Problem> why = problems_;
  const Outcome outcome = commit();
  if (outcome == Outcome::refused) problems_ = std::move(why);
  return outcome;
}

Outcome Document::apply_in_run(std::string label, const Edited& edit) {
  const bool joins = !draft_ && !run_.empty() && run_ == label;
  const Outcome outcome = apply(label, edit);
  if (outcome != Outcome::changed) {
    if (joins) run_ = std::move(label);  // a refused nudge does not end its run
    return outcome;
  }
  const std::size_t step = history_.cursor();
  // When the run has come back to where it began, the step before it is somebody else's.
  const bool gone = joins && history_.join_last() && history_.cursor() + 1 < step;
  if (!gone) run_ = std::move(label);
  return outcome;
}

void Document::begin(std::string label) {
  commit();
  end_run();
  problems_ = current_->problems;
  draft_ = {std::move(label), current_, false};
}

Outcome Document::preview(const Edited& edit) {
  if (!draft_) return Outcome::refused;
  draft_->refused = !edit;
  if (!edit) {
    problems_ = {{"", edit.refusal()}};
    return Outcome::refused;
  }
  if (*edit == design()) {
    problems_ = current_->problems;
    return Outcome::unchanged;
  }
  if (*edit == base()) {
    show(draft_->before);
    return Outcome::changed;
  }
  AnswersPointer next = answers_for(std::make_shared<const Design>(*edit));
  // Only a Design that can't be laid out itself may be followed by one that can't.
  if (!next->valid || (!next->laid_out() && current_->laid_out())) {
    draft_->refused = true;
    problems_ = next->problems;
    return Outcome::refused;
  }
  show(std::move(next));
  return Outcome::changed;
}

Outcome Document::commit() {
  if (!draft_) return Outcome::unchanged;
  Draft draft = std::move(*draft_);
  draft_.reset();
  problems_ = current_->problems;
  if (history_.push(std::move(draft.label), current_->design)) return Outcome::changed;
  return draft.refused ? Outcome::refused : Outcome::unchanged;
}

void Document::cancel() {
  if (!draft_) return;
  const Draft draft = std::move(*draft_);
  draft_.reset();
  show(draft.before);
}

/// A draft that has changed nothing is in nobody's way and goes silently.
bool Document::drop_changed_draft() {
  const bool changed = draft_ && current_ != draft_->before;
  cancel();
  return changed;
}

bool Document::undo() {
  end_run();
  if (drop_changed_draft()) return true;
  if (!history_.undo()) return false;
  show_current();
  return true;
}

bool Document::redo() {
  end_run();
  if (drop_changed_draft()) return true;
  if (!history_.redo()) return false;
  show_current();
  return true;
}

bool Document::go_to(std::size_t step) {
  end_run();
  if (drop_changed_draft()) return true;
  if (!history_.go_to(step)) return false;
  show_current();
  return true;
}

}  // namespace haftwright
