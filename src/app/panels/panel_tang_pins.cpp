// The tang, and pins with their holes.
#include <imgui.h>

#include <optional>

#include "haftwright/design/holes.hpp"
#include "panels.hpp"
#include "struct_fields.hpp"
#include "theme.hpp"

namespace haftwright::app {
namespace {

void tang_holes(const Ui& ui) {
  const Design& design = ui.design();
  for (std::size_t i = 0; i < design.tang.holes.size(); ++i) {
    TangHole hole = design.tang.holes[i];
    ImGui::PushID(hole.id.c_str());
    ImGui::TextUnformatted(numbered("Hole", i).c_str());
    ImGui::SameLine();
    const bool remove = small_button("remove", "Takes this hole out of the list: the tang does not have it.");
    if (const std::string changed = struct_fields(ui.design(), "hole", hole); !changed.empty()) {
      Edited edit = move_tang_hole(design, i, hole.at_mm);
      if (edit) {
        Design next = *edit;
        next.tang.holes[i] = hole;
        edit = next;
      }
      ui.apply(numbered("Tang hole", i) + ": " + changed, edit);
    }
    ImGui::PopID();
    if (remove) {
      ui.apply("Remove tang hole", remove_tang_hole(design, i));
      return;
    }
  }
  if (const Answers* answers = ui.answers();
      answers && answers->laid_out() &&
      button("Add a hole",
             "A hole the tang has already, 3 mm where there is room; then give its place and size."))
    ui.make("Add a tang hole", add_tang_hole(design, *answers->handle, 3), draggable::tang_hole, Which::left,
            design.tang.holes.size());
}

void corners(const Ui& ui) {
  const Design& design = ui.design();
  const std::string title = "Corners of the outline (" + std::to_string(design.tang.outline.size()) + ")";
  if (!fold_out("corners", title, "Where each corner of the steel lies, and how the edge after it bends.",
                false))
    return;
  for (std::size_t i = 0; i < design.tang.outline.size(); ++i) {
    ImGui::PushID(static_cast<int>(i));
    Node node = design.tang.outline[i];
    ImGui::TextUnformatted(numbered("Corner", i).c_str());
    ImGui::SameLine();
    const bool split =
        small_button("split its edge", "A new corner half-way along the edge that leaves this one.");
    ImGui::SameLine();
    const bool remove = small_button("remove", "The corners beside it are joined by one edge.");
    if (const std::string changed = struct_fields(ui.design(), "node", node); !changed.empty()) {
      Edited edit = move_node(design, {}, i, node.at);
      if (edit) edit = bend_edge(*edit, {}, i, node.bulge);
      ui.apply(numbered("Tang corner", i) + ": " + changed, edit);
    }
    ImGui::PopID();
    if (split) ui.apply("Split tang edge", split_edge(design, {}, i, 0.5));
    if (remove) ui.apply("Remove tang corner", remove_node(design, {}, i));
    if (split || remove) break;
  }
  ImGui::TreePop();
}

void hole_size(const Ui& ui, const char* title, const char* id, HoleSize& hole, std::string& changed) {
  if (const std::string what = struct_fields(ui.design(), id, hole); !what.empty())
    changed = std::string(title) + " " + what;
}

void pin(const Ui& ui, std::size_t index) {
  const Design& design = ui.design();
  Pin edited = design.pins[index];
  std::string changed;
  ImGui::Indent();
  heading("Pin stock");
  if (const std::string what = struct_fields(ui.design(), "stock", edited.stock); !what.empty())
    changed = "stock " + what;
  heading("Place");
  begin_fields("place");
  if (const auto x = quantity_field("x_mm", schema::kCoordinate, edited.at_mm.x,
                                    "from the front face toward the butt", ui.unit()))
    ui.apply(numbered("Move pin", index), move_pin(design, index, {*x, edited.at_mm.y}));
  if (const auto y = quantity_field("y_mm", schema::kCoordinate, edited.at_mm.y,
                                    "from the axis toward the spine", ui.unit()))
    ui.apply(numbered("Move pin", index), move_pin(design, index, {edited.at_mm.x, *y}));
  end_fields();
  heading("Hole in the scales");
  tooltip(
      "Name the listed drill (1/8, #30, 3.1 mm); give the diameter too when you have measured what it "
      "makes.");
  hole_size(ui, "scale hole", "scale", edited.scale_hole, changed);
  heading("Hole in the liners");
  hole_size(ui, "liner hole", "liner", edited.liner_hole, changed);
  heading("Hole in the tang");
  std::vector<std::string> choices{"drilled with the scales"};
  std::size_t chosen = 0;
  for (std::size_t i = 0; i < design.tang.holes.size(); ++i) {
    if (existing_tang_hole(design, edited) == &design.tang.holes[i]) chosen = choices.size();
    choices.push_back("there already: " + tang_hole_words(design, i));
  }
  begin_fields("through");
  const std::optional<std::size_t> through =
      choice_field("Goes through", "a hole of its own, or one that the tang has already", chosen, choices);
  end_fields();
  if (through)
    ui.apply(numbered("Tang hole of pin", index),
             *through == 0 ? drill_tang_hole(design, index)
                           : use_tang_hole(design, index, design.tang.holes[*through - 1].id));
  if (chosen == 0) hole_size(ui, "tang hole", "tang", edited.tang_hole, changed);
  ImGui::Unindent();
  if (changed.empty()) return;
  Design next = design;
  next.pins[index] = edited;
  ui.apply(numbered("Pin", index) + ": " + changed, next);
}

}  // namespace

void tang_panel(const Ui& ui) {
  Design design = ui.design();
  heading("Steel");
  if (const std::string changed = struct_fields(ui.design(), "tang", design.tang); !changed.empty())
    ui.apply("Tang: " + changed, design);
  corners(ui);
  heading("Holes it has already");
  tang_holes(ui);
  if (!design.tang.cutouts.empty()) heading("Cutouts");
  for (std::size_t i = 0; i < design.tang.cutouts.size(); ++i) {
    ImGui::PushID(static_cast<int>(i));
    ImGui::Text("Cutout %zu, %zu corners", i + 1, design.tang.cutouts[i].size());
    ImGui::SameLine();
    if (small_button("remove", "The tang is whole there."))
      ui.apply("Remove cutout", remove_cutout(ui.design(), i));
    ImGui::PopID();
  }
  heading("Project");
  Design named = ui.design();
  begin_fields("project");
  FieldPainter painter(ui.design(), ui.unit());
  painter.text("name", schema::Need::defaulted, named.name, "of the project");
  painter.text("note", schema::Need::defaulted, named.note, "anything worth keeping with it");
  painter.choice("units", schema::kUnitNames, named.shown_unit,
                 "how lengths are shown here; the file holds millimetres");
  end_fields();
  if (painter.changed()) ui.apply("Project: " + painter.what(), named);
}

namespace {

void name_field(const Ui& ui, std::size_t index) {
  begin_fields("name");
  const auto name = text_field("Name", "what findings call it", ui.design().pins[index].name);
  end_fields();
  if (!name) return;
  Design next = ui.design();
  next.pins[index].name = *name;
  ui.apply("Rename pin", next);
}

/// Opens the pin that was chosen in a view just now, and no other.
void open_chosen(const std::string& id, bool chosen) {
  static std::string opened;
  if (!chosen) {
    if (opened == id) opened.clear();
    return;
  }
  if (opened == id) return;
  opened = id;
  ImGui::SetNextItemOpen(true);
  ImGui::SetScrollHereY(0);
}

}  // namespace

void pins_panel(const Ui& ui) {
  const Design& design = ui.design();
  for (std::size_t i = 0; i < design.pins.size(); ++i) {
    const Pin& value = design.pins[i];
    ImGui::PushID(value.id.c_str());
    const bool chosen = ui.selected(draggable::pin, i);
    const std::string title =
        pin_name(design, i) + "  (" + small_length(value.stock.diameter_mm(), ui.unit()) + ")";
    open_chosen(value.id, chosen);
    if (fold_out("pin", title, "Its stock, place and holes. Drag it in the fold view, or type here.", false,
                 chosen)) {
      name_field(ui, i);
      pin(ui, i);
      if (button("Remove this pin", "Takes the pin and its holes away; undo brings them back.")) {
        ui.apply("Remove pin", remove_pin(ui.design(), i));
        ImGui::TreePop();
        ImGui::PopID();
        return;
      }
      ImGui::TreePop();
    }
    ImGui::PopID();
  }
  const Answers* answers = ui.answers();
  if (answers && answers->laid_out() &&
      button("Add a pin",
             "Like its nearest neighbour, where there is most room for it; then drag it to its place."))
    ui.make("Add a pin", add_pin(design, *answers->handle), draggable::pin, Which::left, design.pins.size());
}

}  // namespace haftwright::app
