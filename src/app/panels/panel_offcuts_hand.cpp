// Blanks laid by hand: dragged over the boards, turned, typed, fixed and freed.
#include <imgui.h>

#include <algorithm>
#include <cmath>

#include "haftwright/cutting/cutting_list.hpp"
#include "panel_offcuts.hpp"
#include "places.hpp"
#include "theme.hpp"

namespace haftwright::app {
namespace {

constexpr float kBoardHeight = 240;  // pixels at scale 1
constexpr float kClickPixels = 4;    // a press that moves no farther is a click
constexpr float kBoxWidth = 92;      // pixels at scale 1
constexpr double kKeyTurn_deg = 1;
constexpr std::size_t kMostListed = 40;

/// The board without what was taken from it, and without cuts, which are no longer those.
Drawing bare_board(const BlankDrag& drag, LengthUnit unit) {
  const CuttingAnswer& answer = *drag.answer();
  BoardUse use = answer.plans.plans[drag.plan()].offcuts[drag.taken_from()];
  std::erase_if(use.blanks, [&](const PlacedBlank& blank) { return drag.carries(blank.need); });
  use.cuts.cuts.clear();
  return board_drawing(answer.plans.needs, use, *answer.asked.bin, false, unit, false);
}

void show_in_hand(HandWork& hand, const BlankDrag& drag) {
  hand.over = ShownDrawing(in_hand_drawing(drag.answer()->plans.needs, drag.held()));
}

void take(const Ui& ui, OffcutsPane& pane, BlankDrag drag) {
  HandWork& hand = pane.hand;
  hand.chosen = drag.need();
  hand.carried = false;
  hand.put_down.reset();
  hand.bare = ShownDrawing(bare_board(drag, ui.unit()));
  show_in_hand(hand, drag);
  hand.drag = std::move(drag);
}

/// One step of the project, unless what was planned is no longer what is there.
void put_down(const Ui& ui, HandWork& hand, BlankDrag drag) {
  if (!ui.session.in_force(*drag.answer()) || !drag.moved()) return;
  if (ui.document.apply(drag.label(), drag.put_down()) != Outcome::changed) return;
  hand.bare = ShownDrawing(bare_board(drag, ui.unit()));
  show_in_hand(hand, drag);
  hand.put_down = std::move(drag);
}

void carry(HandWork& hand, std::size_t use, const DrawingHover& hover) {
  if (ImGui::IsMouseDragging(ImGuiMouseButton_Left, kClickPixels)) hand.carried = true;
  if (!hand.carried || !hover.pointer) return;
  hand.drag->move(use, *hover.pointer, ImGui::GetIO().KeyShift ? Beside::by_hand : Beside::all);
  if (ImGui::IsKeyPressed('Q')) hand.drag->turn(kKeyTurn_deg);
  if (ImGui::IsKeyPressed('E')) hand.drag->turn(-kKeyTurn_deg);
  show_in_hand(hand, *hand.drag);
  if (!hand.drag->held().why.empty())
    ImGui::SetTooltip(
        "%s",
        ((hand.drag->held().legal ? "the nearest place; " : "no place: ") + hand.drag->held().why).c_str());
}

std::optional<std::size_t> index_on(const BoardUse& use, std::size_t need) {
  const auto found = std::ranges::find(use.blanks, need, &PlacedBlank::need);
  if (found == use.blanks.end()) return {};
  return static_cast<std::size_t>(found - use.blanks.begin());
}

/// The chosen blank, by buttons and fields instead of the mouse.
class HandFields {
 public:
  HandFields(const Ui& ui, OffcutsPane& pane, const std::shared_ptr<const CuttingAnswer>& answer,
             std::size_t plan, std::size_t use, std::size_t blank)
      : ui_(ui), pane_(pane), answer_(answer), plan_(plan), use_(use), blank_(blank) {}

  void draw() {
    const PlacedBlank& blank = board().blanks[blank_];
    const std::string& name = answer_->plans.needs.pieces[blank.need].name;
    wrapped(name + (blank.by_hand ? ": lies where you put it" : ": lies where the plan has it"));
    places::item("hand", name, blank.by_hand ? "by hand" : "planned");
    place_boxes(blank);
    turns();
    fix_or_free(blank);
    other_offcut(blank);
  }

