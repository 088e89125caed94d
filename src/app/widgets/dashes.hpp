// Lines of short strokes.
#pragma once

#include <imgui.h>

#include <vector>

namespace haftwright::app {

/// Along points of the screen; what is out of sight costs nothing.
void dash(ImDrawList& draw, const std::vector<ImVec2>& points, ImU32 colour, float width);

}  // namespace haftwright::app
