#include "wood_problem.hpp"

#include <algorithm>
#include <cmath>
#include <functional>

#include "haftwright/geometry/box.hpp"
#include "slabs.hpp"

namespace haftwright::cutting {
namespace {

/// Thicker wood than needed is wasted wood: what a millimetre of it weighs among preferences.
constexpr double kPenaltyPerExcessMm = 0.1;
/// And a degree that the fibre runs off the piece's grain: within the limit it does no harm, but two mates
/// look more alike and the grain runs along the handle, so that it counts as much as a millimetre wasted (own
/// judgement).
constexpr double kPenaltyPerDeg = 0.1;

int rank_of(Pairing pairing) {
  switch (pairing) {
    case Pairing::book:
    case Pairing::slices:
    case Pairing::single:
      return 0;
    case Pairing::one_offcut:
      return 1;
    case Pairing::apart:
      return 2;
  }
  return 0;
}

/// Makes the demands one after another.
class Demands {
 public:
  Demands(const Needs& needs, const Bin& bin, const ShopRules& rules, const CuttingWishes& wishes,
          WoodProblem& wood)
      : needs_(needs), bin_(bin), rules_(rules), wishes_(wishes), wood_(wood) {}

  void add_single(std::size_t need) {
    begin({need});
    for (const bool lower : {false, true}) way(Pairing::single, {{need, lower}});
  }

  /// Where the maker put it.
  void add_by_hand(const HandLaid& laid) {
    std::vector<std::size_t> needs;
    for (const LaidPiece& piece : laid.pieces) needs.push_back(piece.need);
    begin(std::move(needs));
    wood_.problem.fixed.push_back(
        {wood_.problem.demands.size() - 1, 0, 0, laid.stock, laid.at.at_mm, laid.at.angle_deg});
    add({{{laid.shape, {}}}, false, 0}, {laid.pairing, {laid.pieces}, true});
  }

  /// The mate of a piece that lies somewhere by hand: beside it, with the same face showing, or elsewhere.
  void add_mate_of(const HandLaid& laid, std::size_t mate) {
    begin({mate});
    const bool as_it = laid.pieces.front().lie.lower_face;
    way(Pairing::one_offcut, {{mate, as_it}}, [&](std::size_t stock) { return stock == laid.stock; });
    for (const bool lower : {false, true})
      way(Pairing::apart, {{mate, lower}},
          [&](std::size_t stock) { return lower != as_it || stock != laid.stock; });
  }

  void add_mates(const Mates& mates) {
    begin({mates.left, mates.right});
    for (const bool mirrored : {false, true}) {
      book(mates, mirrored, false);
      book(mates, mirrored, true);
    }
    for (const bool lower : {false, true})
      way(Pairing::one_offcut, {{mates.left, lower}, {mates.right, lower}});
    for (const bool left_lower : {false, true})
      for (const bool right_lower : {false, true})
        way(Pairing::apart, {{mates.left, left_lower}, {mates.right, right_lower}});
  }

 private:
  struct Facing {
    std::size_t need;
    bool lower;
  };

  void begin(std::vector<std::size_t> needs) {
    wood_.problem.demands.emplace_back();
    wood_.meaning.emplace_back();
    wood_.needs.push_back(std::move(needs));
  }

  /// Each piece from a board of its own thickness, of those that `serves` lets pass.
  void way(
      Pairing pairing, const std::vector<Facing>& facings,
      const std::function<bool(std::size_t stock)>& serves = [](std::size_t) { return true; }) {
    nesting::Way made{{}, pairing == Pairing::one_offcut, rank_of(pairing)};
    WayMeaning meaning{pairing, {}};
    for (const Facing& facing : facings) {
      LaidShape laid = single_shape(needs_, facing.need, facing.lower);
      nesting::Part part{laid.shape, {}};
      for (std::size_t i = 0; i < wood_.boards.boards.size(); ++i) {
        if (wood_.boards.boards[i].with_slice || !serves(i)) continue;
        if (auto found = candidate(laid, i)) part.candidates.push_back(std::move(*found));
      }
      if (part.candidates.empty()) return;
      made.parts.push_back(std::move(part));
      meaning.parts.push_back(std::move(laid.pieces));
    }
    add(std::move(made), std::move(meaning));
  }

  /// Both from one blank.
  void book(const Mates& mates, bool mirrored, bool from_slices) {
    LaidShape laid = book_shape(needs_, mates, mirrored, from_slices, wishes_.book_shows_outside);
    nesting::Part part{laid.shape, {}};
    for (std::size_t i = 0; i < wood_.boards.boards.size(); ++i)
      if (wood_.boards.boards[i].with_slice.has_value() == from_slices)
        if (auto found = candidate(laid, i)) part.candidates.push_back(std::move(*found));
    if (part.candidates.empty()) return;
    add({{std::move(part)}, false, rank_of(laid.pairing)}, {laid.pairing, {std::move(laid.pieces)}});
  }

  /// None where the offcut does not serve, or its grain allows no turn.
  std::optional<nesting::Candidate> candidate(const LaidShape& laid, std::size_t stock) const {
    const Board& board = wood_.boards.boards[stock];
    const Fitness fitness = fitness_of(laid, needs_, bin_, board, rules_, wishes_);
    if (fitness.what != Fitness::What::fits) return {};
    nesting::Candidate found{stock, turns_of(laid, needs_, bin_.offcuts[board.index], rules_),
                             kPenaltyPerExcessMm * fitness.excess_mm, kPenaltyPerDeg};
    if (found.angles.empty()) return {};
    return found;
  }