 private:
  const BoardUse& board() const { return answer_->plans.plans[plan_].offcuts[use_]; }
  BlankDrag taken() const { return {answer_, plan_, use_, blank_, board().blanks[blank_].at_mm}; }
  template <class Change>
  void change(Change&& what) {
    BlankDrag drag = taken();
    what(drag);
    if (!drag.moved())
      ui_.apply(drag.label(), Edited::refused("the blank stays where it is: neither its grain nor what lies "
                                              "about it lets it go further that way"));
    else
      put_down(ui_, pane_.hand, std::move(drag));
  }

  void place_boxes(const PlacedBlank& blank) {
    const double turn = std::remainder(blank.turn_deg, 360.0);
    const FieldRange range{-2000, 2000, 1};
    const auto x =
        length_box("along", "Where the blank's middle lies along the offcut; the nearest place is taken.",
                   blank.at_mm.x, ui_.unit(), range, scaled(kBoxWidth));
    flow("across 123.45 mm");
    const auto y = length_box("across", "The same across the offcut.", blank.at_mm.y, ui_.unit(), range,
                              scaled(kBoxWidth));
    flow("turn 123.45 deg");
    const auto turned = angle_box("turn", "Counter-clockwise, as far as the grain lets it.", turn,
                                  {-180, 180, 1}, scaled(kBoxWidth));
    if (x || y || turned)
      change([&](BlankDrag& drag) {
        drag.put_at({x.value_or(blank.at_mm.x), y.value_or(blank.at_mm.y)}, turned.value_or(turn));
      });
  }

  void turns() {
    const struct {
      const char* label;
      double by_deg;
    } rows[] = {
        {"Left 5 deg", 5}, {"Left 1 deg", 1}, {"Right 1 deg", -1}, {"Right 5 deg", -5}, {"End for end", 180}};
    for (const auto& row : rows) {
      if (button(row.label, "Turns the blank as far as the rule on grain allows, to the nearest place."))
        change([&](BlankDrag& drag) { drag.turn(row.by_deg); });
      flow("Other face and more");
    }
    if (button("Other face", "Turns the blank over, so that the offcut's other face shows."))
      change([](BlankDrag& drag) { drag.turn_over(); });
  }

  void fix_or_free(const PlacedBlank& blank) {
    const bool in_force = ui_.session.in_force(*answer_);
    const std::string& name = answer_->plans.needs.pieces[blank.need].name;
    if (blank.by_hand) {
      if (button("Free", "Lets the plan choose its place again.", in_force))
        ui_.apply("free the " + name, free_by_hand(ui_.design(), answer_->plans.needs, blank.need));
    } else if (button("Fix here", "It stays here, and everything else is planned round it.", in_force)) {
      ui_.apply("fix the " + name, put_by_hand(ui_.design(), answer_->plans.needs, taken().held().place));
    }
    flow("Lay on another offcut ...");
  }

  void other_offcut(const PlacedBlank& blank) {
    HandWork& hand = pane_.hand;
    if (hand.listed != blank.need) {
      hand.listed = blank.need;
      hand.offcuts = offcuts_for(*answer_, plan_, taken().held().place, kMostListed);
    }
    std::vector<const char*> choices{"Lay on another offcut ..."};
    for (const std::string& id : hand.offcuts) choices.push_back(id.c_str());
    if (const auto chosen =
            combo("lay on", "Offcuts of its wood that are thick enough and have room for it.", 0, choices);
        chosen && *chosen > 0)
      change([&](BlankDrag& drag) { drag.lay_on(hand.offcuts[*chosen - 1]); });
  }

