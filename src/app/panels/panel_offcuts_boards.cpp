// The chosen plan's boards below each other, and what is said about pieces without a place.
#include <imgui.h>

#include <algorithm>

#include "drawing_box.hpp"
#include "haftwright/cutting/cutting_list.hpp"
#include "panel_offcuts.hpp"
#include "places.hpp"
#include "theme.hpp"

namespace haftwright::app {
namespace {

constexpr float kSheetHeight = 240;  // pixels at scale 1

std::string capital(std::string text) {
  if (!text.empty() && text[0] >= 'a' && text[0] <= 'z') text[0] = static_cast<char>(text[0] - 'a' + 'A');
  return text;
}

void draw_boards(OffcutsPane& pane, const std::shared_ptr<const CuttingAnswer>& answer, std::size_t index,
                 LengthUnit unit) {
  if (pane.planned == answer && pane.planned_index == index) return;
  pane.planned = answer;
  pane.planned_index = index;
  pane.asks_cut = false;
  pane.hand.drag.reset();
  pane.hand.put_down.reset();
  pane.hand.listed.reset();
  pane.boards.clear();
  const CuttingPlan& plan = answer->plans.plans[index];
  const auto draw = [&](const BoardUse& use, bool of_sheet) {
    Drawing board = board_drawing(answer->plans.needs, use, *answer->asked.bin, of_sheet, unit, false);
    // Strips are narrower than their names: these stand below the drawing.
    if (of_sheet)
      std::erase_if(board.items,
                    [](const Item& item) { return item.tag && std::holds_alternative<Text>(item.shape); });
    pane.boards.emplace_back(std::move(board));
  };
  for (const BoardUse& use : plan.offcuts) draw(use, false);
  for (const BoardUse& use : plan.sheets) draw(use, true);
}

void wood(const Ui& ui, OffcutsPane& pane, const std::shared_ptr<const CuttingAnswer>& answer,
          std::size_t plan, std::size_t index) {
  const Needs& needs = answer->plans.needs;
  const BoardUse& use = answer->plans.plans[plan].offcuts[index];
  wrapped(capital(board_title(use, *answer->asked.bin, false, ui.unit())));
  const DrawingHover hover = hand_board(ui, pane, answer, plan, index);
  hand_fields(ui, pane, answer, plan, index);
  if (!hover.tag || pane.hand.drag) return;
  const PlacedBlank& blank = use.blanks[*hover.tag];
  std::string words = blank_words(needs.pieces[blank.need], ui.unit());
  if (const std::string pair = pairing_words(needs, use, blank); !pair.empty()) words += "\n" + pair;
  if (blank.by_hand) words += "\nput there by hand";
  ImGui::SetTooltip("%s", words.c_str());
}

void sheet(const Ui& ui, ShownDrawing& drawing, const CuttingAnswer& answer, const BoardUse& use) {
  const Needs& needs = answer.plans.needs;
  wrapped(capital(board_title(use, *answer.asked.bin, true, ui.unit())));
  const DrawingHover hover = drawing_box(
      drawing, "sheet blank", "Blanks in colour, saw cuts numbered in their order.", scaled(kSheetHeight));
  std::string names;
  for (const PlacedBlank& blank : use.blanks)
    names += (names.empty() ? "" : ", ") + needs.sheets[blank.need].name;
  wrapped(names, true);
  if (hover.tag) ImGui::SetTooltip("%s", needs.sheets[use.blanks[*hover.tag].need].name.c_str());
}

void rods(const Ui& ui, const CuttingAnswer& answer, const CuttingPlan& plan) {
  for (const RodUse& use : plan.rods) {
    const RodStock& rod = answer.asked.bin->rods[use.index];
    std::string words = "Rod " + shown_name(rod.name, rod.id) + ":";
    for (std::size_t i = 0; i < use.pins.size(); ++i)
      words += (i ? ", pin " : " pin ") + std::to_string(answer.plans.needs.pins[use.pins[i]].pin + 1);
    wrapped(words + "; " + format_length(use.left_mm, ui.unit()) + " is left.");
  }
}

std::string pieces_words(const Needs& needs, const WhyNot& reason) {
  std::string words;
  for (std::size_t i = 0; i < reason.pieces.size(); ++i)
    words += (i ? " and the " : "the ") + needs.pieces[reason.pieces[i]].name;
  return words;
}

void change_row(const Ui& ui, const CuttingAnswer& answer, const CuttingChange& change) {
  wrapped("It has a place if you " + change.words + ".");
  places::item("change", change.words);
  if (button("Make this change", "One step of the project; undo takes it back.", ui.session.in_force(answer)))
    ui.apply(capital(change.words), change.design);
}

}  // namespace

void plan_reasons(const Ui& ui, const CuttingAnswer& answer) {
  const CuttingPlan& best = answer.plans.plans.front();
  if (best.pieces_without.empty()) return;
  if (!answer.reasons_known) {
    wrapped("Why, and what would help, is being looked for ...", true);
    return;
  }
  const Bin& bin = *answer.asked.bin;
  for (std::size_t i = 0; i < answer.reasons.size(); ++i) {
    const WhyNot& reason = answer.reasons[i];
    ImGui::PushID(static_cast<int>(i));
    ImGui::PushFont(bold_font());
    wrapped("No place for " + pieces_words(answer.plans.needs, reason));
    ImGui::PopFont();
    places::item("no place", pieces_words(answer.plans.needs, reason));
    if (reason.nearest.empty())
      wrapped("The bin has no offcut of its wood that is free.");
    else
      wrapped("Nearest:", true);
    for (const NearOffcut& near : reason.nearest)
      wrapped(shown_name(bin.offcuts[near.offcut].name, bin.offcuts[near.offcut].id) + ": " + near.words);
    if (reason.changes.empty() && !reason.nearest.empty())
      wrapped("No single change to the design that was tried helps.", true);
    for (std::size_t k = 0; k < reason.changes.size(); ++k) {
      ImGui::PushID(static_cast<int>(k));
      change_row(ui, answer, reason.changes[k]);
      ImGui::PopID();
    }
    ImGui::Separator();
    ImGui::PopID();
  }
}

void plan_boards(const Ui& ui, OffcutsPane& pane, const std::shared_ptr<const CuttingAnswer>& answer) {
  const std::size_t chosen = std::min(ui.session.chosen_plan(), answer->plans.plans.size() - 1);
  draw_boards(pane, answer, chosen, ui.unit());
  const CuttingPlan& plan = answer->plans.plans[chosen];
  if (!pane.boards.empty()) heading("Boards");
  for (std::size_t i = 0; i < plan.offcuts.size(); ++i) {
    ImGui::PushID(static_cast<int>(i));
    wood(ui, pane, answer, chosen, i);
    ImGui::PopID();
  }
  hand_let_go(ui, pane);
  for (std::size_t i = 0; i < plan.sheets.size(); ++i)
    sheet(ui, pane.boards[plan.offcuts.size() + i], *answer, plan.sheets[i]);
  rods(ui, *answer, plan);
}

}  // namespace haftwright::app
