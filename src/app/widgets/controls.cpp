// Buttons, switches, choices and menu lines: each with its tooltip, each known to tests by its label.
#include <imgui.h>
#include <imgui_internal.h>

#include "places.hpp"
#include "widgets.hpp"

namespace haftwright::app {
namespace {

/// What is shown of a label: without the part that only makes it unique.
std::string_view shown(std::string_view label) {
  return label.substr(0, label.find("##"));
}

/// As much of a text as has room, the rest as dots; the whole is in the tooltip.
std::string shortened(const std::string& text, float room) {
  if (ImGui::CalcTextSize(text.c_str()).x <= room) return text;
  std::string kept = text;
  const auto inside_letter = [&] { return !kept.empty() && (kept.back() & 0xC0) == 0x80; };
  while (!kept.empty() && ImGui::CalcTextSize((kept + " ...").c_str()).x > room) {
    while (inside_letter()) kept.pop_back();
    if (!kept.empty()) kept.pop_back();
  }
  return kept + " ...";
}

float button_width(const char* label) {
  const std::string_view text = shown(label);
  return ImGui::CalcTextSize(text.data(), text.data() + text.size()).x + 2 * ImGui::GetStyle().FramePadding.x;
}

}  // namespace

void tooltip(const char* text) {
  if (!ImGui::IsItemHovered(ImGuiHoveredFlags_AllowWhenDisabled) || !text || !*text) return;
  ImGui::BeginTooltip();
  wrapped(text, false, ImGui::GetFontSize() * 24);
  ImGui::EndTooltip();
}

void close_menu_on_escape() {
  // Dear ImGui does so by itself only where the keyboard walks through all controls, which would take the
  // arrow keys away from the views.
  const auto& open = ImGui::GetCurrentContext()->OpenPopupStack;
  if (open.empty() || !ImGui::IsKeyPressed(ImGui::GetKeyIndex(ImGuiKey_Escape), false)) return;
  const ImGuiWindow* top = open.back().Window;
  if (top && !(top->Flags & ImGuiWindowFlags_Modal)) ImGui::ClosePopupToLevel(open.Size - 1, true);
}

bool button(const char* label, const char* tip, bool enabled, float width) {
  ImGui::BeginDisabled(!enabled);
  const bool pressed = ImGui::Button(label, {width, 0});
  ImGui::EndDisabled();
  places::item("button", shown(label));
  tooltip(tip);
  return pressed && enabled;
}

bool small_button(const char* label, const char* tip) {
  const bool pressed = ImGui::SmallButton(label);
  places::item("button", shown(label));
  tooltip(tip);
  return pressed;
}

bool answer(const char* label, const char* tip, float width) {
  const bool pressed = ImGui::Button(label, {width, 0});
  places::item("answer", shown(label));
  tooltip(tip);
  return pressed;
}

bool wide_button(const std::string& label, const char* tip) {
  const bool pressed = ImGui::Button(label.c_str(), {-1, scaled(40)});
  places::item("button", shown(label));
  tooltip(tip);
  return pressed;
}

bool radio(const char* label, const char* tip, bool on) {
  const bool pressed = ImGui::RadioButton(label, on);
  places::item("button", shown(label));
  tooltip(tip);
  return pressed;
}

bool check_box(const char* label, const char* tip, bool& value) {
  const bool changed = ImGui::Checkbox(label, &value);
  places::item("button", shown(label));
  tooltip(tip);
  return changed;
}

std::optional<std::size_t> combo(const char* id, const char* tip, std::size_t chosen,
                                 const std::vector<const char*>& choices) {
  ImGui::SetNextItemWidth(button_width(choices[chosen]) + ImGui::GetFrameHeight());
  std::optional<std::size_t> result;
  const bool open = ImGui::BeginCombo(id, choices[chosen]);
  if (!open) {
    places::item("choice", id, choices[chosen]);
    tooltip(tip);
    return result;
  }
  for (std::size_t i = 0; i < choices.size(); ++i) {
    if (ImGui::Selectable(choices[i], i == chosen) && i != chosen) result = i;
    places::item("button", choices[i]);
  }
  ImGui::EndCombo();
  return result;
}

bool slider(const char* id, const char* tip, float& value, float low, float high, const char* format) {
  ImGui::SetNextItemWidth(scaled(110));
  const bool changed = ImGui::SliderFloat(id, &value, low, high, format, ImGuiSliderFlags_AlwaysClamp);
  places::item("slider", id);
  tooltip(tip);
  return changed;
}

bool menu_item(const char* label, const char* shortcut, const char* tip, bool enabled, bool ticked) {
  const bool chosen = ImGui::MenuItem(label, shortcut, ticked, enabled);
  places::item("menu item", shown(label));
  tooltip(tip);
  return chosen;
}

bool fold_out(const char* id, const std::string& title, const char* tip, bool open_at_first, bool marked) {
  ImGuiTreeNodeFlags flags = ImGuiTreeNodeFlags_Framed;
  if (open_at_first) flags |= ImGuiTreeNodeFlags_DefaultOpen;
  if (marked) flags |= ImGuiTreeNodeFlags_Selected;
  const float frame = ImGui::GetFontSize() + 5 * ImGui::GetStyle().FramePadding.x;  // arrow and its room
  const std::string fitting = shortened(title, ImGui::GetContentRegionAvail().x - frame);
  const bool open = ImGui::TreeNodeEx(id, flags, "%s", fitting.c_str());
  places::item("fold-out", title);
  tooltip((title + "\n" + tip).c_str());
  return open;
}

void flow(const char* next_label) {
  const float right_edge = ImGui::GetWindowPos().x + ImGui::GetWindowContentRegionMax().x;
  const float next = ImGui::GetItemRectMax().x + ImGui::GetStyle().ItemSpacing.x + button_width(next_label);
  if (next < right_edge) ImGui::SameLine();
}

bool card(const char* kind, const std::string& name, bool chosen, const std::string& tip,
          const std::function<void()>& content) {
  ImGui::PushID(name.c_str());
  const ImVec2 at = ImGui::GetCursorPos();
  const float width = ImGui::GetContentRegionAvail().x;
  // Its height is known only after its content; the ground is painted under it all the same.
  ImDrawList& draw = *ImGui::GetWindowDrawList();
  draw.ChannelsSplit(2);
  draw.ChannelsSetCurrent(1);
  ImGui::BeginGroup();
  content();
  ImGui::EndGroup();
  const float height = ImGui::GetItemRectSize().y;
  ImGui::SetCursorPos(at);
  draw.ChannelsSetCurrent(0);
  const bool clicked = ImGui::Selectable("##card", chosen, ImGuiSelectableFlags_None, {width, height});
  places::item(kind, name, chosen ? "chosen" : "");
  tooltip(tip.c_str());
  draw.ChannelsMerge();
  ImGui::Separator();
  ImGui::PopID();
  return clicked;
}

}  // namespace haftwright::app
