// The drill guide: its plan to look at, its settings, and the way to a file.
#include <imgui.h>

#include <algorithm>

#include "drawing_box.hpp"
#include "haftwright/guide/order_of_work.hpp"
#include "haftwright/preview/guide_mesh.hpp"
#include "panels.hpp"
#include "struct_fields.hpp"
#include "theme.hpp"

namespace haftwright::app {
namespace {

void paint_plan(const Ui& ui, GuidePane& pane, const std::shared_ptr<const DrillGuide>& guide,
                const Handle& handle) {
  if (pane.drawn != guide) {
    GuidePlan plan = draw_guide_plan(*guide, handle);
    pane.plan = ShownDrawing(std::move(plan.drawing));
    pane.parts = std::move(plan.parts);
    pane.drawn = guide;
  }
  const DrawingHover hover =
      drawing_box(pane.plan, "guide part", "The guide seen from the left, its front at the left.");
  if (!hover.tag) return;
  const GuidePart& part = pane.parts[*hover.tag];
  std::string words = spot_words(ui.design(), part.spot);
  if (part.diameter_mm > 0) words += "\n" + small_length(part.diameter_mm, ui.unit()) + " across";
  ImGui::SetTooltip("%s", words.c_str());
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
    paint_plan(ui, pane, plan, *answers.handle);
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
  if (const std::string changed = struct_fields(ui.design(), "guide", design.guide); !changed.empty())
    ui.apply("Drill guide: " + changed, design);
}

}  // namespace haftwright::app
