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

/// A bar between two panes that is dragged to share the room; `share` of `room` lies before it.
void splitter(const char* id, bool upright, float length, float room, float& share) {
  const float thick = scaled(7);
  ImGui::InvisibleButton(id, upright ? ImVec2{thick, length} : ImVec2{length, thick});
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
  scene_.picture_stale = true;
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
    scene_.fit = true;
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
    start_page();
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
  places::state(session_);
}

void Shell::keys() {
  const ImGuiIO& io = ImGui::GetIO();
  if (session_.question() || chooser_.open()) return;
  Document* document = session_.document();
  const auto pressed = [](int letter) { return ImGui::IsKeyPressed(letter, false); };
  if (!io.KeyCtrl) return;
  if (pressed('O')) ask_open();
  if (pressed('N')) session_.request_close();
  if (pressed('Q')) session_.request_quit();
  if (!document) return;
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
  const float panel = std::clamp(room.x * 0.27F, scaled(300), scaled(400));
  const float list = std::clamp(room.x * 0.22F, scaled(240), scaled(360));
  ImGui::BeginChild("panels", {panel, height});
  side_panels(ui);
  ImGui::EndChild();
  ImGui::SameLine();
  const float middle = room.x - panel - list - 2 * ImGui::GetStyle().ItemSpacing.x;
  ImGui::BeginGroup();
  ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, {0, 0});
  const float bar = scaled(7);
  const float upper = (height - bar) * split_;
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

void Shell::side_panels(const Ui& ui) {
  const auto side_choice = [&] {
    int side = panel_side_ == Which::left ? 0 : 1;
    ImGui::RadioButton("Left side", &side, 0);
    ImGui::SameLine();
    ImGui::RadioButton("Right side", &side, 1);
    panel_side_ = side == 0 ? Which::left : Which::right;
  };
  const auto with_side = [&](void (*panel)(const Ui&, Which)) {
    side_choice();
    panel(ui, panel_side_);
  };
  const std::pair<const char*, std::function<void()>> panels[] = {
      {"Tang", [&] { tang_panel(ui); }},
      {"Build-up", [&] { with_side(build_up_panel); }},
      {"Joints", [&] { with_side(joints_panel); }},
      {"Pins", [&] { pins_panel(ui); }},
      {"Finish", [&] { with_side(finish_panel); }},
      {"Epoxy", [&] { epoxy_panel(ui); }},
      {"Drill guide", [&] { guide_panel(ui); }},
      {"Shop rules", [&] { rules_panel(ui); }}};
  // All of them in sight, in two rows, however narrow the pane.
  constexpr std::size_t kInRow = 4;
  const float gap = ImGui::GetStyle().ItemInnerSpacing.x;
  const float width = (ImGui::GetContentRegionAvail().x - gap * (kInRow - 1)) / kInRow;
  for (std::size_t i = 0; i < std::size(panels); ++i) {
    if (i % kInRow != 0) ImGui::SameLine(0, gap);
    const bool shown = i == panel_;
    ImGui::PushStyleVar(ImGuiStyleVar_FramePadding, {2, ImGui::GetStyle().FramePadding.y});
    if (shown) ImGui::PushStyleColor(ImGuiCol_Button, ImGui::GetStyle().Colors[ImGuiCol_TabActive]);
    if (ImGui::Button(panels[i].first, {width, 0})) panel_ = i;
    places::item("panel", panels[i].first);
    if (shown) ImGui::PopStyleColor();
    ImGui::PopStyleVar();
  }
  ImGui::BeginChild(panels[panel_].first, {0, 0}, true);
  panels[panel_].second();
  ImGui::EndChild();
}

void Shell::status_line() {
  const Document& document = *session_.document();
  ImGui::AlignTextToFramePadding();
  if (!document.problems().empty()) {
    status_mark(Status::fail);
    ImGui::SameLine();
    const Problem& problem = document.problems().front();
    ImGui::TextUnformatted(
        (problem.field.empty() ? problem.what : problem.field + ": " + problem.what).c_str());
    return;
  }
  const Answers* answers = document.answers();
  std::string text;
  if (answers && answers->laid_out() && fold_.drawn_revision > 0) {
    const FoldPlace place = fold_.drawing.map.to_handle(fold_.frame.to_drawing(ImGui::GetIO().MousePos));
    const LengthUnit unit = document.design().shown_unit;
    const bool strip = place.region == FoldRegion::edge_strip;
    text = std::string(strip                                   ? "edge"
                       : place.region == FoldRegion::left_face ? "left side"
                                                               : "right side") +
           "   x " + small_length(place.x_mm, unit) + (strip ? "   z " : "   y ") +
           small_length(place.y_or_z_mm, unit);
  }
  static const char* const units[] = {"millimetres", "decimal inches", "fractions of an inch"};
  text += std::string("      shown in ") + units[static_cast<std::size_t>(document.design().shown_unit)];
  if (answers && answers->laid_out()) {
    const auto fails = std::count_if(answers->findings.begin(), answers->findings.end(),
                                     [](const Finding& finding) { return finding.status == Status::fail; });
    status_mark(worst(answers->findings));
    ImGui::SameLine();
    text = (fails == 0 ? std::string("no check fails")
                       : std::to_string(fails) + (fails == 1 ? " check fails" : " checks fail")) +
           "      " + text;
  }
  ImGui::TextUnformatted(text.c_str());
}

}  // namespace haftwright::app
