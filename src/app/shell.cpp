#include "shell.hpp"

#include <imgui.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <utility>

#include "panels.hpp"
#include "places.hpp"
#include "theme.hpp"

namespace haftwright::app {
namespace {

// As the window system numbers the keys of the number pad.
constexpr int kKeypadMinus = 333;
constexpr int kKeypadPlus = 334;

/// A bar between two panes that is dragged to share the room; `share` of `room` lies before it.
void splitter(const char* id, bool upright, float length, float room, float& share) {
  const float thick = scaled(7);
  ImGui::InvisibleButton(id, upright ? ImVec2{thick, length} : ImVec2{length, thick});
  tooltip("Drag to give one view more room.");
  if (ImGui::IsItemHovered() || ImGui::IsItemActive())
    ImGui::SetMouseCursor(upright ? ImGuiMouseCursor_ResizeEW : ImGuiMouseCursor_ResizeNS);
  if (ImGui::IsItemActive())
    share = std::clamp(share + (upright ? ImGui::GetIO().MouseDelta.x : ImGui::GetIO().MouseDelta.y) / room,
                       0.15F, 0.85F);
}

}  // namespace

Shell::Shell(Window& window, Session& session) : window_(window), session_(session) {
  show_hint_ = !session.settings().hint_seen;
}

void Shell::apply_settings() {
  const Settings& settings = session_.settings();
  if (settings_applied_ && settings == shown_settings_) return;
  apply(settings.theme == Theme::light ? Look::light : Look::dark, window_.interface_scale());
  if (!settings_applied_ || settings.text_scale != shown_settings_.text_scale) {
    window_.set_text_scale(settings.text_scale);
    apply(settings.theme == Theme::light ? Look::light : Look::dark, window_.interface_scale());
    window_.redraw();
  }
  scene_.box.stale = guide_.box.stale = true;
  shown_settings_ = settings;
  settings_applied_ = true;
}

void Shell::frame() {
  session_.tick(Session::Clock::now());
  apply_settings();
  if (session_.document() != shown_document_) {  // another project: nothing of the old one's views is of use
    shown_document_ = session_.document();
    selection_ = {};
    pointer_ = {};
    fold_ = {};
    scene_.drawn_revision = 0;
    scene_.box.fit = guide_.box.fit = true;
    scene_.subject = SceneSubject::handle;
    guide_.shown = nullptr;
    line_up_ = {};
    offcuts_ = {};
  }
  keys();
  const ImVec2 screen = ImGui::GetIO().DisplaySize;
  ImGui::SetNextWindowPos({0, 0});
  ImGui::SetNextWindowSize(screen);
  ImGui::Begin("Haftwright", nullptr,
               ImGuiWindowFlags_NoTitleBar | ImGuiWindowFlags_NoResize | ImGuiWindowFlags_NoMove |
                   ImGuiWindowFlags_MenuBar | ImGuiWindowFlags_NoBringToFrontOnFocus |
                   ImGuiWindowFlags_NoScrollbar | ImGuiWindowFlags_NoScrollWithMouse);
  menus();
  if (session_.document())
    workspace();
  else
    start_page_.show(session_, [this] { ask_open(); });
  ImGui::End();
  hint();
  picture_form();
  jobs();
  notices();
  questions();
  chooser_.draw();
  if (session_.wants_path() && !chooser_.open()) ask_save();
  const std::string title = session_.title() + (session_.unsaved() ? " *" : "") + " - Haftwright";
  if (title != title_) window_.set_title(title_ = title);
  if (session_.quitting()) window_.close();
  pointer_.fresh = false;
  close_menu_on_escape();
  places::state(session_);
}

void Shell::keys() {
  const ImGuiIO& io = ImGui::GetIO();
  if (session_.question() || chooser_.open() || !picture_.replacing.empty()) return;
  Document* document = session_.document();
  const auto pressed = [](int letter) { return ImGui::IsKeyPressed(letter, false); };
  if (!io.KeyCtrl) return;
  if (pressed('O')) ask_open();
  if (pressed('N')) session_.request_close();
  if (pressed('Q')) session_.request_quit();
  if (pressed('=') || pressed(kKeypadPlus)) change_text_scale(1);
  if (pressed('-') || pressed(kKeypadMinus)) change_text_scale(-1);
  if (!document) return;
  if (pressed('E')) ask_export(io.KeyShift ? JobKind::handle_step : JobKind::guide_step);
  if (pressed('P')) picture_.wanted = true;
  if (pressed('S') && io.KeyShift) ask_save();
  if (pressed('S') && !io.KeyShift) session_.save();
  if (io.WantTextInput) return;  // in a text field these belong to the text
  if (ImGui::IsKeyPressed('Z') && !io.KeyShift) document->undo();
  if (ImGui::IsKeyPressed('Y') || (ImGui::IsKeyPressed('Z') && io.KeyShift)) document->redo();
}

void Shell::workspace() {
  Document& document = *session_.document();
  const Ui ui{session_, document, selection_, pointer_};
  const ImVec2 room = ImGui::GetContentRegionAvail();
  const float status = ImGui::GetFrameHeight();
  const float gap = ImGui::GetStyle().ItemSpacing.y;
  const float height = room.y - status - gap;
  // Large writing in a small window may not push the views out of it.
  const float panel = std::min(std::clamp(room.x * 0.27F, scaled(300), scaled(400)), room.x * 0.32F);
  const float list = std::min(std::clamp(room.x * 0.22F, scaled(240), scaled(360)), room.x * 0.24F);
  ImGui::BeginChild("panels", {panel, height});
  side_panels(ui);
  ImGui::EndChild();
  ImGui::SameLine();
  const float middle = room.x - panel - list - 2 * ImGui::GetStyle().ItemSpacing.x;
  ImGui::BeginGroup();
  ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, {0, 0});
  const float bar = scaled(7);
  const float upper = (height - bar) * split_;
  fold_low_ = ImGui::GetCursorScreenPos();
  fold_high_ = {fold_low_.x + middle, fold_low_.y + upper};
  ImGui::BeginChild("upper", {middle, upper});
  ImGui::PopStyleVar();
  fold_view(ui, fold_, {middle, upper});
  ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, {0, 0});
  ImGui::EndChild();
  splitter("split", false, middle, height, split_);
  ImGui::PopStyleVar();
  scene_pane(ui, scene_, session_.settings().theme == Theme::dark, {middle, height - bar - upper});
  ImGui::EndGroup();
  ImGui::SameLine();
  ImGui::BeginChild("findings", {list, height}, true);
  findings_panel(ui);
  ImGui::EndChild();
  status_line();
}

