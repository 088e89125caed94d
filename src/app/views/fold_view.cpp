#include "fold_view.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "fold_canvas.hpp"
#include "haftwright/edits/nudge.hpp"
#include "haftwright/preview/fold_marks.hpp"
#include "places.hpp"

namespace haftwright::app {
namespace {

constexpr float kGripReach = 12;  // pixels at scale 1
constexpr float kSnapReach = 9;
constexpr double kZoomStep = 1.15;
constexpr double kRunRest = 1.5;  // seconds without a nudge after which the next one is a step of its own

const Handle* handle_of(const Ui& ui) {
  const Answers* answers = ui.answers();
  return answers && answers->laid_out() ? answers->handle.get() : nullptr;
}

void refresh(const Ui& ui, FoldViewState& state) {
  const Handle* handle = handle_of(ui);
  if (!handle) return;
  if (state.drawn_revision == ui.document.revision() + 1 && state.drawn_about == state.about) return;
  FoldSettings settings;
  settings.about = state.about;
  const Design& design = *ui.answers()->design;
  // Where another thickness moves the regions apart, the one that is worked in stays where it is: else what
  // is held would run away from the hand.
  const FoldPlace anchor{state.held ? state.held->place.region : state.region, 0, 0};
  const bool stays = state.drawn_revision > 0 && state.drawn_about == state.about;
  const Vec2 before = stays ? state.map.to_drawing(anchor) : Vec2{0, 0};
  FoldDrawing drawn = draw_fold(design, *handle, settings);
  state.map = drawn.map;
  state.bounds = drawn.bounds;
  state.things = std::move(drawn.things);
  state.sheet = ShownDrawing(std::move(drawn.drawing));
  state.zones = ShownDrawing(draw_clear_zones(design, state.map, ui.answers()->findings));
  if (stays) state.frame.centre += state.map.to_drawing(anchor) - before;
  state.points = fold_points(design, *handle, state.map);
  state.drawn_revision = ui.document.revision() + 1;
  state.drawn_about = state.about;
}

void fit(FoldViewState& state) {
  // Up to where one row of values begins: more of them cover the margin below for a while.
  const ImVec2 size{state.high.x - state.low.x, 2 * (state.frame.origin.y - state.low.y)};
  const Vec2 extent = state.bounds.size();
  // Room for the captions on the right and the ruler below.
  const double beside = scaled(64);
  const double below = state.grid ? scaled(22) : scaled(6);
  const double margin = scaled(14);
  state.frame.pixels_per_mm =
      std::max(0.1, std::min((size.x - 2 * margin - beside) / std::max(1.0, extent.x),
                             (size.y - 2 * margin - below) / std::max(1.0, extent.y)));
  state.frame.centre =
      (state.bounds.low + state.bounds.high) * 0.5 + Vec2{beside, -below} * (0.5 / state.frame.pixels_per_mm);
  state.fit = false;
  state.fitted = state.frame;
}

/// A view that nobody has zoomed or shifted since it was fitted goes along with its pane's size.
void follow_room(FoldViewState& state, ImVec2 room) {
  const bool other_room = room.x != state.fitted_room.x || room.y != state.fitted_room.y;
  const bool untouched =
      state.frame.centre == state.fitted.centre && state.frame.pixels_per_mm == state.fitted.pixels_per_mm;
  if (other_room && untouched && !state.held) state.fit = true;
  state.fitted_room = room;
}

void navigate(FoldViewState& state, bool hovered, bool active) {
  const ImGuiIO& io = ImGui::GetIO();
  if (hovered && io.MouseWheel != 0) {
    const Vec2 under = state.frame.to_drawing(io.MousePos);
    state.frame.pixels_per_mm =
        std::clamp(state.frame.pixels_per_mm * std::pow(kZoomStep, io.MouseWheel), 0.2, 2000.0);
    state.frame.centre += under - state.frame.to_drawing(io.MousePos);
  }
  for (int button : {ImGuiMouseButton_Right, ImGuiMouseButton_Middle})
    if (active && ImGui::IsMouseDragging(button, scaled(3)))
      state.frame.centre += Vec2{-io.MouseDelta.x, io.MouseDelta.y} / state.frame.pixels_per_mm;
}

const Grip* grip_under_mouse(const std::vector<Grip>& all, const FoldViewState& state) {
  const ImVec2 mouse = ImGui::GetIO().MousePos;
  const Grip* best = nullptr;
  float best_distance = scaled(kGripReach);
  for (const Grip& grip : all) {
    const ImVec2 at = state.frame.to_screen(grip.at);
    const float distance = std::hypot(at.x - mouse.x, at.y - mouse.y);
    if (distance > best_distance) continue;
    best = &grip;
    best_distance = distance;
  }
  return best;
}

void take_hold(const Ui& ui, FoldViewState& state, const Grip& grip) {
  ui.selection = grip.what;
  ui.pointer = {};
  state.held = grip;
  state.region = grip.place.region;
  state.held_off = grip.at - state.frame.to_drawing(ImGui::GetIO().MousePos);
  ui.document.begin(grip.label);
}

/// While something is held: it follows the mouse, Escape lets it spring back, letting go keeps it.
void drag(const Ui& ui, FoldViewState& state) {
  const ImGuiIO& io = ImGui::GetIO();
  const Handle* handle = handle_of(ui);
  if (ImGui::IsKeyPressed(ImGui::GetKeyIndex(ImGuiKey_Escape)) || !ui.document.drafting()) {
    ui.document.cancel();
    state.held.reset();
    return;
  }
  const Vec2 to = state.frame.to_drawing(io.MousePos) + state.held_off;
  const bool snap = state.snap && !io.KeyAlt;
  if (handle && ImGui::IsMouseDragging(ImGuiMouseButton_Left, scaled(2))) {
    const FoldPlace place = state.map.to_handle(to, state.held->place.region);
    ui.document.preview(dragged({.base = ui.document.base(),
                                 .handle = *handle,
                                 .grip = *state.held,
                                 .to_mm = {place.x_mm, place.y_or_z_mm},
                                 .one_way = io.KeyShift,
                                 .snap_mm = snap ? scaled(kSnapReach) / state.frame.pixels_per_mm : 0}));
  }
  if (!ImGui::IsMouseDown(ImGuiMouseButton_Left)) {
    ui.document.commit();
    state.held.reset();
  }
}

void hover(const Ui& ui, FoldViewState& state, const std::vector<Grip>& all, bool hovered) {
  state.hovered.reset();
  if (!hovered || state.held || state.measure) return;
  const bool clicked = ImGui::IsMouseClicked(ImGuiMouseButton_Left);
  if (const Grip* under = grip_under_mouse(all, state)) {
    state.hovered = under->what;
    ImGui::SetMouseCursor(ImGuiMouseCursor_Hand);
    // What is selected has its values below already.
    if (!ImGui::IsMouseDown(ImGuiMouseButton_Right) && under->what != ui.selection) {
      ImGui::BeginTooltip();
      ImGui::PushTextWrapPos(ImGui::GetFontSize() * 24);
      ImGui::TextUnformatted(grip_tip(ui, *under).c_str());
      ImGui::PopTextWrapPos();
      ImGui::EndTooltip();
    }
    if (clicked) take_hold(ui, state, *under);
    return;
  }
  if (mark_under_mouse(ui, state, clicked) || !clicked) return;
  ui.selection = {};
  ui.pointer = {};
}

/// The right button pans; where it is only clicked it offers what can be done there.
void right_click(FoldViewState& state, const std::vector<Grip>& all, bool hovered) {
  if (!hovered || !ImGui::IsMouseReleased(ImGuiMouseButton_Right)) return;
  const ImVec2 way = ImGui::GetIO().MouseDragMaxDistanceAbs[ImGuiMouseButton_Right];
  if (std::max(way.x, way.y) > scaled(3)) return;
  state.menu_at = state.frame.to_drawing(ImGui::GetIO().MousePos);
  const Grip* under = grip_under_mouse(all, state);
  state.menu_grip = under ? std::optional(*under) : std::nullopt;
  ImGui::OpenPopup("sheet menu");
}

/// Arrow keys: right and up as the drawing shows them; Shift goes far, Ctrl finely. A run of them is one
/// step.
void nudge(const Ui& ui, FoldViewState& state, const std::vector<Grip>& all) {
  const ImGuiIO& io = ImGui::GetIO();
  if (state.held || !ui.selection.kind) return;
  const auto pressed = [](ImGuiKey key) { return ImGui::IsKeyPressed(ImGui::GetKeyIndex(key)); };
  Vec2 steps{0, 0};
  if (pressed(ImGuiKey_LeftArrow)) steps.x -= 1;
  if (pressed(ImGuiKey_RightArrow)) steps.x += 1;
  if (pressed(ImGuiKey_UpArrow)) steps.y += 1;
  if (pressed(ImGuiKey_DownArrow)) steps.y -= 1;
  if (steps == Vec2{0, 0}) return;
  const NudgeSize size = io.KeyShift ? NudgeSize::coarse : io.KeyCtrl ? NudgeSize::fine : NudgeSize::usual;
  const Grip* grip = nullptr;
  for (const Grip& one : all)
    if (one.what == ui.selection && (!grip || one.place.region == state.region)) grip = &one;
  if (!grip) return;
  if (ImGui::GetTime() - state.nudged_at_s > kRunRest) ui.document.end_run();
  state.nudged_at_s = ImGui::GetTime();
  const Nudge by = nudge_by(state.map, *grip, steps, nudge_mm(ui.unit(), size), nudge_deg(size));
  ui.document.apply_in_run(grip->label, nudged(ui.design(), ui.selection, by));
}

/// Both ends and some millimetres beyond, as near as a step of a tenth wants to be seen.
void show_stretch(FoldViewState& state, const FoldStretch& stretch) {
  constexpr double kNearPixelsPerMm = 22;
  constexpr double kBeyondMm = 3;
  const Vec2 a = state.map.to_drawing(stretch.from);
  const Vec2 b = state.map.to_drawing(stretch.to);
  state.frame.centre = (a + b) * 0.5;
  state.frame.pixels_per_mm = std::min<double>(
      kNearPixelsPerMm * scaled(1), (state.high.y - state.low.y) / (std::abs(a.y - b.y) + 2 * kBeyondMm));
}

/// A finding was picked in the list: its place comes into the middle, large enough to be read. What runs from
/// side to side shows where the two faces meet over it.
void turn_to(const Ui& ui, FoldViewState& state) {
  if (state.turn_to) return show_stretch(state, *std::exchange(state.turn_to, std::nullopt));
  const Handle* handle = handle_of(ui);
  if (!ui.pointer.fresh || !ui.pointer.place || !handle) return;
  const Finding* finding = nullptr;
  for (const Finding& one : ui.answers()->findings)
    if (ui.pointer.finding == key_of(one)) finding = &one;
  std::vector<FoldPlace> ends = shown_places(*handle, *ui.pointer.place);
  if (finding && finding->to && finding->place) {
    const FoldAbout other = state.about == FoldAbout::spine ? FoldAbout::belly : FoldAbout::spine;
    auto stretches = shown_stretches(*handle, state.about, *finding->place, *finding->to);
    if (stretches.empty()) {
      state.about = other;
      refresh(ui, state);
      stretches = shown_stretches(*handle, state.about, *finding->place, *finding->to);
    }
    if (!stretches.empty()) ends = {stretches.front().from, stretches.front().to};
  }
  if (ends.empty()) return;
  const Vec2 a = state.map.to_drawing(ends.front());
  const Vec2 b = state.map.to_drawing(ends.back());
  const bool one_region = ends.size() == 2 && ends.front().region == ends.back().region;
  state.frame.centre = one_region ? (a + b) * 0.5 : a;
  constexpr double kContextMm = 60;  // of the handle to be seen round the place at least
  const double width = state.high.x - state.low.x;
  const double least = one_region && glm::distance(a, b) > 0 ? scaled(36) / glm::distance(a, b) : 0;
  state.frame.pixels_per_mm = std::max(state.frame.pixels_per_mm, std::min(least, width / kContextMm));
}

/// The view has the keyboard while the mouse is over it or it was clicked last, and nothing is being typed.
bool listens(bool hovered) {
  const bool popup = ImGui::IsPopupOpen("", ImGuiPopupFlags_AnyPopupId | ImGuiPopupFlags_AnyPopupLevel);
  const bool mine = hovered || ImGui::IsWindowFocused(ImGuiFocusedFlags_ChildWindows);
  return mine && !popup && !ImGui::GetIO().WantTextInput;
}

void paint(const Ui& ui, FoldViewState& state, const std::vector<Grip>& all, bool hovered) {
  ImDrawList& draw = *ImGui::GetWindowDrawList();
  draw.PushClipRect(state.low, state.high, true);
  draw.AddRectFilled(state.low, state.high, palette().paper);
  const FoldCanvas canvas{ui, state, draw};
  if (state.drawn_revision > 0) {
    if (state.grid) paint_grid(canvas);
    state.sheet.paint(draw, state.frame);
    if (state.grid) paint_ruler(canvas);
    paint_spread(canvas);
    state.zones.paint(draw, state.frame);
    paint_marks(canvas);
  }
  paint_grips(canvas, all);
  paint_live(canvas);
  fold_measure(ui, state, draw, hovered);
  draw.PopClipRect();
}

}  // namespace

void fold_view(const Ui& ui, FoldViewState& state, ImVec2 size) {
  ImGui::BeginChild("fold view", size, true,
                    ImGuiWindowFlags_NoScrollbar | ImGuiWindowFlags_NoScrollWithMouse);
  fold_toolbar(state);
  state.low = ImGui::GetCursorScreenPos();
  const ImVec2 room = ImGui::GetContentRegionAvail();
  const float one_row = ImGui::GetFrameHeight() + scaled(8);
  const float bar = std::max(state.bar_height, one_row);
  const ImVec2 box{std::max(room.x, 1.0F), std::max(room.y - bar, 1.0F)};
  state.high = {state.low.x + box.x, state.low.y + box.y};
  ImGui::InvisibleButton("sheet", box,
                         ImGuiButtonFlags_MouseButtonLeft | ImGuiButtonFlags_MouseButtonRight |
                             ImGuiButtonFlags_MouseButtonMiddle);
  const bool hovered = ImGui::IsItemHovered();
  const bool active = ImGui::IsItemActive();
  refresh(ui, state);
  // The sheet's middle stays where it is when the panes are resized, and when more or fewer rows of values
  // stand below it: what was just taken hold of may not move away from the hand.
  state.frame.origin = {state.low.x + box.x / 2, state.low.y + std::max(room.y - one_row, 1.0F) / 2};
  follow_room(state, room);
  if (state.fit && state.drawn_revision > 0) fit(state);
  turn_to(ui, state);
  navigate(state, hovered, active);

  std::vector<Grip> all = grips(ui, state);
  const std::uint64_t before = state.drawn_revision;
  if (state.held) drag(ui, state);
  hover(ui, state, all, hovered);
  right_click(state, all, hovered);
  if (listens(hovered)) {
    fold_keys(ui, state);
    nudge(ui, state, all);
  }
  refresh(ui, state);  // what was dragged shows in this frame
  if (state.drawn_revision != before) all = grips(ui, state);
  for (const Grip& grip : all) places::point("grip", grip.label, state.frame.to_screen(grip.at));
  state.marks = finding_marks(ui, state, all);
  paint(ui, state, all, hovered);
  fold_values(ui, state);
  fold_context_menu(ui, state);
  ImGui::EndChild();
}

}  // namespace haftwright::app
