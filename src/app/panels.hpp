// The panels beside the views. Each shows one part of the design and changes it through the document.
#pragma once

#include "ui.hpp"

namespace haftwright::app {

void tang_panel(const Ui& ui);
void build_up_panel(const Ui& ui, Which side);
void joints_panel(const Ui& ui, Which side);
void pins_panel(const Ui& ui);
void finish_panel(const Ui& ui, Which side);
void rules_panel(const Ui& ui);
void epoxy_panel(const Ui& ui);
void guide_panel(const Ui& ui);
void findings_panel(const Ui& ui);

/// Says whether the right side follows the left in these fields, with one button that unlinks or links them.
void link_row(const Ui& ui, SideField field);
/// The side as it is, overrides applied.
Side side_of(const Design& design, Which side);

}  // namespace haftwright::app
