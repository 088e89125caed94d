// The drill guide: its plan to look at, its settings, and the way to a file.
#include <imgui.h>

#include <algorithm>

#include "fold_view.hpp"
#include "haftwright/geometry/outline_ops.hpp"
#include "haftwright/preview/ear_clipping.hpp"
#include "panels.hpp"
#include "struct_fields.hpp"
#include "theme.hpp"

namespace haftwright::app {
namespace {

struct Plan {
  ImDrawList& draw;
  SheetFrame frame;

  std::vector<ImVec2> points(const Outline& outline) const {
    std::vector<ImVec2> out;
    for (Vec2 p : polyline(outline, 0.05)) out.push_back(frame.to_screen(p));
    return out;
  }
  void line(const Outline& outline, ImU32 colour, float width) const {
    const std::vector<ImVec2> path = points(outline);
    draw.AddPolyline(path.data(), static_cast<int>(path.size()), colour, ImDrawFlags_Closed, width);
  }
  void hole(Vec2 at, double diameter, ImU32 fill) const {
    const auto radius = static_cast<float>(diameter / 2 * frame.pixels_per_mm);
    draw.AddCircleFilled(frame.to_screen(at), radius, fill);
    draw.AddCircle(frame.to_screen(at), radius, palette().ink, 0, scaled(1.2F));
  }
  void filled(const Outline& outline, ImU32 colour) const {
    const std::vector<Vec2> loop = polyline(outline, 0.05);
    for (const auto& [a, b, c] : fill(loop))
      draw.AddTriangleFilled(frame.to_screen(loop[a]), frame.to_screen(loop[b]), frame.to_screen(loop[c]),
                             colour);
  }
};

void paint_plan(const DrillGuide& guide, const Handle& handle) {
  const Bounds& bounds = guide.plate.bounds();
  const ImVec2 low = ImGui::GetCursorScreenPos();
  const float width = ImGui::GetContentRegionAvail().x;
  const double scale = (width - scaled(12)) / bounds.size().x;
  const float height = static_cast<float>(bounds.size().y * scale) + scaled(12);
  ImGui::Dummy({width, height});
  ImDrawList& draw = *ImGui::GetWindowDrawList();
  draw.AddRectFilled(low, {low.x + width, low.y + height}, palette().paper, scaled(4));
  const Plan plan{draw, {{low.x + width / 2, low.y + height / 2}, (bounds.low + bounds.high) * 0.5, scale}};
  const ImDrawListFlags flags = draw.Flags;
  draw.Flags &= ~ImDrawListFlags_AntiAliasedFill;  // triangles side by side would show their seams
  plan.filled(guide.plate, palette().grid);
  for (const GuideMark& mark : guide.marks)
    if (mark.on_left_face)
      for (const Outline& stroke : mark.strokes)
        plan.filled(stroke, (palette().faint_ink & 0x00FFFFFFU) | 0x60000000U);
  plan.line(handle.left.finished, palette().faint_ink, scaled(1));
  plan.line(guide.plate, palette().ink, scaled(1.6F));
  for (const SightWindow& window : guide.windows) {
    plan.filled(window.outline, palette().paper);
    plan.line(window.outline, palette().ink, scaled(1.2F));
    draw.AddLine(plan.frame.to_screen(window.joint_from), plan.frame.to_screen(window.joint_to),
                 palette().selected, scaled(2));
  }
  for (const GuideLocator& locator : guide.locators)
    plan.hole(locator.at, locator.diameter_mm, locator.loose ? palette().paper : palette().steel);
  for (const GuideBore& bore : guide.bores) plan.hole(bore.at, bore.diameter_mm, palette().paper);
  draw.Flags = flags;
}

}  // namespace

void guide_panel(const Ui& ui) {
  const Answers* answers = ui.document.settled_answers();
  if (const DrillGuide* plan = answers ? answers->guide().plan.get() : nullptr) {
    paint_plan(*plan, *answers->handle);
    const Vec2 size = plan->plate.bounds().size();
    ImGui::TextWrapped(
        "Seen from the left. Plate %s x %s x %s. Filled rounds are fences, open ones bores and stop pins; "
        "the window edges drawn bold lie on joint lines.",
        format_length(size.x, ui.unit()).c_str(), format_length(size.y, ui.unit()).c_str(),
        format_length(plan->thickness_mm, ui.unit()).c_str());
    ImGui::TextWrapped("Save it with File > Export drill guide.");
  }
  if (answers)
    for (const Problem& problem : answers->guide().problems)
      ImGui::TextWrapped("No guide: %s", problem.what.c_str());
  heading("Settings");
  Design design = ui.design();
  if (const std::string changed = struct_fields(ui, "guide", design.guide); !changed.empty())
    ui.apply("Drill guide: " + changed, design);
}

}  // namespace haftwright::app
