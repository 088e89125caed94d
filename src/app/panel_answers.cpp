// Shop rules, epoxy and findings.
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
  ImGui::TextWrapped("%s", what);
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

void finding_row(const Ui& ui, const Finding& finding) {
  const std::string key = finding.id + finding.where;
  const bool chosen = ui.pointer.finding == key;
  ImGui::PushID(key.c_str());
  const ImVec2 at = ImGui::GetCursorPos();
  const float width = ImGui::GetContentRegionAvail().x;
  // The row's height is known only after its text; its ground is painted under it all the same.
  ImDrawList& draw = *ImGui::GetWindowDrawList();
  draw.ChannelsSplit(2);
  draw.ChannelsSetCurrent(1);
  ImGui::BeginGroup();
  status_mark(finding.status);
  ImGui::SameLine();
  ImGui::BeginGroup();
  wrapped(finding.where);
  const char* sense = finding.sense == Sense::at_least ? "at least " : "at most ";
  wrapped(amount(finding, finding.value, ui.unit()) + ", wanted " + sense +
              amount(finding, finding.limit, ui.unit()),
          true);
  if (chosen) {
    wrapped(finding.why);
    wrapped("Basis: " + finding.basis, true);
  }
  ImGui::EndGroup();
  ImGui::EndGroup();
  const float height = ImGui::GetItemRectSize().y;
  ImGui::SetCursorPos(at);
  draw.ChannelsSetCurrent(0);
  ImGui::PushStyleColor(ImGuiCol_Header,
                        chosen ? ImGui::GetStyle().Colors[ImGuiCol_Header] : ImVec4(0, 0, 0, 0));
  if (ImGui::Selectable("##row", chosen, ImGuiSelectableFlags_None, {width, height})) {
    ui.pointer = chosen ? Pointer{} : Pointer{key, finding.place, true};
    if (finding.pin) ui.selection = {Selection::Kind::pin, Which::left, *finding.pin};
  }
  ImGui::PopStyleColor();
  draw.ChannelsMerge();
  ImGui::Separator();
  ImGui::PopID();
}

void finding_list(const Ui& ui, const std::vector<Finding>& findings) {
  std::size_t counts[3] = {0, 0, 0};
  for (const Finding& finding : findings) ++counts[static_cast<std::size_t>(finding.status)];
  const Status order[] = {Status::fail, Status::near, Status::pass};
  const char* titles[] = {"fail", "near the limit", "good"};
  for (std::size_t i = 0; i < 3; ++i) {
    if (i) ImGui::SameLine(0, ImGui::GetFontSize());
    status_mark(order[i]);
    ImGui::SameLine(0, ImGui::GetStyle().ItemInnerSpacing.x);
    ImGui::Text("%zu %s", counts[static_cast<std::size_t>(order[i])], titles[i]);
  }
  ImGui::Separator();
  for (const Finding& finding : findings) finding_row(ui, finding);
}

}  // namespace

void rules_panel(const Ui& ui) {
  wrapped("Every limit that the checks use. Change one to suit your shop; it is saved with the project.",
          true);
  if (!begin_fields("rules")) return;
  for (const RuleRow& rule : rule_rows()) {
    const double value = ui.design().rules.*rule.member;
    const schema::Quantity quantity{rule.unit, rule.least, rule.most};
    const std::string tip = std::string(rule.what) + "\nBasis: " + std::string(rule.basis);
    if (const auto typed = quantity_field(rule.key, quantity, value, tip, ui.unit()))
      ui.apply("Rule: " + label_of(rule.key), set_rule(ui.design(), rule.member, *typed));
    if (value != ShopRules{}.*rule.member) {
      ImGui::PushID(rule.key.data());
      if (ImGui::SmallButton("back to the default"))
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
    const int decimals = ui.design().adhesive.scale_step_g < 0.1 ? 2 : 1;
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
  Design design = ui.design();
  if (const std::string changed = struct_fields(ui, "adhesive", design.adhesive); !changed.empty())
    ui.apply("Adhesive: " + changed, design);
  wrapped("The adhesive's own data sheet overrides every figure here. Gloves; keep it off the skin.", true);
}

void findings_panel(const Ui& ui) {
  const Answers* answers = ui.answers();
  if (!ui.document.problems().empty()) {
    status_mark(Status::fail);
    ImGui::SameLine();
    wrapped("This can't be done:");
    for (const Problem& problem : ui.document.problems())
      wrapped(problem.field.empty() ? problem.what : problem.field + ": " + problem.what);
    ImGui::Separator();
  }
  if (!answers || !answers->laid_out()) return;
  if (ImGui::BeginTabBar("which findings")) {
    if (ImGui::BeginTabItem("Handle")) {
      ImGui::BeginChild("handle findings");
      finding_list(ui, answers->findings);
      ImGui::EndChild();
      ImGui::EndTabItem();
    }
    if (ImGui::BeginTabItem("Drill guide")) {
      ImGui::BeginChild("guide findings");
      if (const Answers* settled = ui.document.settled_answers()) {
        if (settled->guide().plan) finding_list(ui, settled->guide().plan->findings);
        for (const Problem& problem : settled->guide().problems) wrapped(problem.what);
      }
      ImGui::EndChild();
      ImGui::EndTabItem();
    }
    if (ImGui::BeginTabItem("Take care")) {
      ImGui::BeginChild("cautions");
      for (const std::string& caution : answers->cautions) {
        ImGui::Bullet();
        wrapped(caution);
      }
      ImGui::EndChild();
      ImGui::EndTabItem();
    }
    ImGui::EndTabBar();
  }
}

}  // namespace haftwright::app
