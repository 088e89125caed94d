#include "theme.hpp"

#include <imgui_internal.h>

#include <cmath>

namespace haftwright::app {
namespace {

// Status colours: bluish green, orange and vermilion of the colour-blind-safe set of Okabe and Ito, "Color
// Universal Design" (2008), darkened for the light look so that they hold on white.
const Palette kLight{IM_COL32(250, 248, 243, 255), IM_COL32(225, 220, 210, 255), IM_COL32(48, 42, 36, 255),
                     IM_COL32(130, 122, 112, 255), IM_COL32(20, 20, 20, 255),    IM_COL32(168, 176, 184, 255),
                     IM_COL32(176, 138, 60, 255),  IM_COL32(0, 96, 160, 255),    IM_COL32(0, 114, 178, 255),
                     IM_COL32(0, 122, 90, 255),    IM_COL32(184, 118, 0, 255),   IM_COL32(190, 68, 0, 255),
                     IM_COL32(110, 190, 245, 255)};
const Palette kDark{IM_COL32(33, 31, 29, 255),    IM_COL32(52, 49, 46, 255),    IM_COL32(226, 219, 208, 255),
                    IM_COL32(150, 143, 133, 255), IM_COL32(248, 244, 236, 255), IM_COL32(104, 112, 120, 255),
                    IM_COL32(208, 172, 96, 255),  IM_COL32(110, 190, 245, 255), IM_COL32(86, 180, 233, 255),
                    IM_COL32(40, 190, 145, 255),  IM_COL32(235, 170, 40, 255),  IM_COL32(240, 112, 48, 255),
                    IM_COL32(110, 190, 245, 255)};

const Palette* current = &kLight;

ImVec4 mix(ImVec4 a, ImVec4 b, float share) {
  return {a.x + (b.x - a.x) * share, a.y + (b.y - a.y) * share, a.z + (b.z - a.z) * share, 1};
}

void colour(ImGuiStyle& style, ImVec4 ground, ImVec4 ink, ImVec4 accent) {
  ImVec4* c = style.Colors;
  const auto shade = [&](float share) { return mix(ground, ink, share); };
  c[ImGuiCol_Text] = ink;
  c[ImGuiCol_TextDisabled] = shade(0.55F);
  c[ImGuiCol_WindowBg] = ground;
  c[ImGuiCol_ChildBg] = ground;
  c[ImGuiCol_PopupBg] = shade(0.03F);
  c[ImGuiCol_MenuBarBg] = shade(0.05F);
  c[ImGuiCol_Border] = shade(0.24F);
  c[ImGuiCol_FrameBg] = shade(0.08F);
  c[ImGuiCol_FrameBgHovered] = mix(shade(0.08F), accent, 0.18F);
  c[ImGuiCol_FrameBgActive] = mix(shade(0.08F), accent, 0.3F);
  c[ImGuiCol_TitleBg] = c[ImGuiCol_TitleBgActive] = c[ImGuiCol_TitleBgCollapsed] = shade(0.1F);
  c[ImGuiCol_ScrollbarBg] = shade(0.03F);
  c[ImGuiCol_ScrollbarGrab] = shade(0.25F);
  c[ImGuiCol_ScrollbarGrabHovered] = shade(0.35F);
  c[ImGuiCol_ScrollbarGrabActive] = accent;
  c[ImGuiCol_CheckMark] = c[ImGuiCol_SliderGrab] = c[ImGuiCol_SliderGrabActive] = accent;
  c[ImGuiCol_Button] = shade(0.12F);
  c[ImGuiCol_ButtonHovered] = mix(shade(0.12F), accent, 0.3F);
  c[ImGuiCol_ButtonActive] = mix(shade(0.12F), accent, 0.5F);
  c[ImGuiCol_Header] = mix(ground, accent, 0.2F);
  c[ImGuiCol_HeaderHovered] = mix(ground, accent, 0.3F);
  c[ImGuiCol_HeaderActive] = mix(ground, accent, 0.4F);
  c[ImGuiCol_Separator] = shade(0.18F);
  c[ImGuiCol_SeparatorHovered] = c[ImGuiCol_SeparatorActive] = accent;
  c[ImGuiCol_Tab] = shade(0.08F);
  c[ImGuiCol_TabHovered] = mix(ground, accent, 0.35F);
  c[ImGuiCol_TabActive] = mix(ground, accent, 0.28F);
  c[ImGuiCol_TabUnfocused] = c[ImGuiCol_Tab];
  c[ImGuiCol_TabUnfocusedActive] = c[ImGuiCol_TabActive];
  c[ImGuiCol_TableHeaderBg] = shade(0.08F);
  c[ImGuiCol_TableBorderStrong] = shade(0.2F);
  c[ImGuiCol_TableBorderLight] = shade(0.12F);
  c[ImGuiCol_TableRowBgAlt] = shade(0.03F);
  c[ImGuiCol_TextSelectedBg] = mix(ground, accent, 0.4F);
  c[ImGuiCol_NavHighlight] = accent;
  c[ImGuiCol_ModalWindowDimBg] = ImVec4(0, 0, 0, 0.4F);
  c[ImGuiCol_PlotHistogram] = accent;
}

ImFont* font(int index) {
  const ImVector<ImFont*>& fonts = ImGui::GetIO().Fonts->Fonts;
  return index < fonts.Size ? fonts[index] : fonts[0];
}

}  // namespace

void apply(Look look, float scale) {
  ImGuiStyle style;
  const auto vec = [](ImU32 packed) { return ImGui::ColorConvertU32ToFloat4(packed); };
  current = look == Look::light ? &kLight : &kDark;
  const ImVec4 ground =
      look == Look::light ? ImVec4(0.955F, 0.945F, 0.925F, 1) : ImVec4(0.155F, 0.147F, 0.14F, 1);
  colour(style, ground, vec(current->ink), vec(current->handle));
  style.WindowRounding = 0;
  style.ChildRounding = 4;
  style.FrameRounding = 4;
  style.GrabRounding = 4;
  style.TabRounding = 4;
  style.PopupRounding = 4;
  style.WindowBorderSize = 0;
  style.FrameBorderSize = 1;  // an empty box or round must be seen on any ground
  style.FramePadding = {9, 6};
  style.ItemSpacing = {8, 7};
  style.ItemInnerSpacing = {6, 5};
  style.ScrollbarSize = 15;
  style.WindowPadding = {10, 10};
  style.ScaleAllSizes(scale);
  ImGui::GetStyle() = style;
}

const Palette& palette() {
  return *current;
}

ImU32 colour_of(Status status) {
  switch (status) {
    case Status::pass:
      return current->pass;
    case Status::near:
      return current->near;
    case Status::fail:
      return current->fail;
  }
  return current->ink;
}

ImFont* bold_font() {
  return font(1);
}
ImFont* title_font() {
  return font(2);
}

void status_mark(ImDrawList& draw, ImVec2 centre, float radius, Status status) {
  const ImU32 colour = colour_of(status);
  const float r = radius;
  switch (status) {
    case Status::pass:
      draw.AddCircleFilled(centre, r * 0.8F, colour);
      break;
    case Status::near:
      draw.AddTriangleFilled({centre.x, centre.y - r}, {centre.x + r, centre.y + r * 0.8F},
                             {centre.x - r, centre.y + r * 0.8F}, colour);
      break;
    case Status::fail: {
      draw.AddRectFilled({centre.x - r, centre.y - r}, {centre.x + r, centre.y + r}, colour, r * 0.3F);
      const float k = r * 0.5F;
      const ImU32 cross = IM_COL32_WHITE;
      const float width = std::max(1.5F, r * 0.28F);
      draw.AddLine({centre.x - k, centre.y - k}, {centre.x + k, centre.y + k}, cross, width);
      draw.AddLine({centre.x - k, centre.y + k}, {centre.x + k, centre.y - k}, cross, width);
      break;
    }
  }
}

void status_mark(Status status) {
  const float height = ImGui::GetTextLineHeight();
  const ImVec2 at = ImGui::GetCursorScreenPos();
  // Level with the text that follows, also where that stands beside a button.
  const float down = ImGui::GetCurrentWindowRead()->DC.CurrLineTextBaseOffset;
  status_mark(*ImGui::GetWindowDrawList(), {at.x + height / 2, at.y + down + height / 2}, height * 0.4F,
              status);
  ImGui::Dummy({height, height + down});
}

}  // namespace haftwright::app
