// The panel "Offcuts": the bin of offcuts, and the plan that says which piece of the handle comes from which.
#pragma once

#include <functional>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "drawing_box.hpp"
#include "drawing_painter.hpp"
#include "haftwright/session/bin_forms.hpp"
#include "haftwright/session/blank_drag.hpp"
#include "ui.hpp"

namespace haftwright::app {

/// A round defect that is being typed.
struct DefectForm {
  DefectKind kind = DefectKind::knot;
  Vec2 at_mm{0, 0};
  double diameter_mm = 6;
};

/// What is in the hand over the plan's boards.
struct HandWork {
  std::optional<BlankDrag> drag;      ///< while the mouse is held on it
  bool carried = false;               ///< farther than a click goes
  std::optional<BlankDrag> put_down;  ///< shown where it was put until the plan round it is there
  ShownDrawing over;                  ///< what is in the hand, or was just put down
  ShownDrawing bare;                  ///< the board that it was taken from, without it
  std::optional<std::size_t> chosen;  ///< need whose place can be typed and turned
  std::optional<std::size_t> listed;  ///< need that `offcuts` is of
  std::vector<std::string> offcuts;   ///< that it could lie on
};

struct OffcutsPane {
  bool plan = false;  ///< shown: the bin, or the plan over it
  BinSearch search;
  std::shared_ptr<const Bin> searched;  ///< that the next three are about
  BinSearch searched_for;
  BinFound found;
  double small_scale = 1;  ///< pixels a millimetre of the small drawings, at text scale 1
  std::string chosen;      ///< id of the offcut, sheet or rod whose fields are open
  DefectForm defect;

  std::shared_ptr<const Bin> drawn;           ///< that the next two show
  std::map<std::string, ShownDrawing> small;  ///< by id
  std::map<std::string, ShownDrawing> large;  ///< the same with the fibre

  std::shared_ptr<const CuttingAnswer> planned;  ///< that `boards` show
  std::size_t planned_index = 0;
  std::vector<ShownDrawing> boards;  ///< offcuts', then sheets'
  HandWork hand;
  std::unique_ptr<PhotoTextures> photos = std::make_unique<PhotoTextures>();
  bool asks_cut = false;  ///< whether it is really cut
};

/// What the panel asks of the window: files to choose.
struct OffcutsAsk {
  std::function<void()> another_bin;
  std::function<void()> drawing;  ///< a file for the drawing of the chosen plan
};

void offcuts_panel(const Ui& ui, OffcutsPane& pane, const OffcutsAsk& ask);

// The parts of it, each in a file of its own.

void bin_part(const Ui& ui, OffcutsPane& pane, const OffcutsAsk& ask);
/// Fields of the chosen thing, where it has that id.
void offcut_fields(const Ui& ui, OffcutsPane& pane, const Offcut& offcut);
void sheet_fields(const Ui& ui, OffcutsPane& pane, const SheetStock& sheet);
void rod_fields(const Ui& ui, OffcutsPane& pane, const RodStock& rod);
void plan_part(const Ui& ui, OffcutsPane& pane, const OffcutsAsk& ask);
/// Why things have no place, and the changes that would give them one.
void plan_reasons(const Ui& ui, const CuttingAnswer& answer);
/// What counts among plans, in the person's order.
void plan_preferences(const Ui& ui);
/// All places by hand at once, and those that can't be kept.
void hand_summary(const Ui& ui, const CuttingAnswer& answer, std::size_t plan);
/// One offcut of the plan: blanks are taken from it, carried over it and put down.
DrawingHover hand_board(const Ui& ui, OffcutsPane& pane, const std::shared_ptr<const CuttingAnswer>& answer,
                        std::size_t plan, std::size_t use);
/// Once all boards are drawn: lets go what the mouse has let go.
void hand_let_go(const Ui& ui, OffcutsPane& pane);
/// Place, turn and offcut of the chosen blank, where it lies on that board.
void hand_fields(const Ui& ui, OffcutsPane& pane, const std::shared_ptr<const CuttingAnswer>& answer,
                 std::size_t plan, std::size_t use);
/// The chosen plan's boards, as they are marked and sawn.
void plan_boards(const Ui& ui, OffcutsPane& pane, const std::shared_ptr<const CuttingAnswer>& answer);

}  // namespace haftwright::app
