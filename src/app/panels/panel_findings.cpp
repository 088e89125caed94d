// Findings, worst first: what was measured against what; a click shows the place and tells why.
#include <imgui.h>

#include <algorithm>

#include "haftwright/cutting/findings.hpp"
#include "panels.hpp"
#include "places.hpp"
#include "theme.hpp"

namespace haftwright::app {
namespace {

/// "Hole to joint line"; empty for findings that no table of checks names, such as the guide's own.
std::string title_of(const Finding& finding) {
  std::string title;
  for (const CheckKind& kind : check_kinds())
    if (finding.id.starts_with(kind.id)) title = kind.title;
  for (const LineUpKind& kind : line_up_kinds())
    if (finding.id == kind.id) title = kind.title;
  for (const CuttingKind& kind : cutting_kinds())
    if (finding.id == kind.id) title = kind.title;
  if (!title.empty()) title[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(title[0])));
  return title;
}

std::string measured(const Ui& ui, const Finding& finding) {
  const char* sense = finding.sense == Sense::at_least ? ", wanted at least " : ", wanted at most ";
  return amount(finding, finding.value, ui.unit()) + sense + amount(finding, finding.limit, ui.unit());
}

void row_text(const Ui& ui, const Finding& finding, bool open) {
  status_mark(finding.status);
  ImGui::SameLine();
  ImGui::BeginGroup();
  if (const std::string title = title_of(finding); !title.empty()) {
    ImGui::PushFont(bold_font());
    wrapped(title);
    ImGui::PopFont();
  }
  wrapped(where_words(ui.design(), finding.where));
  wrapped(measured(ui, finding), true);
  if (open) {
    wrapped(finding.why);
    wrapped("Basis: " + finding.basis, true);
  }
  ImGui::EndGroup();
}

void finding_row(const Ui& ui, const Finding& finding, int row) {
  const bool chosen = ui.pointer.finding == key_of(finding);
  ImGui::PushID(row);
  // What is open says it all itself.
  const std::string tip =
      chosen ? "" : finding.why + "\nBasis: " + finding.basis + "\nClick to see the place.";
  if (card("finding", where_words(ui.design(), finding.where), chosen, tip,
           [&] { row_text(ui, finding, chosen); })) {
    ui.pointer = chosen ? Pointer{} : Pointer{key_of(finding), finding.place, true};
    if (const auto pin = pin_of(finding.where)) ui.select(draggable::pin, Which::left, *pin);
  }
  ImGui::PopID();
}

void counts(const std::vector<Finding>& findings) {
  std::size_t count[3] = {0, 0, 0};
  for (const Finding& finding : findings) ++count[static_cast<std::size_t>(finding.status)];
  const Status order[] = {Status::fail, Status::near, Status::pass};
  const char* titles[] = {"fail", "near", "good"};
  const char* tips[] = {"Past a limit.", "Inside the limit, but close to it.", "Well inside the limit."};
  for (std::size_t i = 0; i < 3; ++i) {
    const std::string text = std::to_string(count[static_cast<std::size_t>(order[i])]) + " " + titles[i];
    if (i) flow((text + "    ").c_str());
    ImGui::BeginGroup();
    status_mark(order[i]);
    ImGui::SameLine(0, ImGui::GetStyle().ItemInnerSpacing.x);
    ImGui::TextUnformatted(text.c_str());
    ImGui::EndGroup();
    tooltip(tips[i]);
  }
}

void problems(const Ui& ui) {
  if (ui.document.problems().empty()) return;
  status_mark(Status::fail);
  ImGui::SameLine();
  wrapped("This can't be done:");
  for (const Problem& problem : ui.document.problems())
    wrapped(problem.field.empty() ? problem.what : problem.field + ": " + problem.what);
  ImGui::Separator();
}

void handle_findings(const Ui& ui) {
  const Session::AllFindings all = ui.session.findings();
  finding_list(ui, all.findings);
  if (all.line_up_pending) wrapped("The line-up is being computed ...", true);
}

void guide_findings(const Ui& ui) {
  const Answers* settled = ui.document.settled_answers();
  if (!settled) return;
  if (settled->guide().plan) finding_list(ui, settled->guide().plan->findings);
  for (const Problem& problem : settled->guide().problems) wrapped(problem.what);
}

void offcut_findings(const Ui& ui) {
  ui.session.want_cutting();
  const auto answer = ui.session.cutting().answer();
  if (answer && !answer->problem.empty()) wrapped("No plan: " + answer->problem);
  if (answer && ui.session.chosen_plan() < answer->findings.size())
    finding_list(ui, answer->findings[ui.session.chosen_plan()]);
  if (ui.session.cutting().busy()) wrapped("The offcuts are being planned ...", true);
}

void cautions(const Answers& answers) {
  for (const std::string& caution : answers.cautions) {
    ImGui::Bullet();
    ImGui::BeginGroup();
    wrapped(caution);
    ImGui::EndGroup();
  }
}

}  // namespace

void finding_list(const Ui& ui, const std::vector<Finding>& findings) {
  counts(findings);
  ImGui::Separator();
  int row = 0;
  for (const Finding& finding : findings) finding_row(ui, finding, row++);
}

void findings_panel(const Ui& ui) {
  problems(ui);
  const Answers* answers = ui.answers();
  if (!answers || !answers->laid_out()) return;
  static int shown = 0;
  constexpr const char* kLists[] = {"Handle", "Drill guide", "Take care", "Offcuts"};
  constexpr const char* kTips[] = {"What the checks have found on the handle, worst first.",
                                   "What the drill guide has found on its own plan.",
                                   "What can hurt you in this piece of work.",
                                   "What is found on the chosen plan over your bin of offcuts."};
  const int lists = ui.session.bin().there() ? 4 : 3;
  shown = std::min(shown, lists - 1);
  for (int i = 0; i < lists; ++i) {
    if (i) flow(kLists[i]);
    if (radio(kLists[i], kTips[i], shown == i)) shown = i;
  }
  ImGui::BeginChild(kLists[shown]);
  if (shown == 0) handle_findings(ui);
  if (shown == 1) guide_findings(ui);
  if (shown == 2) cautions(*answers);
  if (shown == 3) offcut_findings(ui);
  ImGui::EndChild();
}

}  // namespace haftwright::app
