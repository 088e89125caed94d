#include "fold_view.hpp"

#include <algorithm>
#include <cmath>

#include "haftwright/preview/ear_clipping.hpp"
#include "places.hpp"
#include "theme.hpp"

namespace haftwright::app {
namespace {

constexpr float kGripReach = 11;  // pixels at scale 1
constexpr double kZoomStep = 1.15;

void refresh(const Ui& ui, FoldViewState& state) {
  const Answers* answers = ui.answers();
  if (!answers || !answers->laid_out()) return;
  if (state.drawn_revision == ui.document.revision() + 1 && state.drawn_about == state.about) return;
  FoldSettings settings;
  settings.about = state.about;
  state.drawing = draw_fold(*answers->design, *answers->handle, settings);
  state.triangles.clear();
  for (const FoldArea& area : state.drawing.areas) state.triangles.push_back(fill(area.loop, area.holes));
  state.drawn_revision = ui.document.revision() + 1;
  state.drawn_about = state.about;
}

void toolbar(FoldViewState& state) {
  int about = state.about == FoldAbout::spine ? 0 : 1;
  ImGui::RadioButton("Spine", &about, 0);
  tooltip(
      "Unrolled about the spine. The two faces meet over the spine: a joint line that steps there would "
      "show.");
  ImGui::SameLine();
  ImGui::RadioButton("Belly", &about, 1);
  tooltip("Unrolled about the belly. The two faces meet over the belly.");
  const FoldAbout chosen = about == 0 ? FoldAbout::spine : FoldAbout::belly;
  if (chosen != state.about) state.fit = true;
  state.about = chosen;
  ImGui::SameLine(0, scaled(18));
  if (button("Fit", "Show the whole handle (F)")) state.fit = true;
  ImGui::SameLine();
  ImGui::Checkbox("Snap", &state.snap);
  tooltip("A dragged pin settles at an even spacing, or level with another pin.");
  ImGui::SameLine();
  ImGui::Checkbox("Tang corners", &state.edit_outline);
  tooltip("Show the corners of the tang's outline and its holes, to drag them.");
  ImGui::SameLine();
  if (ImGui::Checkbox("Measure", &state.measure)) state.measured.clear();
  tooltip("Click two places to measure between them.");
}

void fit(FoldViewState& state, ImVec2 low, ImVec2 size) {
  const Vec2 extent = state.drawing.high - state.drawing.low;
  const double margin = scaled(26);
  state.frame.pixels_per_mm = std::max(0.1, std::min((size.x - 2 * margin) / std::max(1.0, extent.x),
                                                     (size.y - 2 * margin) / std::max(1.0, extent.y)));
  state.frame.centre = (state.drawing.low + state.drawing.high) * 0.5;
  state.frame.origin = {low.x + size.x / 2, low.y + size.y / 2};
  state.fit = false;
}

void navigate(FoldViewState& state) {
  const ImGuiIO& io = ImGui::GetIO();
  if (ImGui::IsItemHovered() && io.MouseWheel != 0) {
    const Vec2 under = state.frame.to_drawing(io.MousePos);
    state.frame.pixels_per_mm =
        std::clamp(state.frame.pixels_per_mm * std::pow(kZoomStep, io.MouseWheel), 0.2, 2000.0);
    state.frame.centre += under - state.frame.to_drawing(io.MousePos);
  }
  for (int button : {ImGuiMouseButton_Right, ImGuiMouseButton_Middle})
    if (ImGui::IsItemActive() && ImGui::IsMouseDragging(button, 0))
      state.frame.centre += Vec2{-io.MouseDelta.x, io.MouseDelta.y} / state.frame.pixels_per_mm;
}

const Grip* grip_under_mouse(const std::vector<Grip>& all, const FoldViewState& state) {
  const ImVec2 mouse = ImGui::GetIO().MousePos;
  const Grip* best = nullptr;
  float best_distance = scaled(kGripReach);
  for (const Grip& grip : all) {
    const ImVec2 at = state.frame.to_screen(grip.at);
    const float distance = std::hypot(at.x - mouse.x, at.y - mouse.y);
    if (distance >= best_distance) continue;
    best = &grip;
    best_distance = distance;
  }
  return best;
}

void drag(const Ui& ui, FoldViewState& state, const std::vector<Grip>& all) {
  const ImVec2 mouse = ImGui::GetIO().MousePos;
  const Grip* under = ImGui::IsItemHovered() ? grip_under_mouse(all, state) : nullptr;
  if (under && !state.held) {
    ImGui::SetMouseCursor(ImGuiMouseCursor_Hand);
    ImGui::SetTooltip("%s", under->label.c_str());
  }
  if (!state.held && ImGui::IsItemClicked(ImGuiMouseButton_Left)) {
    ui.selection = under ? under->what : Selection{};
    ui.pointer = {};
    if (under) {
      state.held = *under;
      state.held_off = under->at - state.frame.to_drawing(mouse);
      ui.document.begin(under->label);
    }
  }
  if (!state.held) return;
  if (ImGui::IsKeyPressed(ImGui::GetKeyIndex(ImGuiKey_Escape))) {
    ui.document.cancel();
    state.held.reset();
    return;
  }
  const Vec2 to = state.frame.to_drawing(mouse) + state.held_off;
  const Answers* answers = ui.answers();
  if (answers && answers->laid_out() && ImGui::IsMouseDragging(ImGuiMouseButton_Left, scaled(2)))
    ui.document.preview(dragged(ui.document.base(), *answers->handle, *state.held,
                                state.drawing.map.to_handle(to, state.held->place.region), state.snap,
                                ImGui::GetIO().KeyShift));
  if (!ImGui::IsMouseDown(ImGuiMouseButton_Left)) {
    ui.document.commit();
    state.held.reset();
  }
}

/// Arrow keys move what is selected by a tenth of a millimetre, ten times that with Shift, a tenth with Ctrl.
void nudge(const Ui& ui, const FoldViewState& state, const std::vector<Grip>& all) {
  const ImGuiIO& io = ImGui::GetIO();
  if (io.WantTextInput || state.held || ui.selection.kind == Selection::Kind::none) return;
  const double step = io.KeyShift ? 1.0 : io.KeyCtrl ? 0.01 : 0.1;
  Vec2 by{0, 0};
  if (ImGui::IsKeyPressed(ImGui::GetKeyIndex(ImGuiKey_LeftArrow))) by.x -= step;
  if (ImGui::IsKeyPressed(ImGui::GetKeyIndex(ImGuiKey_RightArrow))) by.x += step;
  if (ImGui::IsKeyPressed(ImGui::GetKeyIndex(ImGuiKey_UpArrow))) by.y += step;
  if (ImGui::IsKeyPressed(ImGui::GetKeyIndex(ImGuiKey_DownArrow))) by.y -= step;
  if (by == Vec2{0, 0}) return;
  const Answers* answers = ui.answers();
  for (const Grip& grip : all) {
    if (!(grip.what == ui.selection) || !answers || !answers->laid_out()) continue;
    const FoldPlace to = state.drawing.map.to_handle(grip.at + by, grip.place.region);
    ui.apply(grip.label, dragged(ui.design(), *answers->handle, grip, to, false, false));
    return;
  }
}

void measure(const Ui& ui, FoldViewState& state, ImDrawList& draw) {
  if (!state.measure) return;
  const Vec2 here = state.frame.to_drawing(ImGui::GetIO().MousePos);
  if (ImGui::IsItemClicked(ImGuiMouseButton_Left)) {
    if (state.measured.size() == 2) state.measured.clear();
    state.measured.push_back(here);
  }
  if (state.measured.empty()) return;
  const Vec2 from = state.measured.front();
  const Vec2 to = state.measured.size() == 2 ? state.measured[1] : here;
  const ImVec2 a = state.frame.to_screen(from);
  const ImVec2 b = state.frame.to_screen(to);
  draw.AddLine(a, b, palette().selected, scaled(2));
  draw.AddCircleFilled(a, scaled(3), palette().selected);
  draw.AddCircleFilled(b, scaled(3), palette().selected);
  const std::string text = small_length(glm::distance(from, to), ui.unit()) + "  (" +
                           small_length(std::abs(to.x - from.x), ui.unit()) + " along, " +
                           small_length(std::abs(to.y - from.y), ui.unit()) + " across)";
  draw.AddText({b.x + scaled(8), b.y + scaled(8)}, palette().ink, text.c_str());
}

void turn_to(const Ui& ui, FoldViewState& state) {
  const Answers* answers = ui.answers();
  if (!ui.pointer.fresh || !ui.pointer.place || !answers || !answers->laid_out()) return;
  const auto places = shown_at(state.drawing.map, *answers->handle, *ui.pointer.place);
  if (!places.empty() && state.frame.pixels_per_mm > 0) state.frame.centre = places.front();
}

}  // namespace

void fold_view(const Ui& ui, FoldViewState& state, ImVec2 size) {
  ImGui::BeginChild("fold view", size, true,
                    ImGuiWindowFlags_NoScrollbar | ImGuiWindowFlags_NoScrollWithMouse);
  toolbar(state);
  const ImVec2 low = ImGui::GetCursorScreenPos();
  const ImVec2 room = ImGui::GetContentRegionAvail();
  const ImVec2 box{std::max(room.x, 1.0F), std::max(room.y, 1.0F)};
  ImGui::InvisibleButton("sheet", box,
                         ImGuiButtonFlags_MouseButtonLeft | ImGuiButtonFlags_MouseButtonRight |
                             ImGuiButtonFlags_MouseButtonMiddle);
  refresh(ui, state);
  if (ImGui::IsItemHovered() && !ImGui::GetIO().WantTextInput && ImGui::IsKeyPressed('F')) state.fit = true;
  // The sheet's middle stays where it is when the panes are resized.
  state.frame.origin = {low.x + box.x / 2, low.y + box.y / 2};
  if (state.fit && state.drawn_revision > 0) fit(state, low, box);
  turn_to(ui, state);
  navigate(state);

  const std::vector<Grip> all = grips(ui, state);
  for (const Grip& grip : all) places::point("grip", grip.label, state.frame.to_screen(grip.at));
  ImDrawList& draw = *ImGui::GetWindowDrawList();
  draw.PushClipRect(low, {low.x + box.x, low.y + box.y}, true);
  draw.AddRectFilled(low, {low.x + box.x, low.y + box.y}, palette().paper);
  if (!state.measure) {
    drag(ui, state, all);
    nudge(ui, state, all);
    refresh(ui, state);  // what was dragged shows in this frame
  }
  paint_fold(ui, state, draw);
  paint_findings(ui, state, draw);
  measure(ui, state, draw);
  draw.PopClipRect();
  ImGui::EndChild();
}

}  // namespace haftwright::app
