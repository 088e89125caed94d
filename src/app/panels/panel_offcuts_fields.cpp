// What is known of one offcut, sheet or rod, to be changed; an offcut's defects.
#include <imgui.h>

#include <cmath>

#include "drawing_box.hpp"
#include "haftwright/offcuts/bin_schema.hpp"
#include "panel_offcuts.hpp"
#include "places.hpp"
#include "struct_fields.hpp"

namespace haftwright::app {
namespace {

constexpr float kDrawingHeight = 170;  // pixels at scale 1

/// The fields of the bin's things, painted from the one list of them, with what a project's fields lack.
class BinFieldPainter : public FieldPainter {
 public:
  using FieldPainter::FieldPainter;

  void shape(std::string_view key, std::string_view, std::vector<Node>& outline, std::string_view what) {
    const auto size = rectangle_size(outline);
    if (!size) {
      field_label("Outline", std::string(what).c_str());
      wrapped("an odd shape; its corners are changed in the file", true);
      return;
    }
    FlatSize now = *size;
    const FieldRange range = range_of(schema::kBlankSize);
    const auto side = [&](const char* label, double& value) {
      if (const auto typed = length_field(label, std::string(what).c_str(), value, unit(), range)) {
        value = *typed;
        set(key, outline, resized(outline, now));
      }
    };
    side("Length", now.length_mm);
    side("Width", now.width_mm);
  }
  void whole(std::string_view key, const schema::Whole& range, schema::Need, int& value,
             std::string_view what) {
    const FieldRange field{static_cast<double>(range.least), static_cast<double>(range.most), 1};
    if (const auto typed = number_field(label_of(key).c_str(), std::string(what).c_str(), value, 0, field))
      set(key, value, static_cast<int>(*typed));
  }
  template <class Names>
  void flags(std::string_view key, const Names&, unsigned& value, std::string_view what) {
    const std::vector<std::string> choices = {"none", "upper", "lower", "both"};
    if (const auto chosen = choice_field("Faces to show", std::string(what).c_str(), value, choices))
      set(key, value, static_cast<unsigned>(*chosen));
  }
};

/// Materials are offered of the bin's own ones and of the listed ones.
Design stand_in(const Bin& bin) {
  Design design;
  design.own_materials = bin.own_materials;
  return design;
}

/// Paints the fields of a copy and gives its name of what changed, or nothing.
template <class Stock>
std::string fields_of(const Bin& bin, LengthUnit unit, Stock& stock) {
  const Design design = stand_in(bin);
  begin_fields("fields");
  BinFieldPainter painter(design, unit);
  visit_fields(painter, stock);
  end_fields();
  return painter.changed() ? painter.what() : std::string();
}

void reservations(const Ui& ui, const std::vector<Reservation>& reserved) {
  BinDesk& desk = ui.session.bin();
  for (const Reservation& one : reserved) {
    ImGui::PushID(&one);
    wrapped("Reserved for " + one.project + (one.piece.empty() ? "" : ": " + one.piece));
    const std::string project = one.project;  // the list goes with the edit
    const bool let_go =
        small_button("Let go", "Everything that this project has reserved becomes free again.");
    ImGui::PopID();
    if (let_go) {
      desk.apply("let go of what " + project + " has reserved", release(desk.bin(), project));
      return;
    }
  }
}

void removing(const Ui& ui, OffcutsPane& pane, const std::string& id, const std::string& name) {
  BinDesk& desk = ui.session.bin();
  if (button("Remove from the bin", "It is used up or thrown away. Undo in the bin brings it back.", true,
             -1) &&
      desk.apply("remove " + name, remove(desk.bin(), id)))
    pane.chosen.clear();
}

/// Nobody points finer than this at a drawing.
Vec2 to_tenths(Vec2 at) {
  return {std::round(at.x * 10) / 10, std::round(at.y * 10) / 10};
}

void new_defect(const Ui& ui, DefectForm& form, const std::string& id) {
  BinDesk& desk = ui.session.bin();
  begin_fields("new defect");
  std::vector<std::string> kinds;
  std::size_t at = 0;
  for (const auto& named : schema::kDefectNames) {
    if (named.value == form.kind) at = kinds.size();
    kinds.push_back(label_of(named.name));
  }
  if (const auto chosen = choice_field("Kind", "What is to be avoided.", at, kinds))
    form.kind = schema::kDefectNames[*chosen].value;
  const FieldRange place = range_of(schema::kCoordinate);
  const auto typed = [&](const char* label, const char* tip, double& value, const FieldRange& range) {
    if (const auto length = length_field(label, tip, value, ui.unit(), range)) value = *length;
  };
  typed("Middle along",
        "Along the offcut; of a rectangle from its lower left corner. A click on the drawing fills it in.",
        form.at_mm.x, place);
  typed("Middle across", "Across the offcut, counted in the same way.", form.at_mm.y, place);
  typed("Diameter", "Of a circle that holds all of it.", form.diameter_mm, {0.1, 500, 0.5});
  end_fields();
  if (button("Add the defect", "No piece will be laid over it.", true, -1))
    desk.apply("add a defect",
               add_defect(desk.bin(), id, round_defect(form.kind, form.at_mm, form.diameter_mm)));
}

void defects(const Ui& ui, DefectForm& form, const Offcut& offcut) {
  BinDesk& desk = ui.session.bin();
  const std::string title =
      offcut.defects.empty() ? "Defects: none" : "Defects: " + std::to_string(offcut.defects.size());
  if (!fold_out("defects", title, "Places that no piece may have in it.", !offcut.defects.empty())) return;
  for (std::size_t i = 0; i < offcut.defects.size(); ++i) {
    ImGui::PushID(static_cast<int>(i));
    wrapped(defect_words(offcut.defects[i], ui.unit()));
    places::item("defect", std::to_string(i + 1));
    const bool gone = small_button("Remove the defect", "The wood there may be used.");
    ImGui::PopID();
    if (gone) {
      desk.apply("remove a defect", remove_defect(desk.bin(), offcut.id, i));
      break;
    }
  }
  new_defect(ui, form, offcut.id);
  ImGui::TreePop();
}

}  // namespace

void offcut_fields(const Ui& ui, OffcutsPane& pane, const Offcut& offcut) {
  // What is shown stays alive while an edit makes another bin.
  const std::shared_ptr<const Bin> bin = ui.session.bin().snapshot();
  ImGui::PushID(offcut.id.c_str());
  ShownDrawing& drawing = pane.large.try_emplace(offcut.id, offcut_drawing(*bin, offcut, true)).first->second;
  const DrawingHover hover = drawing_box(drawing, "offcut part",
                                         "Its upper face; the thin lines in the middle run with the fibre. "
                                         "Click where a defect is, then add it below.",
                                         scaled(kDrawingHeight));
  if (hover.pressed && !hover.tag) pane.defect.at_mm = to_tenths(*hover.pressed);
  if (hover.tag) ImGui::SetTooltip("%s", defect_words(offcut.defects[*hover.tag], ui.unit()).c_str());
  Offcut changed = offcut;
  if (const std::string what = fields_of(*bin, ui.unit(), changed); !what.empty())
    ui.session.bin().apply("change " + what + " of " + shown_name(offcut.name, offcut.id),
                           change_offcut(*bin, offcut.id, [&](Offcut& mine) { mine = changed; }));
  defects(ui, pane.defect, offcut);
  reservations(ui, offcut.reserved);
  removing(ui, pane, offcut.id, shown_name(offcut.name, offcut.id));
  ImGui::Separator();
  ImGui::PopID();
}

void sheet_fields(const Ui& ui, OffcutsPane& pane, const SheetStock& sheet) {
  const std::shared_ptr<const Bin> bin = ui.session.bin().snapshot();
  ImGui::PushID(sheet.id.c_str());
  SheetStock changed = sheet;
  if (const std::string what = fields_of(*bin, ui.unit(), changed); !what.empty())
    ui.session.bin().apply("change " + what + " of " + shown_name(sheet.name, sheet.id),
                           change_sheet(*bin, sheet.id, [&](SheetStock& mine) { mine = changed; }));
  reservations(ui, sheet.reserved);
  removing(ui, pane, sheet.id, shown_name(sheet.name, sheet.id));
  ImGui::Separator();
  ImGui::PopID();
}

void rod_fields(const Ui& ui, OffcutsPane& pane, const RodStock& rod) {
  const std::shared_ptr<const Bin> bin = ui.session.bin().snapshot();
  ImGui::PushID(rod.id.c_str());
  RodStock changed = rod;
  if (const std::string what = fields_of(*bin, ui.unit(), changed); !what.empty())
    ui.session.bin().apply("change " + what + " of " + shown_name(rod.name, rod.id),
                           change_rod(*bin, rod.id, [&](RodStock& mine) { mine = changed; }));
  reservations(ui, rod.reserved);
  removing(ui, pane, rod.id, shown_name(rod.name, rod.id));
  ImGui::Separator();
  ImGui::PopID();
}

}  // namespace haftwright::app
