// What the panels and views share: the open document and what is selected.
#pragma once

#include <cstddef>
#include <optional>
#include <string>

#include "haftwright/edits/draggables.hpp"
#include "haftwright/edits/edits.hpp"
#include "haftwright/preview/meshes.hpp"
#include "haftwright/session/session.hpp"
#include "widgets.hpp"

namespace haftwright::app {

/// A place that a finding points at, until something else is chosen.
struct Pointer {
  std::optional<FindingKey> finding;  ///< id and where of the finding, to mark its row
  std::optional<Vec3> place;
  bool fresh = false;  ///< the views still have to turn to it
};

/// Handed to every panel and view on every frame.
struct Ui {
  Session& session;
  Document& document;
  Selection& selection;  ///< what the person has taken hold of last; shown in both views
  Pointer& pointer;

  const Design& design() const { return document.design(); }
  const Answers* answers() const { return document.answers(); }
  LengthUnit unit() const { return document.design().shown_unit; }
  /// One step of the history; a refusal shows in the status line.
  void apply(const std::string& label, const Edited& edit) const { document.apply(label, edit); }
  /// What was made, the thing of that kind at `index`, is taken hold of, so that its values can be typed and
  /// the arrow keys move it.
  void make(const std::string& label, const Edited& edit, const Draggable& kind, Which side,
            std::size_t index) const {
    if (document.apply(label, edit) != Outcome::refused) select(kind, side, index);
  }
  void select(const Draggable& kind, Which side, std::size_t index) const {
    selection = selected_at(design(), kind, side, index);
  }
  bool selected(const Draggable& kind, std::size_t index) const {
    return selection.kind == &kind && index_now(design(), selection) == index;
  }
};

/// The side as it is, overrides applied.
inline Side side_of(const Design& design, Which side) {
  return side == Which::left ? design.left : design.right_side();
}

}  // namespace haftwright::app