  void add(nesting::Way way, WayMeaning meaning) {
    std::vector<nesting::Way>& ways = wood_.problem.demands.back().ways;
    // A rectangle is its own mirror image: what looks the same twice is tried once.
    if (std::ranges::any_of(ways, [&](const nesting::Way& other) { return same(other, way); })) return;
    ways.push_back(std::move(way));
    wood_.meaning.back().push_back(std::move(meaning));
  }

  static bool same(const nesting::Way& a, const nesting::Way& b) {
    return a.rank == b.rank && a.on_one_stock == b.on_one_stock && a.parts == b.parts;
  }

  const Needs& needs_;
  const Bin& bin_;
  const ShopRules& rules_;
  const CuttingWishes& wishes_;
  WoodProblem& wood_;
};

std::vector<std::string> materials_of(const Needs& needs) {
  std::vector<std::string> materials;
  for (const PieceNeed& need : needs.pieces) materials.push_back(need.material);
  return materials;
}

/// Of offcuts alike: as many as there may be pieces on, or the maker has put some on.
std::size_t most_copies(const Design& design, const Needs& needs) {
  std::size_t most = needs.pieces.size();
  for (const HandPlace& place : design.hand_places)
    most = std::max<std::size_t>(most, static_cast<std::size_t>(place.copy));
  return most;
}

/// How a piece that was put somewhere by hand lies to its mate shows only once that one has a place.
void pair_by_hand(const Needs& needs, std::vector<BoardUse>& uses) {
  for (BoardUse& use : uses)
    for (PlacedBlank& blank : use.blanks) {
      const std::optional<Mates> mates = mates_of(needs, blank.need);
      if (!blank.by_hand || blank.pairing != Pairing::single || !mates) continue;
      const std::size_t mate = mates->left == blank.need ? mates->right : mates->left;
      for (const BoardUse& other : uses)
        for (const PlacedBlank& its : other.blanks)
          if (its.need == mate)
            blank.pairing =
                &other == &use && its.lower_face == blank.lower_face ? Pairing::one_offcut : Pairing::apart;
    }
}

}  // namespace

nesting::Rules saw_rules(const ShopRules& rules, const CuttingWishes& wishes) {
  return {.kerf_mm = rules.saw_kerf_mm,
          .defect_margin_mm = rules.defect_margin_mm + kChordMm,
          .useful_length_mm = rules.leftover_length_mm,
          .useful_width_mm = rules.leftover_width_mm,
          .straight_cuts = true,
          .order = wishes.order};
}

WoodProblem wood_problem(const Design& design, const Needs& needs, const Bin& bin,
                         const CuttingWishes& wishes) {
  const ShopRules& rules = design.rules;
  WoodProblem wood;
  wood.boards = wood_boards(bin, materials_of(needs), wishes.project, most_copies(design, needs), rules);
  wood.problem.stocks = wood.boards.stocks;
  wood.problem.rules = saw_rules(rules, wishes);
  const HandPlaces by_hand = hand_places(design, needs, bin, wood.boards, wishes);
  wood.not_kept = by_hand.not_kept;
  Demands demands(needs, bin, rules, wishes, wood);
  std::vector<bool> done(needs.pieces.size());
  for (const HandLaid& laid : by_hand.laid) {
    demands.add_by_hand(laid);
    for (const LaidPiece& piece : laid.pieces) done[piece.need] = true;
  }
  const auto planned = [&](std::size_t need) {
    return !done[need] && (wishes.blanks_too || !needs.pieces[need].at_hand);
  };
  for (const HandLaid& laid : by_hand.laid) {
    const std::size_t need = laid.pieces.front().need;
    const std::optional<Mates> mates = mates_of(needs, need);
    if (!mates) continue;
    const std::size_t mate = mates->left == need ? mates->right : mates->left;
    if (!planned(mate)) continue;
    demands.add_mate_of(laid, mate);
    done[mate] = true;
  }
  for (const Mates& mates : needs.mates) {
    if (!planned(mates.left) || !planned(mates.right)) continue;
    demands.add_mates(mates);
    done[mates.left] = done[mates.right] = true;
  }
  for (std::size_t i = 0; i < needs.pieces.size(); ++i)
    if (planned(i)) demands.add_single(i);
  return wood;
}

std::vector<BoardUse> offcuts_of(const nesting::Plan& plan, const WoodProblem& wood, const Needs& needs,
                                 const Bin& bin, const ShopRules& rules) {
  std::vector<BoardUse> uses;
  for (const nesting::StockCuts& cuts : plan.cuts) {
    const Board& board = wood.boards.boards[cuts.stock];
    BoardUse use{board.index, board.copy, board.with_slice, {}, cuts, {}};
    for (std::size_t shape = 0; shape < cuts.shapes.size(); ++shape) {
      const nesting::Placed& placed = cuts.shapes[shape];
      const WayMeaning& meaning = wood.meaning[placed.demand][placed.way];
      for (const LaidPiece& laid : meaning.parts[placed.part]) {
        PlacedBlank blank = placed_blank(needs, laid, placed.at_mm, placed.angle_deg, meaning.pairing);
        blank.by_hand = meaning.by_hand;
        blank.shape = shape;
        use.blanks.push_back(std::move(blank));
      }
    }
    for (const nesting::Leftover& leftover : plan.leftovers)
      if (leftover.stock == cuts.stock) use.leftovers.push_back(leftover);
    use.slabs = slabs_of(use, needs, bin.offcuts[use.index], rules);
    uses.push_back(std::move(use));
  }
  pair_by_hand(needs, uses);
  return uses;
}

}  // namespace haftwright::cutting
