// The fold view's switches, keys and lines in the menu, and its measure.
#include <algorithm>
#include <cmath>

#include "fold_canvas.hpp"
#include "places.hpp"

namespace haftwright::app {
namespace {

constexpr float kPointReach = 14;  // pixels at scale 1 within which a measure settles
constexpr double kZoomKey = 1.2;   // by one press of a key
constexpr const char* kSnapTip =
    "A dragged pin settles at an even spacing or level with another pin, a joint at the other side's, a "
    "measure at holes, line ends and corners. Hold Alt to pass over it for once. (S)";
constexpr const char* kGridTip = "Lines at round distances from the front and from each axis. (G)";
constexpr const char* kCornersTip = "Corners, edges, holes and cutouts of the tang, to be dragged. (C)";
constexpr const char* kMeasureTip = "Click two places to measure between them; Escape ends it. (M)";

float check_width(const char* label) {
  return ImGui::GetFrameHeight() + ImGui::GetStyle().ItemInnerSpacing.x + ImGui::CalcTextSize(label).x;
}

void fold_about(FoldViewState& state, FoldAbout about) {
  if (about != state.about) state.fit = true;
  state.about = about;
}

void zoom(FoldViewState& state, double by) {
  state.frame.pixels_per_mm = std::clamp(state.frame.pixels_per_mm * by, 0.2, 2000.0);
}

void toggle_measure(FoldViewState& state) {
  state.measure = !state.measure;
  state.measured.clear();
}

/// The place under the mouse: a hole's middle, a line's end or a corner when one is near.
struct Aim {
  FoldPlace place;
  std::string name;
};
Aim aim(const FoldViewState& state) {
  const Vec2 mouse = state.frame.to_drawing(ImGui::GetIO().MousePos);
  const double reach = state.snap ? scaled(kPointReach) / state.frame.pixels_per_mm : 0;
  if (const FoldPoint* point = nearest_point(state.points, mouse, reach)) return {point->place, point->name};
  return {state.map.to_handle(mouse), ""};
}

std::vector<std::string> span_lines(const Ui& ui, const FoldMap& map, const FoldPlace& from,
                                    const FoldPlace& to) {
  const FoldSpan span = span_between(map, map.to_drawing(from), map.to_drawing(to));
  std::vector<std::string> lines;
  if (span.distance_mm) lines.push_back(small_length(*span.distance_mm, ui.unit()));
  lines.push_back("along " + small_length(std::abs(span.along_mm), ui.unit()));
  if (span.across_mm) lines.push_back("across " + small_length(std::abs(*span.across_mm), ui.unit()));
  return lines;
}

void paint_end(const FoldCanvas& to, const FoldPlace& place) {
  const ImVec2 at = to.at(place);
  to.draw.AddCircle(at, scaled(6), palette().selected, 0, scaled(2));
  to.draw.AddCircleFilled(at, scaled(2), palette().selected);
}

void paint_span(const FoldCanvas& to, const FoldPlace& from, const FoldPlace& until) {
  const FoldMap& map = to.state.map;
  const ImVec2 a = to.at(from);
  const ImVec2 b = to.at(until);
  to.paint(Role::chosen, aligned_dimension(map.to_drawing(from), map.to_drawing(until), {}, ""));
  const std::vector<std::string> lines = span_lines(to.ui, map, from, until);
  const float row = tag_size("0").y + scaled(1);
  float width = 0;
  for (const std::string& line : lines) width = std::max(width, tag_size(line).x);
  const float height = row * static_cast<float>(lines.size());
  const float x = std::clamp((a.x + b.x) / 2 + scaled(12), to.state.low.x,
                             std::max(to.state.low.x, to.state.high.x - width - scaled(4)));
  float y = std::clamp((a.y + b.y) / 2 + scaled(16), to.state.low.y + row,
                       std::max(to.state.low.y + row, to.state.high.y - height));
  for (const std::string& line : lines) {
    tag(to.draw, {x, y}, line, palette().ink, palette().selected);
    places::point("measured", line, {x, y});
    y += row;
  }
}

}  // namespace

namespace {

constexpr const char* kSwitches[] = {"Snap", "Grid", "Tang corners", "Measure"};
constexpr const char* kSpineTip =
    "Unrolled about the spine. The two faces meet over it: a joint line that steps there shows. (B)";
constexpr const char* kBellyTip = "Unrolled about the belly. The two faces meet over it. (B)";
constexpr const char* kFitTip = "Show the whole handle. (F)";

/// The switches as lines of a menu.
void switch_items(FoldViewState& state) {
  const auto tick = [](const char* label, const char* key, const char* tip, bool& value) {
    if (menu_item(label, key, tip, true, value)) value = !value;
  };
  tick("Snap", "S", kSnapTip, state.snap);
  tick("Grid", "G", kGridTip, state.grid);
  tick("Tang corners", "C", kCornersTip, state.edit_outline);
  tick("Line-up", "L", kSpreadTip, state.spread);
  if (menu_item("Measure", "M", kMeasureTip, true, state.measure)) toggle_measure(state);
}

/// Whether all of them stand in one row.
bool one_row() {
  const ImGuiStyle& style = ImGui::GetStyle();
  float width = check_width("Spine") + check_width("Belly") + style.ItemSpacing.x +
                ImGui::CalcTextSize("Fit").x + 2 * style.FramePadding.x;
  for (const char* label : kSwitches) width += check_width(label) + style.ItemSpacing.x;
  return width + style.ItemSpacing.x <= ImGui::GetContentRegionAvail().x;
}

/// Where they would take more than a row, and with it the room of the drawing: as lists.
void short_toolbar(FoldViewState& state) {
  const auto about = combo("##about", "Over which edge the two faces meet. (B)",
                           state.about == FoldAbout::spine ? 0 : 1, {"Spine", "Belly"});
  if (about) fold_about(state, *about == 0 ? FoldAbout::spine : FoldAbout::belly);
  ImGui::SameLine();
  if (button("Fit", kFitTip)) state.fit = true;
  ImGui::SameLine();
  if (button("Show ...", "Snap, grid, corners of the tang, measure.")) ImGui::OpenPopup("switches");
  if (!ImGui::BeginPopup("switches")) return;
  switch_items(state);
  ImGui::EndPopup();
}

}  // namespace

void fold_toolbar(FoldViewState& state) {
  if (!one_row()) return short_toolbar(state);
  if (radio("Spine", kSpineTip, state.about == FoldAbout::spine)) fold_about(state, FoldAbout::spine);
  ImGui::SameLine();
  if (radio("Belly", kBellyTip, state.about == FoldAbout::belly)) fold_about(state, FoldAbout::belly);
  ImGui::SameLine();
  if (button("Fit", kFitTip)) state.fit = true;
  ImGui::SameLine();
  check_box("Snap", kSnapTip, state.snap);
  ImGui::SameLine();
  check_box("Grid", kGridTip, state.grid);
  ImGui::SameLine();
  check_box("Tang corners", kCornersTip, state.edit_outline);
  ImGui::SameLine();
  bool measure = state.measure;
  check_box("Measure", kMeasureTip, measure);
  if (measure != state.measure) toggle_measure(state);
}

void fold_menu(FoldViewState& state) {
  if (!ImGui::BeginMenu("Fold view")) return;
  if (menu_item("Unroll about the spine", "B", "The two faces meet over the spine.", true,
                state.about == FoldAbout::spine))
    fold_about(state, FoldAbout::spine);
  if (menu_item("Unroll about the belly", "B", "The two faces meet over the belly.", true,
                state.about == FoldAbout::belly))
    fold_about(state, FoldAbout::belly);
  if (menu_item("Zoom in", "+", "The wheel zooms to the pointer.")) zoom(state, kZoomKey);
  if (menu_item("Zoom out", "-", "The wheel zooms to the pointer.")) zoom(state, 1 / kZoomKey);
  ImGui::Separator();
  switch_items(state);
  ImGui::Separator();
  constexpr std::pair<const char*, const char*> kKeys[] = {{"Drag along the handle only", "Shift"},
                                                           {"Drag without snapping", "Alt"},
                                                           {"Cancel a drag, let go", "Esc"},
                                                           {"Type values of what is selected", "Enter"},
                                                           {"Move or turn it a little", "Arrows"},
                                                           {"Ten times as far", "Shift+Arrows"},
                                                           {"Finely", "Ctrl+Arrows"},
                                                           {"Link or unlink its sides", "U"},
                                                           {"Take it away", "Delete"}};
  for (const auto& [what, keys] : kKeys)
    menu_item(what, keys, "A key or gesture of the fold view, while the pointer is over it.", false);
  ImGui::EndMenu();
}

void fold_keys(const Ui& ui, FoldViewState& state) {
  const ImGuiIO& io = ImGui::GetIO();
  const auto pressed = [](ImGuiKey key) { return ImGui::IsKeyPressed(ImGui::GetKeyIndex(key), false); };
  const bool plain = !io.KeyCtrl && !io.KeyAlt;
  const auto letter = [&](int key) { return plain && ImGui::IsKeyPressed(key, false); };
  if (letter('F')) state.fit = true;
  if (letter('B')) fold_about(state, state.about == FoldAbout::spine ? FoldAbout::belly : FoldAbout::spine);
  if (letter('S')) state.snap = !state.snap;
  if (letter('G')) state.grid = !state.grid;
  if (letter('L')) state.spread = !state.spread;
  if (letter('C')) state.edit_outline = !state.edit_outline;
  if (letter('M')) toggle_measure(state);
  for (const unsigned c : io.InputQueueCharacters) {
    if (c == '+' || c == '=') zoom(state, kZoomKey);
    if (c == '-') zoom(state, 1 / kZoomKey);
  }
  if (state.held || !ui.selection.kind) {
    if (!state.held && pressed(ImGuiKey_Escape) && state.measure) toggle_measure(state);
    return;
  }
  if (pressed(ImGuiKey_Enter) || pressed(ImGuiKey_KeyPadEnter)) state.focus_values = true;
  if (pressed(ImGuiKey_Delete)) return remove_selected(ui);
  if (letter('U')) toggle_link(ui);
  if (pressed(ImGuiKey_Escape)) {
    if (state.measure)
      toggle_measure(state);
    else
      ui.selection = {};
  }
}

void fold_measure(const Ui& ui, FoldViewState& state, ImDrawList& draw, bool hovered) {
  if (!state.measure) return;
  const FoldCanvas to{ui, state, draw};
  const Aim here = aim(state);
  if (hovered && ImGui::IsMouseClicked(ImGuiMouseButton_Left)) {
    if (state.measured.size() == 2) state.measured.clear();
    state.measured.push_back(here.place);
  }
  for (const FoldPlace& place : state.measured) paint_end(to, place);
  if (state.measured.size() == 2)
    paint_span(to, state.measured[0], state.measured[1]);
  else if (state.measured.size() == 1 && hovered)
    paint_span(to, state.measured[0], here.place);
  if (!hovered || state.measured.size() == 2) return;
  paint_end(to, here.place);
  const ImVec2 at = to.at(here.place);
  const char* what = state.measured.empty() ? "click the first place" : "click the second place";
  const std::string text = here.name.empty() ? what : here.name;
  const float x = std::min(at.x + scaled(14), state.high.x - tag_size(text).x - scaled(4));
  tag(to.draw, {x, std::max(at.y - scaled(18), state.low.y + tag_size(text).y / 2)}, text, palette().ink,
      palette().selected);
}

}  // namespace haftwright::app
