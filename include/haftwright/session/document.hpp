// One open project: its Design, what follows from it, and the way back.
//
// A click is apply(label, edit). A drag, or a widget that is held, is one draft:
//   begin("move pin 2"); preview(move_pin(document.base(), 1, mouse)) on every frame; then commit(), or
//   cancel() on Escape.
// A draft becomes one step of the history, or none when nothing changed in the end.
//
// An edit is taken when its Design passes validate() and can be laid out. One that is not keeps the last good
// Design, so a drag stops where it stops making sense, and problems() says why. (A file that could be read
// but not laid out may be mended by edits that leave it so.) Nothing here throws to the caller.
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "haftwright/edits/edited.hpp"
#include "haftwright/session/answers.hpp"
#include "haftwright/session/history.hpp"

namespace haftwright {

/// What became of an edit.
enum class Outcome {
  changed,
  unchanged,  ///< good, but equal to what was there
  refused     ///< see problems()
};

class Document {
 public:
  /// `saved`: what the file holds; null when there is no file yet.
  explicit Document(Design design, std::shared_ptr<const Design> saved = nullptr);

  /// What the views show: with a draft open, its last good Design.
  const Design& design() const { return *current_->design; }
  std::shared_ptr<const Design> snapshot() const { return current_->design; }
  /// Grows whenever design() may have changed: for redrawing, and for dropping what was made of an older one.
  std::uint64_t revision() const { return revision_; }

  /// The answers for design(), or, while that can't be laid out, the last ones that could; null when none
  /// ever could. Stale answers belong to answers()->design.
  const Answers* answers() const { return good_.get(); }
  bool answers_stale() const { return good_ != current_; }
  /// For what takes too long for a frame of a drag: with a draft open the answers from before it.
  const Answers* settled_answers() const;
  /// Why the last edit was refused, or why design() can't be laid out. Empty when all is well. What apply()
  /// refused is explained until the next edit; what a draft refused only while it is open, since a drag shows
  /// where it stops. An edit that refused itself has an empty field.
  const std::vector<Problem>& problems() const { return problems_; }

  // --- Editing ---
  /// Edits once. An open draft is committed first.
  Outcome apply(std::string label, const Edited& edit);
  /// The same for small edits that come in runs, such as a held arrow key: joins the step before it when that
  /// was made by this call under the same label and nothing else was done since, so that one undo takes the
  /// whole run back.
  Outcome apply_in_run(std::string label, const Edited& edit);
  /// The next apply_in_run makes a step of its own.
  void end_run() { run_.clear(); }
  /// Opens a draft. An open one is committed first.
  void begin(std::string label);
  bool drafting() const { return draft_.has_value(); }
  /// Label of the open draft; empty without one.
  const std::string& draft_label() const;
  /// What the open draft began with; without a draft, design().
  const Design& base() const { return history_.current(); }
  /// Shows `edit` in place of what the draft showed. `refused` also when no draft is open.
  Outcome preview(const Edited& edit);
  /// Ends the draft with its last good Design. `refused` when the last edit was refused and no good one had
  /// come before it; `unchanged` when nothing changed, or without a draft.
  Outcome commit();
  /// Drops the draft.
  void cancel();

  // --- History ---
  const History& history() const { return history_; }
  /// With a draft open that has changed something these only drop the draft. True when design() may have
  /// changed.
  bool undo();
  bool redo();
  bool go_to(std::size_t step);

  /// design() differs from what the file holds.
  bool unsaved() const { return history_.unsaved(current_->design); }
  /// After the current Design was written. An open draft stays open and unsaved.
  void mark_saved() { history_.mark_saved(); }
  void mark_unsaved() { history_.mark_unsaved(); }

 private:
  using AnswersPointer = std::shared_ptr<const Answers>;
  struct Draft {
    std::string label;
    AnswersPointer before;  ///< of the Design it began with
    bool refused = false;   ///< the last preview was
  };

  void show(AnswersPointer answers);
  bool drop_changed_draft();
  void show_current();

  History history_;
  AnswersPointer current_;  ///< of design()
  AnswersPointer good_;     ///< the last with a handle
  std::vector<Problem> problems_;
  std::optional<Draft> draft_;
  std::string run_;  ///< label of the run that the last step belongs to; empty when it belongs to none
  std::uint64_t revision_ = 0;
};

}  // namespace haftwright
