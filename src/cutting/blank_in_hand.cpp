#include <cmath>

#include "haftwright/cutting/by_hand.hpp"
#include "haftwright/design/ids.hpp"
#include "haftwright/words/words.hpp"
#include "hand_places.hpp"
#include "wood_problem.hpp"

namespace haftwright {

using namespace cutting;

struct BlankInHand::Inside {
  HandPlace start;
  LaidShape laid;
  Needs needs;
  std::vector<nesting::Stock> stock;  ///< none: the offcut is not to be had
  std::vector<nesting::Angles> turns;
  nesting::Rules rules;
  std::vector<nesting::Obstacle> others;  ///< those put by hand first
  std::size_t by_hand = 0;
  Hindrances names;
  std::string unfit;
  double grain_off_deg = 0;
};

namespace {

bool holds(const LaidShape& laid, std::size_t need) {
  for (const LaidPiece& piece : laid.pieces)
    if (piece.need == need) return true;
  return false;
}

/// Whether a board of the plan is made of the offcut, or of its slice.
bool touches(const BoardUse& use, const Board& board) {
  const auto is_of = [&](std::size_t offcut) { return offcut == board.index || board.with_slice == offcut; };
  return use.copy == board.copy && (is_of(use.index) || (use.with_slice && is_of(*use.with_slice)));
}

/// Each shape that the plan has on the board, but for what is in the hand; `by_hand` ones or the others.
void add_obstacles(const Needs& needs, const CuttingPlan& plan, const Board& board, const LaidShape& laid,
                   bool by_hand, std::vector<nesting::Obstacle>& obstacles, std::vector<std::string>& names) {
  for (const BoardUse& use : plan.offcuts) {
    if (!touches(use, board)) continue;
    std::optional<std::size_t> last;
    for (const PlacedBlank& blank : use.blanks) {
      // The halves of a book follow each other and are one shape.
      if (blank.by_hand != by_hand || holds(laid, blank.need) || last == blank.shape) continue;
      last = blank.shape;
      LaidShape other = shape_of(needs, blank);
      names.push_back(names_of(other, needs));
      obstacles.push_back({std::move(other.shape), blank.at_mm, blank.turn_deg});
    }
  }
}

}  // namespace

BlankInHand::BlankInHand(const Design& design, const Needs& needs, const Bin& bin,
                         const CuttingWishes& wishes, const CuttingPlan& plan, const HandPlace& start) {
  auto inside = std::make_unique<Inside>();
  inside->start = start;
  inside->needs = needs;
  inside->rules = saw_rules(design.rules, wishes);
  inside->grain_off_deg = design.rules.grain_off_deg;
  const std::optional<std::size_t> need = need_of(design, needs, start);
  const std::size_t offcut = index_of(bin.offcuts, start.offcut);
  if (!need)
    inside->unfit = "there is no such piece";
  else if (const std::optional<LaidShape> laid = shape_by_hand(needs, *need, start, wishes); !laid)
    inside->unfit = "it has no mate of its wood on the other side";
  else
    inside->laid = *laid;
  if (inside->unfit.empty() && offcut == bin.offcuts.size())
    inside->unfit = "there is no offcut " + start.offcut + " in the bin";
  if (inside->unfit.empty()) {
    const Boards boards = wood_boards(bin, {bin.offcuts[offcut].material}, wishes.project,
                                      static_cast<std::size_t>(start.copy), design.rules);
    std::size_t stock = 0;
    inside->unfit = board_by_hand(design, needs, bin, boards, wishes, start, inside->laid, stock);
    if (inside->unfit.empty()) {
      const Board& board = boards.boards[stock];
      inside->stock = {boards.stocks[stock]};
      inside->names.defects = defect_names(bin, board);
      inside->turns = turns_of(inside->laid, needs, bin.offcuts[offcut], design.rules);
      add_obstacles(needs, plan, board, inside->laid, true, inside->others, inside->names.blanks);
      inside->by_hand = inside->others.size();
      add_obstacles(needs, plan, board, inside->laid, false, inside->others, inside->names.blanks);
    }
  }
  inside_ = std::move(inside);
}

BlankInHand::BlankInHand(BlankInHand&&) noexcept = default;
BlankInHand& BlankInHand::operator=(BlankInHand&&) noexcept = default;
BlankInHand::~BlankInHand() = default;

const std::string& BlankInHand::unfit() const {
  return inside_->unfit;
}

const std::vector<nesting::Angles>& BlankInHand::turns() const {
  return inside_->turns;
}

BlankInHand::Held BlankInHand::at(Vec2 at_mm, double turn_deg, Beside beside) const {
  const Inside& in = *inside_;
  Held held{in.start, false, in.unfit, {}};
  held.place.at_mm = at_mm;
  held.place.turn_deg = std::remainder(turn_deg, 360.0);
  if (in.unfit.empty()) {
    const std::span<const nesting::Obstacle> others(in.others.data(),
                                                    beside == Beside::all ? in.others.size() : in.by_hand);
    const nesting::Place asked{at_mm, held.place.turn_deg};
    const auto found =
        nesting::nearest_place(in.stock.front(), in.laid.shape, asked, in.turns, in.rules, others);
    held.legal = found.has_value();
    if (found) {
      held.place.at_mm = found->at_mm;
      held.place.turn_deg = std::remainder(found->angle_deg, 360.0);
    }
    if (in.turns.empty())
      held.why = "its grain would run more than " + format_number(in.grain_off_deg, 1) +
                 " deg off, however it is turned";
    else
      held.why = in_the_way_words(in.laid, asked, in.stock.front(), in.rules, others, in.names);
  }
  for (const LaidPiece& piece : in.laid.pieces) {
    held.blanks.push_back(
        placed_blank(in.needs, piece, held.place.at_mm, held.place.turn_deg, in.laid.pairing));
    held.blanks.back().by_hand = true;
  }
  return held;
}

}  // namespace haftwright
