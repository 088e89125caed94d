// The drill guide: its plan to look at, its settings, and the way to a file.
#include <imgui.h>

#include <algorithm>

#include "fold_view.hpp"
#include "haftwright/geometry/outline_ops.hpp"
#include "haftwright/guide/order_of_work.hpp"
#include "haftwright/preview/ear_clipping.hpp"
#include "haftwright/preview/guide_mesh.hpp"
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

/// The same in 3D, to be turned.
void paint_solid(GuidePane& pane, bool dark, const std::shared_ptr<const DrillGuide>& plan) {
  SceneBox& box = pane.box;
  if (!make_view(box)) return;
  set(box, box.options.backdrop, dark ? Backdrop::dark : Backdrop::light);
  if (pane.shown != plan) {
    box.fit = box.fit || !pane.shown;
    pane.shown = plan;
    box.preview = build_guide_preview(*plan);
    box.view->set_preview(box.preview, {});
    box.stale = true;
  }
  const float width = ImGui::GetContentRegionAvail().x;
  scene_box(box, "guide picture", {width, width * 0.62F});
}

void about(const Ui& ui, const DrillGuide& plan) {
  wrapped("Plate " + plate_words(plan, ui.unit()) + ", " + std::to_string(plan.bores.size()) +
          (plan.bores.size() == 1 ? " bore, " : " bores, ") + std::to_string(plan.windows.size()) +
          (plan.windows.size() == 1 ? " window." : " windows."));
}

void pictures(const Ui& ui, GuidePane& pane, bool dark, const Answers& answers) {
  const std::shared_ptr<const DrillGuide>& plan = answers.guide().plan;
  if (radio("3D", "The guide as it will come out. Drag to turn it, wheel to zoom, F or double click to fit.",
            !pane.flat))
    pane.flat = false;
  ImGui::SameLine();
  if (radio("Plan",
            "Seen from the left. Filled rounds are fences, open ones bores and stop pins; the window edges "
            "drawn "
            "bold lie on joint lines.",
            pane.flat))
    pane.flat = true;
  if (pane.flat)
    paint_plan(*plan, *answers.handle);
  else
    paint_solid(pane, dark, plan);
  about(ui, *plan);
}

void work(const Answers& answers) {
  if (!fold_out("work", "Order of work", "What to do at the bench, step by step, with its settings.", false))
    return;
  const std::vector<WorkStep> steps = order_of_work(*answers.design, *answers.handle, *answers.guide().plan);
  std::size_t number = 0;
  for (const WorkStep& step : steps)
    wrapped((step.caution ? "Caution: " : std::to_string(++number) + ". ") + step.words);
  if (button("Copy the order of work", "Puts it as text on the clipboard.", true, -1))
    ImGui::SetClipboardText(order_of_work_text(steps).c_str());
  ImGui::TreePop();
}

}  // namespace

void guide_panel(const Ui& ui, GuidePane& pane, bool dark, const std::function<void()>& ask_export) {
  const Answers* answers = ui.document.settled_answers();
  const bool there = answers && answers->guide().plan;
  if (there) pictures(ui, pane, dark, *answers);
  if (answers)
    for (const Problem& problem : answers->guide().problems) wrapped("No guide: " + problem.what);
  if (button("Export the guide (STEP) ...",
             "Writes the guide as a solid, to be printed, milled or sent to a shop.", there, -1))
    ask_export();
  if (there) {
    const std::vector<Finding>& findings = answers->guide().plan->findings;
    const Status status = worst(findings);
    const std::string title = status == Status::pass   ? "Findings: all good"
                              : status == Status::near ? "Findings: some near their limit"
                                                       : "Findings: some fail";
    status_mark(status);
    ImGui::SameLine();
    if (fold_out("findings", title, "What the guide has found on its own plan, worst first.",
                 status == Status::fail)) {
      finding_list(ui, findings);
      ImGui::TreePop();
    }
    work(*answers);
  }
  heading("Settings");
  shop_note(ui, "guide");
  Design design = ui.design();
  if (const std::string changed = struct_fields(ui, "guide", design.guide); !changed.empty())
    ui.apply("Drill guide: " + changed, design);
}

}  // namespace haftwright::app
