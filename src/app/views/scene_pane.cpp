#include "scene_pane.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "haftwright/handle/measures.hpp"
#include "haftwright/preview/guide_mesh.hpp"
#include "planned_wood.hpp"
#include "theme.hpp"

namespace haftwright::app {
namespace {

constexpr const char* kViewTip[] = {"From the left: blade to the left, edge down (1)",
                                    "From the right (2)",
                                    "From above, on the spine (3)",
                                    "From below, on the belly (4)",
                                    "From the blade's end (5)",
                                    "From behind, on the butt (6)",
                                    "From the left, above and in front (7)"};

std::string shown_name(StandardView view) {
  std::string label(name_of(view));
  label[0] = static_cast<char>(label[0] - 32);
  return label;
}

/// Coarse while something is dragged, fine when it rests.
void refresh_handle(const Ui& ui, ScenePaneState& state) {
  const Answers* answers = ui.answers();
  if (!answers || !answers->laid_out()) return;
  const bool fine = !ui.document.drafting();
  const std::uint64_t revision = ui.document.revision() + 1;
  if (state.drawn_subject == SceneSubject::handle && state.drawn_revision == revision &&
      state.drawn_fine == fine)
    return;
  const MeshSettings settings = fine ? MeshSettings{} : MeshSettings::dragging(*answers->handle);
  state.box.preview = build_preview(*answers->design, *answers->handle, settings);
  state.box.view->set_preview(state.box.preview, pair_joint_lines(*answers->handle));
  state.drawn_revision = revision;
  state.drawn_fine = fine;
  state.box.stale = true;
}

void refresh_guide(const Ui& ui, ScenePaneState& state) {
  const Answers* answers = ui.document.settled_answers();
  const auto plan = answers ? answers->guide().plan : nullptr;
  if (!plan) state.subject = SceneSubject::handle;
  if (!plan || (state.drawn_subject == SceneSubject::guide && plan == state.drawn_guide)) return;
  state.drawn_guide = plan;
  state.box.preview = build_guide_preview(*plan);
  state.box.view->set_preview(state.box.preview, {});
  state.box.stale = true;
}

void refresh(const Ui& ui, ScenePaneState& state) {
  refresh_woods(ui, state);
  if (state.subject == SceneSubject::guide) refresh_guide(ui, state);
  if (state.subject == SceneSubject::handle) refresh_handle(ui, state);
  if (state.drawn_subject != state.subject) state.box.fit = true;
  state.drawn_subject = state.subject;
}

void views_row(ScenePaneState& state) {
  for (std::size_t i = 0; i < std::size(kStandardViews); ++i) {
    const std::string label = shown_name(kStandardViews[i]);
    if (i > 0) flow(label.c_str());
    if (button(label.c_str(), kViewTip[i])) look_from(state.box, kStandardViews[i]);
  }
}

/// The same as one list, where a row of buttons would leave no room for the picture.
void views_choice(ScenePaneState& state) {
  std::vector<std::string> names;
  for (StandardView view : kStandardViews) names.push_back("From: " + shown_name(view));
  std::vector<const char*> choices{"Look from ..."};
  for (const std::string& name : names) choices.push_back(name.c_str());
  if (const auto chosen =
          combo("##from", "Turns the handle to a standard view; keys 1 to 7 do the same.", 0, choices))
    look_from(state.box, kStandardViews[*chosen - 1]);
  flow("As finished  v  ");
}

/// What is shown and how, as one list: the guide has no wood to ghost and no sides to miss each other.
void mode_choice(ScenePaneState& state) {
  constexpr SceneMode kModes[] = {SceneMode::materials, SceneMode::albedo, SceneMode::ghost_wood,
                                  SceneMode::mismatch, SceneMode::materials};
  constexpr std::size_t kGuide = 4;
  const bool guide = state.subject == SceneSubject::guide;
  const auto now = static_cast<std::size_t>(
      std::find(std::begin(kModes), std::end(kModes), state.box.options.mode) - std::begin(kModes));
  const auto chosen = combo(
      "##show",
      "As finished: every piece in its material. Colours alone: the same without light and gloss. "
      "Ghosted wood: to see the pins, liners and "
      "the tang. Mismatch: the right side laid mirrored onto the left, with the size of "
      "each step. Drill guide: the plate that both sides are drilled through.",
      guide ? kGuide : now, {"As finished", "Colours alone", "Ghosted wood", "Mismatch", "Drill guide"});
  if (!chosen) return;
  state.subject = *chosen == kGuide ? SceneSubject::guide : SceneSubject::handle;
  set(state.box, state.box.options.mode, kModes[*chosen]);
}

void modes_row(const Ui& ui, ScenePaneState& state) {
  SceneBox& box = state.box;
  mode_choice(state);
  flow("apart 0.00 and some");
  if (state.subject == SceneSubject::handle && box.options.mode != SceneMode::mismatch) {
    auto exploded = static_cast<float>(box.options.exploded);
    if (slider("##apart", "Draws the parts away from each other.", exploded, 0, 1, "apart %.2f")) {
      set(box, box.options.exploded, static_cast<double>(exploded));
      box.fit = true;
    }
    flow("Whole  v  ");
  }
  if (const auto cut = combo("##cut", "Takes away what lies on one side of a plane, to look inside.",
                             static_cast<std::size_t>(state.section),
                             {"Whole", "Cut lengthwise", "Cut across", "Cut level"}))
    set(box, state.section, static_cast<Section>(*cut));
  if (state.section != Section::none) {
    flow("at 0.00 and some");
    float at = state.section_at;
    if (slider("##cut at", "Moves the plane from one end to the other.", at, 0, 1, "at %.2f"))
      set(box, state.section_at, at);
  }
  flow("Perspective []");
  bool perspective = box.camera.perspective;
  if (check_box("Perspective", "Off: parallel lines stay parallel, and sizes are the same near and far.",
                perspective))
    set(box, box.camera.perspective, perspective);
  wood_choice(ui, state);
}

std::optional<SectionPlane> section_of(const ScenePaneState& state) {
  const Preview& preview = state.box.preview;
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

/// What is selected, and when the sides are linked its partner too.
bool is_selected_joint(const Ui& ui, Which side, std::size_t joint) {
  return is_joint(ui.selection) && index_now(ui.design(), ui.selection) == joint &&
         (ui.selection.side == side || linked(ui.design(), SideField::joints));
}

std::vector<BodyId> selected_bodies(const Ui& ui, const ScenePaneState& state) {
  std::vector<BodyId> chosen;
  if (state.subject == SceneSubject::guide) return chosen;
  for (const Body& body : state.box.preview.bodies) {
    const bool pin = body.id.kind == BodyKind::pin && ui.selected(draggable::pin, body.id.index);
    const bool strip = body.id.kind == BodyKind::spacer && is_selected_joint(ui, body.id.side, body.id.joint);
    if (pin || strip) chosen.push_back(body.id);
  }
  return chosen;
}

void select_at(const Ui& ui, ScenePaneState& state, Vec2 at) {
  if (state.subject == SceneSubject::guide) return;
  const auto body = state.box.view->body_at(static_cast<int>(at.x), static_cast<int>(at.y));
  ui.selection = {};
  if (!body) return;
  if (body->kind == BodyKind::pin) ui.select(draggable::pin, Which::left, body->index);
  if (body->kind == BodyKind::spacer) ui.select(draggable::joint, body->side, body->joint);
}

/// The part under a resting mouse, for the status line.
void name_under_mouse(ScenePaneState& state) {
  const ImGuiIO& io = ImGui::GetIO();
  if (!ImGui::IsItemHovered()) {
    state.under_mouse.clear();
    return;
  }
  if (ImGui::IsAnyMouseDown()) return;
  const auto id = state.box.view->body_at(static_cast<int>(io.MousePos.x - state.box.low.x),
                                          static_cast<int>(io.MousePos.y - state.box.low.y));
  const Body* body = id ? state.box.preview.find(*id) : nullptr;
  state.under_mouse = body ? body->name : "";
}

/// How far the part that a place belongs to has been drawn away.
Vec3 drawn_away(const ScenePaneState& state, Vec3 place) {
  if (state.box.options.exploded == 0) return {0, 0, 0};
  double nearest = std::numeric_limits<double>::infinity();
  Vec3 apart{0, 0, 0};
  for (const Body& body : state.box.preview.bodies)
    for (const Vertex& vertex : body.vertices) {
      const Vec3 p(vertex.position[0], vertex.position[1], vertex.position[2]);
      const double distance = glm::distance(p, place);
      if (distance >= nearest) continue;
      nearest = distance;
      apart = body.apart;
    }
  return apart * state.box.options.exploded;
}

/// Where a place shows: on the wood over it, unless the picture lets one see inside.
Vec3 as_shown(const Ui& ui, const ScenePaneState& state, Vec3 place) {
  const bool inside = state.box.options.exploded > 0 || state.section != Section::none;
  if (!inside && ui.answers() && ui.answers()->laid_out())
    place = on_finished_surface(*ui.answers()->handle, place,
                                state.box.camera.back.z >= 0 ? Which::left : Which::right);
  if (state.box.options.mode == SceneMode::mismatch) return {place.x, place.y, std::abs(place.z)};
  return place + drawn_away(state, place);
}

/// Turns the handle so that a place just pointed at looks this way, and brings it into the picture.
void turn_to(const Ui& ui, ScenePaneState& state) {
  if (!ui.pointer.fresh || !ui.pointer.place) return;
  SceneBox& box = state.box;
  constexpr double kOnOneSide_mm = 0.5;
  constexpr double kSeenWell = 0.25;
  const double z = ui.pointer.place->z;
  const double side = z > kOnOneSide_mm ? 1 : z < -kOnOneSide_mm ? -1 : 0;
  if (side != 0 && box.camera.back.z * side < kSeenWell)
    look_from(box, side > 0 ? StandardView::left : StandardView::right);
  const auto at = project(box.camera, as_shown(ui, state, *ui.pointer.place), box.size);
  const bool inside = at && at->x > 0 && at->y > 0 && at->x < box.size.width && at->y < box.size.height;
  if (!inside) box.fit = true;
}

void mark_pointer(const Ui& ui, const ScenePaneState& state) {
  if (!ui.pointer.place) return;
  const auto centre = state.box.on_screen(as_shown(ui, state, *ui.pointer.place));
  if (!centre) return;
  ImDrawList& draw = *ImGui::GetWindowDrawList();
  draw.AddCircle(*centre, scaled(12), palette().paper, 0, scaled(5));
  draw.AddCircle(*centre, scaled(12), palette().selected, 0, scaled(2.5F));
}

/// The lines of the joint that is selected, on the side that looks this way.
void mark_joint(const Ui& ui, const ScenePaneState& state) {
  if (!is_joint(ui.selection) || state.box.options.exploded > 0 ||
      state.box.options.mode == SceneMode::mismatch || state.section != Section::none)
    return;
  const Which seen = state.box.camera.back.z >= 0 ? Which::left : Which::right;
  const std::size_t selected = index_now(ui.design(), ui.selection);
  if (!is_selected_joint(ui, seen, selected)) return;
  for (const LinePair& pair : pair_joint_lines(*ui.answers()->handle)) {
    if (pair.front_face || pair.joint != selected) continue;
    std::vector<ImVec2> path;
    for (Vec3 p : seen == Which::left ? pair.left : pair.right) {
      if (seen == Which::right) p.z = -p.z;
      if (const auto at = state.box.on_screen(p)) path.push_back(*at);
    }
    ImGui::GetWindowDrawList()->AddPolyline(path.data(), static_cast<int>(path.size()), palette().selected, 0,
                                            scaled(2));
  }
}

void step_label(const Ui& ui, const ScenePaneState& state, Vec3 place, double step) {
  constexpr double kNoStep_mm = 1e-6;
  const auto at = state.box.on_screen(place);
  if (!at || std::abs(step) < kNoStep_mm) return;
  const std::string text = small_length(std::abs(step), ui.unit());
  const ImVec2 p{at->x + scaled(12), at->y - scaled(8)};
  const ImVec2 size = ImGui::CalcTextSize(text.c_str());
  const float pad = scaled(4);
  ImDrawList& draw = *ImGui::GetWindowDrawList();
  draw.AddRectFilled({p.x - pad, p.y - pad / 2}, {p.x + size.x + pad, p.y + size.y + pad / 2},
                     palette().paper, pad);
  draw.AddText(p, std::abs(step) > state.box.options.step_limit_mm ? palette().fail : palette().ink,
               text.c_str());
}

/// One label at each end of a joint: its largest step there.
void mark_steps(const Ui& ui, const ScenePaneState& state) {
  if (state.box.options.mode != SceneMode::mismatch) return;
  const std::vector<LinePair> pairs = pair_joint_lines(*ui.answers()->handle);
  const auto largest = [&](const LinePair& pair, double LinePair::*step) {
    return std::none_of(pairs.begin(), pairs.end(), [&](const LinePair& other) {
      return other.front_face == pair.front_face && other.joint == pair.joint && &other != &pair &&
             (std::abs(other.*step) > std::abs(pair.*step) ||
              (std::abs(other.*step) == std::abs(pair.*step) && &other < &pair));
    });
  };
  for (const LinePair& pair : pairs) {
    if (largest(pair, &LinePair::step_at_spine_mm)) step_label(ui, state, pair.spine, pair.step_at_spine_mm);
    if (largest(pair, &LinePair::step_at_belly_mm)) step_label(ui, state, pair.belly, pair.step_at_belly_mm);
  }
}

void keys(ScenePaneState& state) {
  const ImGuiIO& io = ImGui::GetIO();
  if (io.WantTextInput || io.KeyCtrl || io.KeyAlt || ImGui::IsPopupOpen("", ImGuiPopupFlags_AnyPopup)) return;
  for (std::size_t i = 0; i < std::size(kStandardViews); ++i)
    if (ImGui::IsKeyPressed('1' + static_cast<int>(i), false)) look_from(state.box, kStandardViews[i]);
}

}  // namespace

void scene_pane(const Ui& ui, ScenePaneState& state, bool dark, ImVec2 size) {
  ImGui::BeginChild("scene", size, true, ImGuiWindowFlags_NoScrollbar | ImGuiWindowFlags_NoScrollWithMouse);
  SceneBox& box = state.box;
  // Making the view takes longer than all the rest, where drawing is done in software: that is on the screen
  // first.
  const bool first_frame = ImGui::GetFrameCount() <= 1;
  if (first_frame) wrapped("The handle is about to be drawn here.", true);
  if (first_frame || !make_view(box)) {
    ImGui::EndChild();
    return;
  }
  set(box, box.options.backdrop, dark ? Backdrop::dark : Backdrop::light);
  set(box, box.options.step_limit_mm, ui.design().rules.joint_step_mm);
  if (size.y > scaled(300))
    views_row(state);
  else
    views_choice(state);
  modes_row(ui, state);
  refresh(ui, state);
  keys(state);
  turn_to(ui, state);
  set(box, box.options.highlight, selected_bodies(ui, state));
  box.options.section = section_of(state);
  const auto clicked = scene_box(box, "picture", ImGui::GetContentRegionAvail());
  if (!box.preview.bodies.empty()) {
    name_under_mouse(state);
    if (clicked) select_at(ui, state, *clicked);
    const bool handle = state.subject == SceneSubject::handle && ui.answers() && ui.answers()->laid_out();
    if (handle) mark_steps(ui, state);
    if (handle) mark_joint(ui, state);
    mark_pointer(ui, state);
  }
  ImGui::EndChild();
}

void scene_menu(ScenePaneState& state) {
  for (std::size_t i = 0; i < std::size(kStandardViews); ++i) {
    const std::string key = std::to_string(i + 1);
    if (menu_item(("3D from: " + shown_name(kStandardViews[i])).c_str(), key.c_str(), kViewTip[i]))
      look_from(state.box, kStandardViews[i]);
  }
}

Picture scene_picture(const Ui& ui, const ScenePaneState& state, PictureSize size, bool transparent) {
  const Answers& answers = *ui.answers();
  SceneView view;
  if (state.subject == SceneSubject::guide && state.drawn_guide) {
    view.set_preview(build_guide_preview(*state.drawn_guide, 0.002), {});
  } else {
    const Preview preview = build_preview(*answers.design, *answers.handle, MeshSettings::fine());
    view.set_preview(preview, pair_joint_lines(*answers.handle));
    view.set_woods(state.pictures);
  }
  SceneOptions options = state.box.options;
  options.highlight.clear();
  if (transparent) options.backdrop = Backdrop::clear;
  view.draw(state.box.camera, options, size);
  return view.read();
}

}  // namespace haftwright::app
