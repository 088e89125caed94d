#include "haftwright/session/blank_drag.hpp"

#include <algorithm>

#include "haftwright/geometry/outline_ops.hpp"

namespace haftwright {

BlankDrag::BlankDrag(std::shared_ptr<const CuttingAnswer> answer, std::size_t plan, std::size_t use,
                     std::size_t blank, Vec2 grip_mm)
    : answer_(std::move(answer)), plan_(plan), taken_from_(use), use_(use) {
  const BoardUse& board = answer_->plans.plans[plan_].offcuts[use];
  const PlacedBlank& taken = board.blanks[blank];
  need_ = taken.need;
  start_ = hand_place_of(*answer_->asked.design, answer_->plans.needs, *answer_->asked.bin, board, taken);
  grip_mm_ = taken.at_mm - grip_mm;
  turn_deg_ = start_.turn_deg;
  take_over(start_);
  hold(start_.at_mm, turn_deg_);
}

void BlankDrag::take_over(HandPlace start) {
  const CuttingAnswer& answer = *answer_;
  hand_ = std::make_unique<BlankInHand>(*answer.asked.design, answer.plans.needs, *answer.asked.bin,
                                        answer.asked.wishes, answer.plans.plans[plan_], start);
}

void BlankDrag::hold(Vec2 at_mm, double turn_deg) {
  held_ = hand_->at(at_mm, turn_deg, beside_);
}

void BlankDrag::move(std::size_t use, Vec2 pointer_mm, Beside beside) {
  beside_ = beside;
  if (use != use_) {
    const BoardUse& board = answer_->plans.plans[plan_].offcuts[use];
    HandPlace start = held_.place;
    start.offcut = answer_->asked.bin->offcuts[board.index].id;
    start.copy = static_cast<int>(board.copy) + 1;
    // Two slices are sawn alike, so that what lies there is of both; no other board can give that.
    if (board.with_slice)
      start.cut = HandCut::slices;
    else
      start.cut = start_.cut == HandCut::slices ? HandCut::single : start_.cut;
    use_ = use;
    take_over(start);
  }
  hold(pointer_mm + grip_mm_, turn_deg_);
}

void BlankDrag::turn(double by_deg) {
  turn_deg_ = held_.place.turn_deg + by_deg;
  hold(held_.place.at_mm, turn_deg_);
  turn_deg_ = held_.place.turn_deg;
}

void BlankDrag::turn_over() {
  HandPlace start = held_.place;
  start.face = start.face == Face::upper ? Face::lower : Face::upper;
  take_over(start);
  // Over its length, so that its front end keeps pointing the same way.
  turn_deg_ = start.turn_deg + 180;
  hold(start.at_mm, turn_deg_);
}

void BlankDrag::lay_on(const std::string& offcut) {
  const auto found = std::ranges::find(answer_->asked.bin->offcuts, offcut, &Offcut::id);
  if (found == answer_->asked.bin->offcuts.end()) return;
  HandPlace start = held_.place;
  start.offcut = offcut;
  start.copy = 1;
  if (start.cut == HandCut::slices) start.cut = HandCut::single;
  use_.reset();
  take_over(start);
  const Bounds box = Outline(found->outline).bounds();
  hold((box.low + box.high) * 0.5, turn_deg_);
}

void BlankDrag::put_at(Vec2 at_mm, double turn_deg) {
  turn_deg_ = turn_deg;
  hold(at_mm, turn_deg);
}

bool BlankDrag::carries(std::size_t need) const {
  return std::ranges::find(held_.blanks, need, &PlacedBlank::need) != held_.blanks.end();
}

Edited BlankDrag::put_down() const {
  if (!held_.legal) {
    const std::string& name = answer_->plans.needs.pieces[need_].name;
    return Edited::refused("the " + name + " can't lie on the offcut " + held_.place.offcut +
                           (held_.why.empty() ? "" : ": " + held_.why));
  }
  return put_by_hand(*answer_->asked.design, answer_->plans.needs, held_.place);
}

std::string BlankDrag::label() const {
  return "put the " + answer_->plans.needs.pieces[need_].name + " on " + held_.place.offcut;
}

std::vector<std::string> offcuts_for(const CuttingAnswer& answer, std::size_t plan, const HandPlace& place,
                                     std::size_t most) {
  std::vector<std::string> ids;
  for (const Offcut& offcut : answer.asked.bin->offcuts) {
    if (ids.size() == most) break;
    HandPlace there = place;
    there.offcut = offcut.id;
    there.copy = 1;
    if (there.cut == HandCut::slices) there.cut = HandCut::single;
    const BlankInHand hand(*answer.asked.design, answer.plans.needs, *answer.asked.bin, answer.asked.wishes,
                           answer.plans.plans[plan], there);
    if (!hand.unfit().empty()) continue;
    const Bounds box = Outline(offcut.outline).bounds();
    if (hand.at((box.low + box.high) * 0.5, place.turn_deg).legal) ids.push_back(offcut.id);
  }
  return ids;
}

}  // namespace haftwright
