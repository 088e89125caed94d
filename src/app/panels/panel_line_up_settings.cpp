// How this maker drills: what the eye lines up, what both sides share, and how large each error is.
#include <imgui.h>

#include <algorithm>

#include "panel_line_up.hpp"
#include "panels.hpp"
#include "struct_fields.hpp"

namespace haftwright::app {
namespace {

/// All but the errors, which stand below with their basis and a way back.
struct PlainFields : FieldPainter {
  using FieldPainter::FieldPainter;
  template <class Section>
  void section(std::string_view, schema::Need, Section&, std::string_view) {}
};

void set_error(const Ui& ui, const ErrorRow& row, double value) {
  Design next = ui.design();
  next.drilling.errors.*row.member = value;
  ui.apply("Drilling: " + label_of(row.key), next);
}

std::string size_text(const ErrorRow& row, double value, LengthUnit unit) {
  return row.unit == "mm" ? small_length(value, unit) : format_number(value, 2) + "°";
}

void error_field(const Ui& ui, const ErrorRow& row) {
  const double value = ui.design().drilling.errors.*row.member;
  const double usual = ShopErrors{}.*row.member;
  const std::string tip = std::string(row.what) +
                          "\nPlus or minus this in about 95 of 100 cases.\nBasis: " + std::string(row.basis);
  if (const auto typed = quantity_field(row.key, {row.unit, 0, row.most}, value, tip, ui.unit()))
    set_error(ui, row, *typed);
  if (value == usual) return;
  ImGui::PushID(row.key.data());
  if (small_button("back to the default", ("The default is " + size_text(row, usual, ui.unit())).c_str()))
    set_error(ui, row, usual);
  ImGui::PopID();
}

bool counts(const WayReport& way, const ErrorRow& row) {
  return std::ranges::find(way.line_up.stack.contributors, row.key, &Contributor::key) !=
         way.line_up.stack.contributors.end();
}

}  // namespace

void line_up_settings(const Ui& ui, const WayReport* way) {
  shop_note(ui, "drilling");
  Design design = ui.design();
  begin_fields("drilling");
  PlainFields painter(ui.design(), ui.unit());
  visit_fields(painter, design.drilling);
  end_fields();
  if (painter.changed()) ui.apply("Drilling: " + painter.what(), design);
  heading("How far things are off");
  wrapped("Plus or minus this in 95 of 100 cases. Put your own in once you have measured them.", true);
  begin_fields("errors");
  const bool known = way && way->problem.empty();
  for (const ErrorRow& row : error_rows())
    if (!known || counts(*way, row)) error_field(ui, row);
  end_fields();
  if (!known ||
      !fold_out("other errors", "Other errors", "These count with other ways of drilling only.", false))
    return;
  begin_fields("other errors");
  for (const ErrorRow& row : error_rows())
    if (!counts(*way, row)) error_field(ui, row);
  end_fields();
  ImGui::TreePop();
}

}  // namespace haftwright::app
