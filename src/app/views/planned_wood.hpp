// The wood that the pieces are planned from, in the large 3D view.
#pragma once

#include "scene_pane.hpp"

namespace haftwright::app {

/// The photos of the planned wood, where the plan and the person want them.
void refresh_woods(const Ui& ui, ScenePaneState& state);
/// Once there is a plan: whether its wood is shown, and of which pieces there is nothing to show.
void wood_choice(const Ui& ui, ScenePaneState& state);

}  // namespace haftwright::app
