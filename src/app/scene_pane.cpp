#include "scene_pane.hpp"

#include <algorithm>
#include <cmath>

#include "theme.hpp"

namespace haftwright::app {
namespace {

constexpr double kDegreesPerPixel = 0.35;

void make_view(ScenePaneState& state) {
  if (state.view || !state.trouble.empty()) return;
  try {
    state.view.emplace();
  } catch (const RenderError& error) {
    state.trouble = error.what();
  }
}

/// Coarse while something is dragged, fine when it rests.
void refresh(const Ui& ui, ScenePaneState& state) {
  const Answers* answers = ui.answers();
  if (!answers || !answers->laid_out()) return;
  const bool fine = !ui.document.drafting();
  if (state.drawn_revision == ui.document.revision() + 1 && state.drawn_fine == fine) return;
  const MeshSettings settings = fine ? MeshSettings{} : MeshSettings::dragging(*answers->handle);
  state.preview = build_preview(*answers->design, *answers->handle, settings);
  state.view->set_preview(state.preview, pair_joint_lines(*answers->handle));
  state.drawn_revision = ui.document.revision() + 1;
  state.drawn_fine = fine;
  state.picture_stale = true;
}

template <class Value>
void set(ScenePaneState& state, Value& value, const Value& wanted) {
  if (value == wanted) return;
  value = wanted;
  state.picture_stale = true;
}

void views_row(ScenePaneState& state) {
  const float right_edge = ImGui::GetWindowPos().x + ImGui::GetWindowContentRegionMax().x;
  for (StandardView view : kStandardViews) {
    std::string label(name_of(view));
    label[0] = static_cast<char>(label[0] - 32);
    if (view == StandardView::three_quarter) label = "Three-quarter";
    if (ImGui::Button(label.c_str())) {
      state.camera = standard_camera(view, state.camera.perspective);
      state.fit = true;
    }
    tooltip("Look from there, with the whole handle in sight.");
    const float next = ImGui::GetItemRectMax().x + ImGui::GetStyle().ItemSpacing.x + scaled(90);
    if (view != StandardView::three_quarter && next < right_edge) ImGui::SameLine();
  }
}

void modes_row(ScenePaneState& state) {
  static const char* const modes[] = {"As finished", "Ghosted wood", "Mismatch of the sides"};
  const SceneMode values[] = {SceneMode::materials, SceneMode::ghost_wood, SceneMode::mismatch};
  int mode = static_cast<int>(std::find(std::begin(values), std::end(values), state.options.mode) -
                              std::begin(values));
  ImGui::SetNextItemWidth(scaled(170));
  ImGui::Combo("##mode", &mode, modes, 3);
  tooltip(
      "Ghosted wood shows pins and liners. Mismatch lays the right side mirrored onto the left and marks "
      "each step "
      "in a joint line.");
  set(state, state.options.mode, values[mode]);
  ImGui::SameLine();
  auto exploded = static_cast<float>(state.options.exploded);
  ImGui::SetNextItemWidth(scaled(110));
  ImGui::SliderFloat("##apart", &exploded, 0, 1, "apart %.2f");
  tooltip("Draws the parts away from each other.");
  set(state, state.options.exploded, static_cast<double>(exploded));
  ImGui::SameLine();
  static const char* const cuts[] = {"Whole", "Cut lengthwise", "Cut across", "Cut level"};
  int cut = static_cast<int>(state.section);
  ImGui::SetNextItemWidth(scaled(130));
  ImGui::Combo("##cut", &cut, cuts, 4);
  tooltip("Takes away what lies on one side of a plane, to look inside.");
  set(state, state.section, static_cast<Section>(cut));
  if (state.section != Section::none) {
    ImGui::SameLine();
    float at = state.section_at;
    ImGui::SetNextItemWidth(scaled(100));
    ImGui::SliderFloat("##cut at", &at, 0, 1, "at %.2f");
    set(state, state.section_at, at);
  }
  ImGui::SameLine();
  bool perspective = state.camera.perspective;
  ImGui::Checkbox("Perspective", &perspective);
  tooltip("Off: parallel lines stay parallel.");
  set(state, state.camera.perspective, perspective);
}

std::optional<SectionPlane> section_of(const ScenePaneState& state) {
  const Preview& preview = state.preview;
  const auto plane = [&](Vec3 normal, double low, double high) {
    return SectionPlane{normal, low + (high - low) * static_cast<double>(state.section_at)};
  };
  switch (state.section) {
    case Section::none:
      return std::nullopt;
    case Section::lengthwise:
      return plane({0, 0, 1}, preview.low.z, preview.high.z);
    case Section::across:
      return plane({-1, 0, 0}, -preview.high.x, -preview.low.x);
    case Section::level:
      return plane({0, 1, 0}, preview.low.y, preview.high.y);
  }
  return std::nullopt;
}

void navigate(ScenePaneState& state, ImVec2 low) {
  const ImGuiIO& io = ImGui::GetIO();
  const Camera before = state.camera;
  if (ImGui::IsItemActive() && ImGui::IsMouseDragging(ImGuiMouseButton_Left, 0))
    orbit(state.camera, -io.MouseDelta.x * kDegreesPerPixel, io.MouseDelta.y * kDegreesPerPixel);
  for (int button : {ImGuiMouseButton_Right, ImGuiMouseButton_Middle})
    if (ImGui::IsItemActive() && ImGui::IsMouseDragging(button, 0))
      pan(state.camera, static_cast<double>(io.MouseDelta.x) / state.size.height,
          static_cast<double>(-io.MouseDelta.y) / state.size.height);
  if (ImGui::IsItemHovered() && io.MouseWheel != 0)
    zoom(state.camera, std::pow(1.15, io.MouseWheel), {io.MousePos.x - low.x, io.MousePos.y - low.y},
         state.size);
  if (ImGui::IsItemHovered() && !io.WantTextInput && ImGui::IsKeyPressed('F')) state.fit = true;
  if (before.target != state.camera.target || before.back != state.camera.back ||
      before.up != state.camera.up || before.height_mm != state.camera.height_mm)
    state.picture_stale = true;
}

void mark_pointer(const Ui& ui, const ScenePaneState& state, ImVec2 low) {
  if (!ui.pointer.place || state.options.exploded > 0 || state.options.mode == SceneMode::mismatch) return;
  const auto at = project(state.camera, *ui.pointer.place, state.size);
  if (!at) return;
  const ImVec2 centre{low.x + static_cast<float>(at->x), low.y + static_cast<float>(at->y)};
  ImDrawList& draw = *ImGui::GetWindowDrawList();
  draw.AddCircle(centre, scaled(12), palette().paper, 0, scaled(5));
  draw.AddCircle(centre, scaled(12), palette().selected, 0, scaled(2.5F));
}

void mark_steps(const Ui& ui, const ScenePaneState& state, ImVec2 low) {
  if (state.options.mode != SceneMode::mismatch || state.options.exploded > 0) return;
  ImDrawList& draw = *ImGui::GetWindowDrawList();
  for (const LinePair& pair : pair_joint_lines(*ui.answers()->handle)) {
    const auto label = [&](Vec3 place, double step) {
      const auto at = project(state.camera, place, state.size);
      if (!at || std::abs(step) < 1e-9) return;
      const std::string text = small_length(std::abs(step), ui.unit());
      const ImVec2 p{low.x + static_cast<float>(at->x) + scaled(8),
                     low.y + static_cast<float>(at->y) - scaled(8)};
      const ImVec2 size = ImGui::CalcTextSize(text.c_str());
      draw.AddRectFilled({p.x - 3, p.y}, {p.x + size.x + 3, p.y + size.y}, palette().paper, 3);
      draw.AddText(p, std::abs(step) > state.options.step_limit_mm ? palette().fail : palette().ink,
                   text.c_str());
    };
    label(pair.spine, pair.step_at_spine_mm);
    label(pair.belly, pair.step_at_belly_mm);
  }
}

void draw_picture(ScenePaneState& state, ImVec2 box) {
  const PictureSize size{std::max(16, static_cast<int>(box.x)), std::max(16, static_cast<int>(box.y))};
  if (size.width != state.size.width || size.height != state.size.height) state.picture_stale = true;
  state.size = size;
  if (state.fit) fit(state.camera, state.preview, state.options.exploded, size);
  state.picture_stale = state.picture_stale || state.fit;
  state.fit = false;
  if (!state.picture_stale) return;
  state.options.section = section_of(state);
  state.view->draw(state.camera, state.options, size);
  state.picture_stale = false;
}

}  // namespace

void scene_pane(const Ui& ui, ScenePaneState& state, bool dark, ImVec2 size) {
  ImGui::BeginChild("scene", size, true, ImGuiWindowFlags_NoScrollbar | ImGuiWindowFlags_NoScrollWithMouse);
  make_view(state);
  if (!state.view) {
    ImGui::TextWrapped("No 3D picture here: %s", state.trouble.c_str());
    ImGui::EndChild();
    return;
  }
  set(state, state.options.backdrop, dark ? Backdrop::dark : Backdrop::light);
  set(state, state.options.step_limit_mm, ui.design().rules.joint_step_mm);
  views_row(state);
  modes_row(state);
  refresh(ui, state);
  const ImVec2 low = ImGui::GetCursorScreenPos();
  const ImVec2 room = ImGui::GetContentRegionAvail();
  const ImVec2 box{std::max(room.x, 16.0F), std::max(room.y, 16.0F)};
  ImGui::InvisibleButton("picture", box,
                         ImGuiButtonFlags_MouseButtonLeft | ImGuiButtonFlags_MouseButtonRight |
                             ImGuiButtonFlags_MouseButtonMiddle);
  if (state.drawn_revision > 0) {
    navigate(state, low);
    draw_picture(state, box);
    // The texture's first row is the picture's lowest.
    ImGui::GetWindowDrawList()->AddImage(
        reinterpret_cast<ImTextureID>(static_cast<std::uintptr_t>(state.view->texture())), low,
        {low.x + box.x, low.y + box.y}, {0, 1}, {1, 0});
    if (ui.answers() && ui.answers()->laid_out()) mark_steps(ui, state, low);
    mark_pointer(ui, state, low);
  }
  ImGui::EndChild();
}

Picture scene_picture(const Ui& ui, const ScenePaneState& state, PictureSize size, bool transparent) {
  const Answers& answers = *ui.answers();
  SceneView view;
  const Preview preview = build_preview(*answers.design, *answers.handle, MeshSettings::fine());
  view.set_preview(preview, pair_joint_lines(*answers.handle));
  SceneOptions options = state.options;
  if (transparent) options.backdrop = Backdrop::clear;
  view.draw(state.camera, options, size);
  return view.read();
}

}  // namespace haftwright::app