namespace {

struct PanelChoice {
  const char* name;
  const char* tip;
  std::function<void()> draw;
};

/// All of them in sight, however narrow the pane and however many they are: rows are filled one after the
/// other and then drawn out to the pane's width.
void panel_buttons(const std::vector<PanelChoice>& panels, std::size_t& chosen) {
  const float gap = ImGui::GetStyle().ItemInnerSpacing.x;
  const float room = ImGui::GetContentRegionAvail().x;
  const float pad = scaled(7);
  const auto width = [&](std::size_t i) { return ImGui::CalcTextSize(panels[i].name).x + 2 * pad; };
  for (std::size_t first = 0; first < panels.size();) {
    std::size_t end = first;
    float used = 0;
    while (end < panels.size() && (end == first || used + gap + width(end) <= room)) {
      used += (end == first ? 0 : gap) + width(end);
      ++end;
    }
    const float spare = std::max(0.0F, room - used) / static_cast<float>(end - first);
    for (std::size_t i = first; i < end; ++i) {
      if (i > first) ImGui::SameLine(0, gap);
      const bool shown = i == chosen;
      ImGui::PushStyleVar(ImGuiStyleVar_FramePadding, {1, ImGui::GetStyle().FramePadding.y});
      if (shown) ImGui::PushStyleColor(ImGuiCol_Button, ImGui::GetStyle().Colors[ImGuiCol_TabActive]);
      if (button(panels[i].name, panels[i].tip, true, width(i) + spare)) chosen = i;
      places::item("panel", panels[i].name);
      if (shown) ImGui::PopStyleColor();
      ImGui::PopStyleVar();
    }
    first = end;
  }
}

}  // namespace

