#include "scene_box.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "places.hpp"

namespace haftwright::app {
namespace {

constexpr double kDegreesPerPixel = 0.35;

/// True when the left button was pressed and let go in one place.
std::optional<Vec2> click(SceneBox& box) {
  const ImGuiIO& io = ImGui::GetIO();
  const Vec2 mouse{io.MousePos.x - box.low.x, io.MousePos.y - box.low.y};
  if (ImGui::IsItemHovered() && ImGui::IsMouseClicked(ImGuiMouseButton_Left)) box.pressed_at = mouse;
  if (!box.pressed_at) return std::nullopt;
  constexpr double kStill_px = 4;
  if (glm::distance(*box.pressed_at, mouse) > kStill_px) box.pressed_at.reset();
  if (!ImGui::IsMouseReleased(ImGuiMouseButton_Left)) return std::nullopt;
  return std::exchange(box.pressed_at, std::nullopt);
}

void navigate(SceneBox& box) {
  const ImGuiIO& io = ImGui::GetIO();
  const Camera before = box.camera;
  // A press that has not moved yet is a click, not a turn.
  if (ImGui::IsItemActive() && !box.pressed_at && ImGui::IsMouseDragging(ImGuiMouseButton_Left, 0))
    orbit(box.camera, -io.MouseDelta.x * kDegreesPerPixel, io.MouseDelta.y * kDegreesPerPixel);
  for (int button : {ImGuiMouseButton_Right, ImGuiMouseButton_Middle})
    if (ImGui::IsItemActive() && ImGui::IsMouseDragging(button, 0))
      pan(box.camera, static_cast<double>(io.MouseDelta.x) / box.size.height,
          static_cast<double>(-io.MouseDelta.y) / box.size.height);
  if (ImGui::IsItemHovered() && io.MouseWheel != 0)
    zoom(box.camera, std::pow(1.15, io.MouseWheel), {io.MousePos.x - box.low.x, io.MousePos.y - box.low.y},
         box.size);
  if (ImGui::IsItemHovered() && ImGui::IsMouseDoubleClicked(ImGuiMouseButton_Left)) box.fit = true;
  if (ImGui::IsItemHovered() && !io.WantTextInput && ImGui::IsKeyPressed('F')) box.fit = true;
  if (before.target != box.camera.target || before.back != box.camera.back || before.up != box.camera.up ||
      before.height_mm != box.camera.height_mm)
    box.stale = true;
}

void draw(SceneBox& box, ImVec2 room) {
  const PictureSize size{static_cast<int>(room.x), static_cast<int>(room.y)};
  if (size.width != box.size.width || size.height != box.size.height) box.stale = true;
  box.size = size;
  if (box.fit) fit(box.camera, box.preview, box.options.exploded, size);
  box.stale = box.stale || box.fit;
  box.fit = false;
  if (!box.stale) return;
  box.view->draw(box.camera, box.options, size);
  box.stale = false;
}

}  // namespace

std::optional<ImVec2> SceneBox::on_screen(Vec3 place) const {
  const auto at = project(camera, place, size);
  if (!at) return std::nullopt;
  return ImVec2{low.x + static_cast<float>(at->x), low.y + static_cast<float>(at->y)};
}

bool make_view(SceneBox& box) {
  if (!box.view && box.trouble.empty()) try {
      box.view.emplace();
    } catch (const RenderError& error) {
      box.trouble = error.what();
    }
  if (!box.view) wrapped("No 3D picture here: " + box.trouble);
  return box.view.has_value();
}

void look_from(SceneBox& box, StandardView view) {
  box.camera = standard_camera(view, box.camera.perspective);
  box.fit = true;
}

std::optional<Vec2> scene_box(SceneBox& box, const char* id, ImVec2 room) {
  const ImVec2 whole{std::max(room.x, 16.0F), std::max(room.y, 16.0F)};
  box.low = ImGui::GetCursorScreenPos();
  ImGui::InvisibleButton(id, whole,
                         ImGuiButtonFlags_MouseButtonLeft | ImGuiButtonFlags_MouseButtonRight |
                             ImGuiButtonFlags_MouseButtonMiddle);
  places::item("scene", id);
  std::optional<Vec2> clicked;
  if (box.preview.bodies.empty()) return clicked;
  clicked = click(box);
  navigate(box);
  draw(box, whole);
  // The texture's first row is the picture's lowest.
  ImGui::GetWindowDrawList()->AddImage(
      reinterpret_cast<ImTextureID>(static_cast<std::uintptr_t>(box.view->texture())), box.low,
      {box.low.x + whole.x, box.low.y + whole.y}, {0, 1}, {1, 0});
  return clicked;
}

}  // namespace haftwright::app
