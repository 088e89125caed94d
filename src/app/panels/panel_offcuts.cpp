#include "panel_offcuts.hpp"

#include <imgui.h>

#include "places.hpp"
#include "theme.hpp"

namespace haftwright::app {
namespace {

void said(BinDesk& desk) {
  const BinDesk::Said& said = desk.said();
  places::item("said", "bin", said.words);
  if (said.words.empty()) return;
  status_mark(said.trouble ? Status::fail : Status::near);
  ImGui::SameLine();
  wrapped(said.words);
}

void no_bin(const Ui& ui, OffcutsPane& pane, const OffcutsAsk& ask) {
  wrapped(
      "There is no bin yet. The bin lists the offcuts in your shop, with their sizes, grain and defects, for "
      "all your projects; then a plan can say which piece of a handle comes from which of them.");
  wrapped("It would be kept in " + ui.session.bin().path().string(), true);
  if (wide_button("Begin a bin with an offcut",
                  "Adds one to type over: measure the piece of wood that lies nearest to you.")) {
    BinDesk& desk = ui.session.bin();
    const std::string material = material_to_begin_with(desk.bin(), ui.design());
    if (desk.apply("add an offcut", add(desk.bin(), offcut_to_begin_with(material))))
      pane.chosen = desk.bin().offcuts.back().id;
  }
  if (button("Open another bin ...", "A bin's file that lies elsewhere; it is used from now on.", true, -1))
    ask.another_bin();
}

}  // namespace

void offcuts_panel(const Ui& ui, OffcutsPane& pane, const OffcutsAsk& ask) {
  pane.photos->forget_unused();
  BinDesk& desk = ui.session.bin();
  if (!desk.there()) {
    said(desk);
    return no_bin(ui, pane, ask);
  }
  if (radio("The bin", "What lies in your shop to make handles of.", !pane.plan)) pane.plan = false;
  flow("The plan []");
  if (radio("The plan", "Which piece of this handle comes from which offcut, and how it is sawn out.",
            pane.plan))
    pane.plan = true;
  said(desk);
  // The bar is always there, so that nothing moves aside when a search or a plan makes the list shorter.
  ImGui::BeginChild(pane.plan ? "the plan" : "the bin", {0, 0}, false,
                    ImGuiWindowFlags_AlwaysVerticalScrollbar);
  if (pane.plan)
    plan_part(ui, pane, ask);
  else
    bin_part(ui, pane, ask);
  ImGui::EndChild();
}

}  // namespace haftwright::app