  const Ui& ui_;
  OffcutsPane& pane_;
  const std::shared_ptr<const CuttingAnswer>& answer_;
  std::size_t plan_, use_, blank_;
};

}  // namespace

void plan_preferences(const Ui& ui) {
  if (!fold_out("order", "What counts", "Of plans that place as much, what makes one the better.", false))
    return;
  std::vector<nesting::Preference> order = ui.session.cutting_wishes().order;
  const std::vector<nesting::Preference> before = order;
  for (std::size_t i = 0; i < before.size(); ++i) {
    const auto row = std::ranges::find(preference_rows(), before[i], &PreferenceRow::what);
    const std::string at = std::to_string(i + 1);
    if (small_button(("Up##" + at).c_str(), "Counts for more.") && i > 0) std::swap(order[i], order[i - 1]);
    ImGui::SameLine();
    if (small_button(("Down##" + at).c_str(), "Counts for less.") && i + 1 < order.size())
      std::swap(order[i], order[i + 1]);
    ImGui::SameLine();
    wrapped(at + ". " + std::string(row->words));
    places::item("preference", at, row->key);
  }
  ImGui::TreePop();
  ui.session.prefer(std::move(order));
}

void hand_summary(const Ui& ui, const CuttingAnswer& answer, std::size_t plan) {
  const CuttingPlan& chosen = answer.plans.plans[plan];
  for (const PlaceNotKept& lost : chosen.not_kept) {
    const HandPlace& place = answer.asked.design->hand_places[lost.place];
    const std::string name = lost.need ? answer.plans.needs.pieces[*lost.need].name : place.piece;
    status_mark(Status::fail);
    ImGui::SameLine();
    const std::string words = "The " + name + " can't stay where you put it on " + place.offcut + ": " +
                              lost.why + ". It is planned as if it were free.";
    wrapped(words);
    places::item("not kept", name, words);
  }
  const bool in_force = ui.session.in_force(answer);
  const bool any =
      std::ranges::any_of(chosen.offcuts, [](const BoardUse& use) { return !use.blanks.empty(); });
  if (any && button("Fix all", "All blanks stay where this plan has them.", in_force))
    ui.apply("fix all blanks", put_all_by_hand(ui.design(), answer.plans.needs, *answer.asked.bin, chosen));
  if (ui.design().hand_places.empty()) return;
  if (any) flow("Free all");
  if (button("Free all", "Lets the plan choose all places again."))
    ui.apply("free all blanks", free_all_by_hand(ui.design()));
}

DrawingHover hand_board(const Ui& ui, OffcutsPane& pane, const std::shared_ptr<const CuttingAnswer>& answer,
                        std::size_t plan, std::size_t use) {
  HandWork& hand = pane.hand;
  const BlankDrag* shown = hand.drag ? &*hand.drag : hand.put_down ? &*hand.put_down : nullptr;
  const bool apart = shown && (shown->moved() || hand.put_down);
  ShownDrawing& sheet = apart && shown->taken_from() == use ? hand.bare : pane.boards[use];
  const BoardUse& board = answer->plans.plans[plan].offcuts[use];
  const DrawingBesides besides{
      .fit = &pane.boards[use].drawing(),
      .over = apart && shown->use() == use ? &hand.over : nullptr,
      .ground = pane.photos->ground(ui.session.photo_of(answer->asked.bin->offcuts[board.index])),
      .grips = true};
  DrawingHover hover = drawing_box(
      sheet, "blank",
      "Drag a blank to where you want it: it stays there. Shift makes the others make way, Q and E turn it. "
      "Saw cuts are numbered in their order.",
      scaled(kBoardHeight), besides);
  if (hover.clicked && !hand.drag && !apart && ui.session.in_force(*answer))
    take(ui, pane, {answer, plan, use, *hover.tag, *hover.pressed});
  if (hand.drag && ImGui::IsMouseDown(ImGuiMouseButton_Left)) carry(hand, use, hover);
  if (apart) hover.tag.reset();
  return hover;
}

void hand_let_go(const Ui& ui, OffcutsPane& pane) {
  HandWork& hand = pane.hand;
  if (!hand.drag) return;
  if (ImGui::IsKeyPressed(ImGui::GetKeyIndex(ImGuiKey_Escape), false)) return hand.drag.reset();
  if (ImGui::IsMouseDown(ImGuiMouseButton_Left)) return;
  BlankDrag drag = std::move(*hand.drag);
  hand.drag.reset();
  if (hand.carried) put_down(ui, hand, std::move(drag));
}

void hand_fields(const Ui& ui, OffcutsPane& pane, const std::shared_ptr<const CuttingAnswer>& answer,
                 std::size_t plan, std::size_t use) {
  if (!pane.hand.chosen || pane.hand.drag) return;
  const auto blank = index_on(answer->plans.plans[plan].offcuts[use], *pane.hand.chosen);
  if (blank) HandFields(ui, pane, answer, plan, use, *blank).draw();
}

}  // namespace haftwright::app
