// Shop rules, with the shop that they belong to, and epoxy.
#include <imgui.h>

#include "panels.hpp"
#include "struct_fields.hpp"
#include "theme.hpp"

namespace haftwright::app {
namespace {

void row(const char* what, const std::string& value, bool bold = false) {
  ImGui::TableNextRow();
  ImGui::TableNextColumn();
  if (bold) ImGui::PushFont(bold_font());
  wrapped(what);
  ImGui::TableNextColumn();
  const float width = ImGui::CalcTextSize(value.c_str()).x;
  ImGui::SetCursorPosX(ImGui::GetCursorPosX() + std::max(0.0F, ImGui::GetContentRegionAvail().x - width));
  ImGui::TextUnformatted(value.c_str());
  if (bold) ImGui::PopFont();
}

std::string ml(double value) {
  return format_number(value, 2) + " ml";
}

void epoxy_lines(const EpoxyEstimate& epoxy) {
  if (!ImGui::BeginTable("bonds", 2, ImGuiTableFlags_RowBg)) return;
  ImGui::TableSetupColumn("what", ImGuiTableColumnFlags_WidthStretch, 0.7F);
  ImGui::TableSetupColumn("ml", ImGuiTableColumnFlags_WidthStretch, 0.3F);
  for (const EpoxyEstimate::Line& line : epoxy.lines) row(line.name.c_str(), ml(line.volume_ml));
  row("squeeze-out", ml(epoxy.squeeze_out_ml));
  row("left in the cup", ml(epoxy.cup_loss_ml));
  row("needed", ml(epoxy.total_ml), true);
  ImGui::EndTable();
}

std::string rule_text(const RuleRow& rule, double value, LengthUnit unit) {
  if (rule.unit == "mm") return small_length(value, unit);
  return format_number(value, 3) + " " + std::string(rule.unit);
}

}  // namespace

void rules_panel(const Ui& ui) {
  shop_part(ui);
  heading("Rules");
  wrapped("Every limit that the checks use. Change one to suit your shop; it is saved with the project.",
          true);
  begin_fields("rules");
  for (const RuleRow& rule : rule_rows()) {
    const double value = ui.design().rules.*rule.member;
    const schema::Quantity quantity{rule.unit, rule.least, rule.most};
    const std::string tip = std::string(rule.what) + "\nBasis: " + std::string(rule.basis);
    if (const auto typed = quantity_field(rule.key, quantity, value, tip, ui.unit()))
      ui.apply("Rule: " + label_of(rule.key), set_rule(ui.design(), rule.member, *typed));
    if (value != ShopRules{}.*rule.member) {
      ImGui::PushID(rule.key.data());
      const std::string back = "The default is " + rule_text(rule, ShopRules{}.*rule.member, ui.unit());
      if (small_button("back to the default", back.c_str()))
        ui.apply("Rule: " + label_of(rule.key), set_rule(ui.design(), rule.member, ShopRules{}.*rule.member));
      ImGui::PopID();
    }
  }
  end_fields();
}

void epoxy_panel(const Ui& ui) {
  const Answers* answers = ui.answers();
  if (answers && answers->laid_out()) {
    const EpoxyEstimate& epoxy = answers->epoxy;
    const int decimals = decimals_of_step(ui.design().adhesive.scale_step_g);
    ImGui::PushFont(title_font());
    ImGui::Text("%s g resin", format_number(epoxy.resin_g, decimals).c_str());
    ImGui::Text("%s g hardener", format_number(epoxy.hardener_g, decimals).c_str());
    ImGui::PopFont();
    std::string note = "By weight 100 : " + format_number(epoxy.hardener_per_resin_by_weight * 100, 1) +
                       "; the scale's step moves it by " + format_number(epoxy.ratio_error_share * 100, 1) +
                       " %.";
    if (epoxy.least_batch_rules)
      note += " This is the smallest batch that can be weighed well; the handle needs " +
              format_number(epoxy.total_g, 1) + " g.";
    wrapped(note, true);
    epoxy_lines(epoxy);
  }
  heading("The adhesive");
  shop_note(ui, "adhesive");
  Design design = ui.design();
  if (const std::string changed = struct_fields(ui.design(), "adhesive", design.adhesive); !changed.empty())
    ui.apply("Adhesive: " + changed, design);
  wrapped("The adhesive's own data sheet overrides every figure here. Gloves; keep it off the skin.", true);
}

}  // namespace haftwright::app
