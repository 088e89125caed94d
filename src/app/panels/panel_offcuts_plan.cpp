// The plan: how far it is, the best few to choose from, the chosen one's boards, and what to do with it.
#include <imgui.h>

#include <algorithm>

#include "haftwright/cutting/cutting_list.hpp"
#include "panel_offcuts.hpp"
#include "places.hpp"
#include "theme.hpp"

namespace haftwright::app {
namespace {

/// How far it is, always one line high, so that nothing below it moves; `old`: what is shown belongs to an
/// older design or bin.
void progress(const Ui& ui, bool old) {
  CuttingWatch& watch = ui.session.cutting();
  const bool busy = watch.busy();
  std::string words = old ? "older plan below" : "up to date";
  if (busy)
    words = (old ? "older plan below, " : "planning, ") + format_number(100 * watch.share(), 0) + " %";
  else if (watch.stopped())
    words = "planning was stopped";
  if (watch.stopped()) {
    if (button("Plan again", "Looks for plans once more.")) watch.again();
  } else if (button("Stop planning", busy ? "Leaves what is shown as it is." : "Nothing is being planned.",
                    busy)) {
    watch.stop();
  }
  ImGui::SameLine();
  ImGui::AlignTextToFramePadding();
  ImGui::TextUnformatted(words.c_str());
  places::item("planning", "planning", busy ? "busy" : watch.stopped() ? "stopped" : "done");
}

void wishes(const Ui& ui) {
  CuttingWishes& wishes = ui.session.cutting_wishes();
  check_box("Books show their outer faces",
            "Where one thick offcut is sawn through its thickness, its two old faces show on the handle "
            "instead of the sawn ones; then both must be good.",
            wishes.book_shows_outside);
  check_box(
      "Typed blanks too",
      "Plans also the pieces whose blank has its length and width in the project; else these count as at "
      "hand already.",
      wishes.blanks_too);
  plan_preferences(ui);
}

std::string state_words(const CuttingAnswer& answer) {
  const CuttingPlan& best = answer.plans.plans.front();
  std::string words;
  if (!best.complete())
    words = "Not everything has a place in the bin.";
  else if (best.offcuts.empty() && best.sheets.empty() && best.rods.empty())
    words = "Nothing is to be sawn: the project types the length and width of every blank.";
  else
    words = "Everything has a place.";
  if (answer.plans.out_of_time) return words + " The search was cut short; there may be better plans.";
  return words +
         (best.proven_best ? " No better plan of its kind exists." : " It is the best that was found.");
}

void at_hand(const CuttingAnswer& answer) {
  const auto count = std::ranges::count_if(answer.plans.needs.pieces, &PieceNeed::at_hand);
  if (answer.asked.wishes.blanks_too || count == 0) return;
  wrapped(std::to_string(count) + (count == 1 ? " piece counts" : " pieces count") +
              " as at hand, since the project gives the length and width of the blank.",
          true);
}

void without(const std::string& words) {
  status_mark(Status::fail);
  ImGui::SameLine();
  wrapped(words);
}

/// How a board's pieces lie to their mates; empty where there is nothing to say of it.
const char* pairing_phrase(Pairing pairing) {
  switch (pairing) {
    case Pairing::book:
      return "sawn through its thickness and opened like a book";
    case Pairing::slices:
      return "out of two neighbouring slices";
    case Pairing::one_offcut:
      return "left and right beside each other on it";
    case Pairing::apart:
      return "apart from their mates";
    case Pairing::single:
      break;
  }
  return "";
}

/// "left front piece, right front piece, opened like a book; left middle piece".
std::string board_words(const Needs& needs, const BoardUse& use) {
  std::string words;
  for (std::size_t i = 0; i < use.blanks.size(); ++i) {
    const Pairing pairing = use.blanks[i].pairing;
    words += (i ? ", " : "") + needs.pieces[use.blanks[i].need].name;
    const bool last = i + 1 == use.blanks.size() || use.blanks[i + 1].pairing != pairing;
    if (const std::string phrase = pairing_phrase(pairing); last && !phrase.empty()) words += ", " + phrase;
  }
  return words;
}

/// "From sheets and rods: fibre, brass, rod".
std::string sheets_words(const Bin& bin, const CuttingPlan& plan) {
  std::string words;
  const auto name = [&](const std::string& one) {
    words += (words.empty() ? "From sheets and rods: " : ", ") + one;
  };
  for (const BoardUse& use : plan.sheets)
    name(shown_name(bin.sheets[use.index].name, bin.sheets[use.index].id));
  for (const RodUse& use : plan.rods) name(shown_name(bin.rods[use.index].name, bin.rods[use.index].id));
  return words;
}

void plan_words(const CuttingAnswer& answer, std::size_t index) {
  const CuttingPlan& plan = answer.plans.plans[index];
  const Needs& needs = answer.plans.needs;
  const Bin& bin = *answer.asked.bin;
  ImGui::PushFont(bold_font());
  wrapped("Plan " + std::to_string(index + 1) +
          (index > 0          ? ""
           : plan.proven_best ? ", proven best"
                              : ", best found"));
  ImGui::PopFont();
  for (const BoardUse& use : plan.offcuts)
    wrapped(shown_name(bin.offcuts[use.index].name, bin.offcuts[use.index].id) + ": " +
            board_words(needs, use));
  if (plan.offcuts.empty() && plan.pieces_without.empty()) wrapped("No offcut is sawn.");
  if (const std::string words = sheets_words(bin, plan); !words.empty()) wrapped(words);
  for (const std::size_t i : plan.pieces_without) without("no place: " + needs.pieces[i].name);
  for (const std::size_t i : plan.sheets_without) without("no sheet: " + needs.sheets[i].name);
  for (const std::size_t i : plan.pins_without)
    without("no rod: pin " + std::to_string(needs.pins[i].pin + 1));
  if (index + 1 == answer.plans.plans.size()) return;
  const std::string why = reason_words(plan.against_next);
  wrapped(
      why.empty() ? "As good as the next by everything that is compared." : "Before the next: " + why + ".",
      true);
}

void plan_cards(const Ui& ui, const CuttingAnswer& answer) {
  for (std::size_t i = 0; i < answer.plans.plans.size(); ++i)
    if (card("plan", "Plan " + std::to_string(i + 1), ui.session.chosen_plan() == i,
             "Click to see its boards below.", [&] { plan_words(answer, i); }))
      ui.session.choose_plan(i);
}

void sawn(const Ui& ui, OffcutsPane& pane, const CuttingAnswer& answer, std::size_t plan) {
  if (!pane.asks_cut) {
    if (button("It is cut ...", "Takes the offcuts out of the bin and puts back what is left of them."))
      pane.asks_cut = true;
    return;
  }
  wrapped(
      "Are all these offcuts sawn? They go out of the bin, and what is left and large enough comes back. "
      "Undo "
      "in the bin takes that back.");
  if (!answer.plans.plans[plan].pieces_without.empty())
    wrapped("Some pieces have no place in this plan: say yes only if the rest has been sawn without them.");
  if (button("Yes, it is cut", "The bin takes it over.")) {
    ui.session.cut(answer, plan);
    pane.asks_cut = false;
  }
  flow("Not yet");
  if (button("Not yet", "The bin stays as it is.")) pane.asks_cut = false;
}

void deeds(const Ui& ui, OffcutsPane& pane, const CuttingAnswer& answer, std::size_t index,
           const OffcutsAsk& ask) {
  BinDesk& desk = ui.session.bin();
  const CuttingPlan& plan = answer.plans.plans[index];
  if (plan.offcuts.empty() && plan.sheets.empty() && plan.rods.empty()) return;
  if (button("Save drawing ...", "Writes the boards below at true size (SVG), to print or to take along."))
    ask.drawing();
  const std::string project = ui.session.name_in_bin();
  const std::size_t reserved = project.empty() ? 0 : reserved_by(desk.bin(), project);
  flow("Reserve");
  if (button("Reserve", "Notes in the bin what this plan takes, so that no other project plans with it."))
    ui.session.reserve(answer, index);
  if (reserved > 0) {
    flow("Let go");
    if (button("Let go", "Everything that this project has reserved becomes free again."))
      desk.apply("let go of what " + project + " has reserved", release(desk.bin(), project));
  }
  if (!pane.asks_cut) flow("It is cut ...");
  sawn(ui, pane, answer, index);
  if (desk.can_undo()) {
    if (button("Undo in the bin", ("Takes back the bin's last step: " + desk.undo_label()).c_str()))
      desk.undo();
    wrapped("The bin's last step: " + desk.undo_label(), true);
  }
}

void order_of_work(const Ui& ui, const CuttingAnswer& answer, std::size_t plan) {
  if (!fold_out("work", "Order of work", "What to do at the bench, step by step, with its settings.", false))
    return;
  const std::vector<WorkStep> steps = cutting_steps(answer.plans.needs, answer.plans.plans[plan],
                                                    *answer.asked.bin, answer.asked.design->rules, ui.unit());
  std::size_t number = 0;
  for (const WorkStep& step : steps) {
    wrapped((step.caution ? "Caution: " : std::to_string(++number) + ". ") + step.words);
    places::item("work step", step.caution ? "caution" : std::to_string(number), step.words);
  }
  if (button("Copy the order of work", "Puts it as text on the clipboard.", true, -1))
    ImGui::SetClipboardText(order_of_work_text(steps).c_str());
  ImGui::TreePop();
}

}  // namespace

void plan_part(const Ui& ui, OffcutsPane& pane, const OffcutsAsk& ask) {
  wishes(ui);
  ui.session.want_cutting();
  const std::shared_ptr<const CuttingAnswer> answer = ui.session.cutting().answer();
  progress(ui, answer && answer->asked != ui.session.cutting().question());
  if (!answer) return;
  if (!answer->problem.empty()) {
    wrapped("No plan: " + answer->problem);
    return;
  }
  if (answer->plans.plans.empty()) return;
  const std::string state = state_words(*answer);
  status_mark(answer->plans.plans.front().complete() ? Status::pass : Status::fail);
  ImGui::SameLine();
  wrapped(state);
  places::item("plan state", "plan", state);
  at_hand(*answer);
  plan_cards(ui, *answer);
  const std::size_t chosen = std::min(ui.session.chosen_plan(), answer->plans.plans.size() - 1);
  hand_summary(ui, *answer, chosen);
  plan_reasons(ui, *answer);
  deeds(ui, pane, *answer, chosen, ask);
  order_of_work(ui, *answer, chosen);
  plan_boards(ui, pane, answer);
}

}  // namespace haftwright::app
