// The panels beside the views. Each shows one part of the design and changes it through the document.
#pragma once

#include <functional>
#include <memory>
#include <vector>

#include "drawing_painter.hpp"
#include "haftwright/preview/guide_plan.hpp"
#include "scene_box.hpp"
#include "ui.hpp"

namespace haftwright::app {

void tang_panel(const Ui& ui);
void build_up_panel(const Ui& ui, Which side);
void joints_panel(const Ui& ui, Which side);
void pins_panel(const Ui& ui);
void finish_panel(const Ui& ui, Which side);
void rules_panel(const Ui& ui);
void epoxy_panel(const Ui& ui);
/// Where the project differs from the shop, with buttons that take values over in either direction.
void shop_part(const Ui& ui);
/// How many values of a section ("adhesive") differ, and where to see them; nothing where none does.
void shop_note(const Ui& ui, std::string_view section);
void findings_panel(const Ui& ui);
/// How many there are of each status, then every one with its place to click.
void finding_list(const Ui& ui, const std::vector<Finding>& findings);

struct GuidePane {
  SceneBox box;
  bool flat = false;                        ///< the plan instead of the 3D view
  std::shared_ptr<const DrillGuide> shown;  ///< in 3D
  std::shared_ptr<const DrillGuide> drawn;  ///< in plan
  ShownDrawing plan;
  std::vector<GuidePart> parts;  ///< what the plan's tags mean
};
/// `ask_export` asks for a file to write the guide to.
void guide_panel(const Ui& ui, GuidePane& pane, bool dark, const std::function<void()>& ask_export);

/// Says whether the right side follows the left in these fields, with one button that unlinks or links them.
void link_row(const Ui& ui, SideField field);

}  // namespace haftwright::app
