// A box with a 3D picture in it that is turned, shifted and zoomed with the mouse. Drawn anew only when
// something has changed.
#pragma once

#include <imgui.h>

#include <optional>
#include <string>

#include "haftwright/render/scene_view.hpp"
#include "ui.hpp"

namespace haftwright::app {

struct SceneBox {
  std::optional<SceneView> view;  ///< made with the first frame, when there is a GL context
  std::string trouble;            ///< why there is no view
  Camera camera = standard_camera(StandardView::three_quarter, true);
  SceneOptions options;
  Preview preview;  ///< what is shown
  bool fit = true;  ///< next frame
  bool stale = true;
  PictureSize size{0, 0};
  ImVec2 low{0, 0};                ///< on the screen
  std::optional<Vec2> pressed_at;  ///< where the left button went down, until it has moved away

  /// Where a place of the scene stands on the screen.
  std::optional<ImVec2> on_screen(Vec3 place) const;
};

/// Makes the view; false, with the reason told in the pane, when there can be none.
bool make_view(SceneBox& box);
/// Sets a value of the camera or the options; the picture is drawn anew when it is another one.
template <class Value>
void set(SceneBox& box, Value& value, const Value& wanted) {
  if (value == wanted) return;
  value = wanted;
  box.stale = true;
}
void look_from(SceneBox& box, StandardView view);
/// Draws the box and lets the mouse move the camera. A click (no drag) tells its place, pixels from the box's
/// top left.
std::optional<Vec2> scene_box(SceneBox& box, const char* id, ImVec2 room);

}  // namespace haftwright::app
