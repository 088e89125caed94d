// The handle unrolled about spine or belly, where things are taken hold of and dragged.
#pragma once

#include <imgui.h>

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "drawing_painter.hpp"
#include "fold_show.hpp"
#include "haftwright/edits/draggables.hpp"
#include "haftwright/preview/fold.hpp"
#include "haftwright/preview/fold_places.hpp"
#include "ui.hpp"

namespace haftwright::app {

/// A place of the sheet where something can be taken hold of.
struct Grip : haftwright::Grip {
  Vec2 at{0, 0};  ///< drawing mm
};

/// A finding on the sheet: a mark to click, and what was measured, if it runs from place to place.
struct FindingMark {
  std::size_t finding = 0;             ///< in Answers::findings
  ImVec2 at{0, 0};                     ///< middle of the mark
  ImVec2 place{0, 0};                  ///< what the mark points at
  std::optional<FoldStretch> stretch;  ///< to be dimensioned
  std::string text;                    ///< beside the mark; empty where there is no room for it
};

struct FoldViewState : FoldShow {
  bool edit_outline = false;  ///< the tang's corners, edges, holes and cutouts can be dragged
  bool snap = true;
  bool grid = true;
  bool measure = false;
  std::vector<FoldPlace> measured;  ///< none, one or two ends
  bool fit = true;                  ///< next frame
  SheetFrame fitted;                ///< as the last fit left it ...
  ImVec2 fitted_room{0, 0};         ///< ... in a pane of this size
  SheetFrame frame;
  ImVec2 low{0, 0};  ///< the sheet on the screen
  ImVec2 high{0, 0};
  std::optional<Grip> held;
  Vec2 held_off{0, 0};  ///< from the mouse to the grip when it was taken
  std::optional<Selection> hovered;
  FoldRegion region =
      FoldRegion::left_face;  ///< where something was taken hold of last: arrow keys go its way
  bool focus_values = false;  ///< the keyboard goes to the first value of what is selected, next frame
  float bar_height = 0;       ///< of the rows of values below the sheet, as drawn last
  double nudged_at_s = -10;   ///< when an arrow key moved something last
  Vec2 menu_at{0, 0};         ///< drawing mm: where the right button was clicked
  std::optional<Grip> menu_grip;

  // What was drawn last, kept while the document's revision stays.
  std::uint64_t drawn_revision = 0;
  FoldAbout drawn_about = FoldAbout::spine;
  FoldMap map;
  Bounds bounds;                   ///< of the handle in the drawing
  ShownDrawing sheet;              ///< the handle
  std::vector<FoldThing> things;   ///< what the sheet's tags mean
  ShownDrawing zones;              ///< what holes need clear round them
  std::vector<FoldPoint> points;   ///< a measure settles on
  std::vector<FindingMark> marks;  ///< of this frame
};

void fold_view(const Ui& ui, FoldViewState& state, ImVec2 size);
/// The view's own lines of the menu that lists the views, with their keys.
void fold_menu(FoldViewState& state);

// The parts of it, each in a file of its own.

/// The row of switches over the sheet.
void fold_toolbar(FoldViewState& state);
/// Keys of the view itself; called while it listens to the keyboard.
void fold_keys(const Ui& ui, FoldViewState& state);
/// Values of what is selected, to be typed, below the sheet; what can be done when nothing is.
void fold_values(const Ui& ui, FoldViewState& state);
/// Whether something is selected that fold_values shows.
bool has_values(const Ui& ui);
/// What the right button offers at a place.
void fold_context_menu(const Ui& ui, FoldViewState& state);
/// Takes what is selected away.
void remove_selected(const Ui& ui);
/// Links both sides again in what is selected, or lets the right side go its own way.
void toggle_link(const Ui& ui);

/// Those that the view has room for.
std::vector<Grip> grips(const Ui& ui, const FoldViewState& state);
/// One press of an arrow key: by so many steps, as the drawing shows right and up.
Nudge nudge_by(const FoldMap& map, const Grip& grip, Vec2 steps, double step_mm, double step_deg);

/// What to tell beside the pointer.
struct LiveLine {
  std::string text;
  std::optional<Status> status;
};
std::vector<LiveLine> live_lines(const Ui& ui, const Grip& grip);
/// What a grip is and how it is dragged, for its tooltip.
std::string grip_tip(const Ui& ui, const Grip& grip);

/// Two places and what lies between them.
void fold_measure(const Ui& ui, FoldViewState& state, ImDrawList& draw, bool hovered);
/// Where the marks of the findings stand in this frame, clear of the grips.
std::vector<FindingMark> finding_marks(const Ui& ui, const FoldViewState& state,
                                       const std::vector<Grip>& grips);
/// Tooltip and click of the marks; true when the mouse is on one.
bool mark_under_mouse(const Ui& ui, const FoldViewState& state, bool clicked);

}  // namespace haftwright::app