void Shell::side_panels(const Ui& ui) {
  const auto with_side = [&](void (*panel)(const Ui&, Which)) {
    if (radio("Left side", "The side seen with the blade pointing left.", panel_side_ == Which::left))
      panel_side_ = Which::left;
    flow("Right side []");
    if (radio("Right side", "The other side. It follows the left unless it is unlinked.",
              panel_side_ == Which::right))
      panel_side_ = Which::right;
    panel(ui, panel_side_);
  };
  const std::vector<PanelChoice> panels = {
      {"Tang", "The steel: thickness, outline, holes it has already.", [&] { tang_panel(ui); }},
      {"Build-up", "Pieces and liners of a side.", [&] { with_side(build_up_panel); }},
      {"Joints", "Where pieces meet, strips between them, front face and butt.",
       [&] { with_side(joints_panel); }},
      {"Pins", "Pins and the holes for them.", [&] { pins_panel(ui); }},
      {"Finish", "Thickness, crown and round-over of a side.", [&] { with_side(finish_panel); }},
      {"Epoxy", "How much to mix.", [&] { epoxy_panel(ui); }},
      {"Drill guide", "The plate that both sides are drilled through.",
       [&] {
         guide_panel(ui, guide_, session_.settings().theme == Theme::dark,
                     [this] { ask_export(JobKind::guide_step); });
       }},
      {"Line-up", "Will both sides line up, and what to do after the dry fit.",
       [&] { line_up_panel(ui, line_up_, fold_); }},
      {"Offcuts", "Which piece comes from which offcut of your bin.",
       [&] {
         offcuts_panel(ui, offcuts_, {[this] { ask_bin(); }, [this] { ask_cutting_drawing(); }});
       }},
      {"Shop rules", "Every limit that the checks use, and where the project differs from your shop.",
       [&] { rules_panel(ui); }}};
  panel_buttons(panels, panel_);
  offcuts_shown_ = false;
  ImGui::BeginChild(panels[panel_].name, {0, 0}, true);
  panels[panel_].draw();
  ImGui::EndChild();
}

std::string Shell::place_under_mouse(const Document& document) const {
  if (!scene_.under_mouse.empty()) return scene_.under_mouse;
  const ImVec2 mouse = ImGui::GetIO().MousePos;
  const bool over =
      mouse.x >= fold_low_.x && mouse.x < fold_high_.x && mouse.y >= fold_low_.y && mouse.y < fold_high_.y;
  if (!over || fold_.drawn_revision == 0) return {};
  const FoldPlace place = fold_.map.to_handle(fold_.frame.to_drawing(mouse));
  const LengthUnit unit = document.design().shown_unit;
  const bool strip = place.region == FoldRegion::edge_strip;
  const char* where = strip ? "edge" : place.region == FoldRegion::left_face ? "left side" : "right side";
  const auto tag = fold_.sheet.tag_at(fold_.frame, mouse, 0);
  const std::string name = tag ? fold_.things[*tag].name : "";
  return (name.empty() ? "" : name + "   ") + where + "   x " + small_length(place.x_mm, unit) +
         (strip ? "   z " : "   y ") + small_length(place.y_or_z_mm, unit);
}

void Shell::status_line() {
  const Document& document = *session_.document();
  ImGui::AlignTextToFramePadding();
  if (!document.problems().empty()) {
    const Problem& problem = document.problems().front();
    status_mark(Status::fail);
    ImGui::SameLine();
    ImGui::TextUnformatted(
        (problem.field.empty() ? problem.what : problem.field + ": " + problem.what).c_str());
    return;
  }
  if (offcuts_shown_ && !session_.bin().said().words.empty()) {
    status_mark(session_.bin().said().trouble ? Status::fail : Status::near);
    ImGui::SameLine();
    ImGui::TextUnformatted(session_.bin().said().words.c_str());
    return;
  }
  const Answers* answers = document.answers();
  if (!answers || !answers->laid_out()) return;
  const Session::AllFindings all = session_.findings();
  const auto fails = std::count_if(all.findings.begin(), all.findings.end(),
                                   [](const Finding& finding) { return finding.status == Status::fail; });
  status_mark(worst(all.findings));
  ImGui::SameLine();
  const std::string verdict = fails == 0   ? "no check fails"
                              : fails == 1 ? "1 check fails"
                                           : std::to_string(fails) + " checks fail";
  ImGui::TextUnformatted((verdict + (all.line_up_pending ? ", line-up under way" : "")).c_str());
  static const char* const units[] = {"millimetres", "decimal inches", "fractions of an inch"};
  ImGui::SameLine(0, scaled(24));
  ImGui::Text("in %s", units[static_cast<std::size_t>(document.design().shown_unit)]);
  ImGui::SameLine(0, scaled(24));
  ImGui::TextUnformatted(place_under_mouse(document).c_str());
}

}  // namespace haftwright::app
