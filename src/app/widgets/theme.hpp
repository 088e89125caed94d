// Two looks of our own, light and dark, with status colours that stay apart for colour-blind eyes.
#pragma once

#include <imgui.h>

#include "haftwright/checks/finding.hpp"

namespace haftwright::app {

enum class Look { light, dark };

/// Colours that are no part of Dear ImGui's own style.
struct Palette {
  ImU32 paper;  ///< ground of the drawings
  ImU32 grid;
  ImU32 ink;        ///< outlines
  ImU32 faint_ink;  ///< dimension lines, axes
  ImU32 joint;
  ImU32 steel;
  ImU32 pin;
  ImU32 selected;
  ImU32 handle;  ///< what can be dragged
  ImU32 pass, near, fail;
  ImU32 spread;  ///< over wood, which looks alike in both looks
};

inline ImU32 with_alpha(ImU32 colour, unsigned alpha) {
  return (colour & ~IM_COL32_A_MASK) | (static_cast<ImU32>(alpha) << IM_COL32_A_SHIFT);
}

void apply(Look look, float scale);
const Palette& palette();
ImU32 colour_of(Status status);

/// Bold and large faces loaded by the window; index into the font atlas.
ImFont* bold_font();
ImFont* title_font();

/// A disc for pass, a triangle for near, a crossed square for fail: told apart without colour.
void status_mark(ImDrawList& draw, ImVec2 centre, float radius, Status status);
/// The same as an item in a line of text.
void status_mark(Status status);

}  // namespace haftwright::app
