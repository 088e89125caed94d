// The panel "Offcuts": the bin of offcuts, and the plan that says which piece of the handle comes from which.
#pragma once

#include <functional>
#include <map>
#include <memory>
#include <string>
#include <vector>

#include "drawing_painter.hpp"
#include "haftwright/session/bin_forms.hpp"
#include "ui.hpp"

namespace haftwright::app {

/// A round defect that is being typed.
struct DefectForm {
  DefectKind kind = DefectKind::knot;
  Vec2 at_mm{0, 0};
  double diameter_mm = 6;
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
  bool asks_cut = false;             ///< whether it is really cut
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
/// The chosen plan's boards, as they are marked and sawn.
void plan_boards(const Ui& ui, OffcutsPane& pane, const std::shared_ptr<const CuttingAnswer>& answer);

}  // namespace haftwright::app
