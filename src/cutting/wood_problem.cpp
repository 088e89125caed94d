#include "wood_problem.hpp"

#include <algorithm>
#include <cmath>

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

bool shows(const Offcut& offcut, bool lower) {
  return (offcut.show_faces & (lower ? ShowFace::lower_face : ShowFace::upper_face)) != 0;
}

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

void settle(std::vector<nesting::Angles>& angles);

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

  const PieceNeed& need(std::size_t index) const { return needs_.pieces[index]; }
  Lie lie(const Facing& facing) const { return {need(facing.need).side, facing.lower}; }

  /// Each piece from a board of its own thickness.
  void way(Pairing pairing, const std::vector<Facing>& facings) {
    nesting::Way made{{}, pairing == Pairing::one_offcut, rank_of(pairing)};
    WayMeaning meaning{pairing, {}};
    for (const Facing& facing : facings) {
      const Lie how = lie(facing);
      nesting::Part part{laid_shape(need(facing.need).outline, how.mirrored()), {}};
      for (std::size_t i = 0; i < wood_.boards.boards.size(); ++i) {
        const Board& board = wood_.boards.boards[i];
        if (board.with_slice) continue;
        if (auto found = candidate(need(facing.need), bin_.offcuts[board.index], how, rules_)) {
          found->stock = i;
          part.candidates.push_back(std::move(*found));
        }
      }
      if (part.candidates.empty()) return;
      made.parts.push_back(std::move(part));
      meaning.parts.push_back(
          {{facing.need, how, Half::whole, middle_of(box_round(need(facing.need).outline))}});
    }
    add(std::move(made), std::move(meaning));
  }

  /// Both from one blank. Opened, the halves of a book are mirror images, as left and right are: so one of
  /// them shows up and the other down, and both lie there alike as seen from above.
  void book(const Mates& mates, bool mirrored, bool from_slices) {
    // What looks up of the two: unmirrored it is the left piece.
    const bool left_lower = mirrored;
    const Lie left{Which::left, left_lower};
    const Lie right{Which::right, !left_lower};
    std::vector<Vec2> both = need(mates.left).outline;
    const std::vector<Vec2>& other = need(mates.right).outline;
    both.insert(both.end(), other.begin(), other.end());
    const Vec2 centre = middle_of(box_round(both));
    nesting::Part part{laid_shape(nesting::placed_outline(both, {0, 0}, 0), mirrored), {}};
    for (std::size_t i = 0; i < wood_.boards.boards.size(); ++i)
      if (auto found = from_slices ? slices_candidate(mates, left, right, wood_.boards.boards[i])
                                   : book_candidate(mates, left, right, wood_.boards.boards[i])) {
        found->stock = i;
        part.candidates.push_back(std::move(*found));
      }
    if (part.candidates.empty()) return;
    // Sawn faces show where the half whose face looks up lies below.
    const bool sawn = from_slices || !wishes_.book_shows_outside;
    const auto half = [&](bool lower_face) { return lower_face == sawn ? Half::upper : Half::lower; };
    const Pairing pairing = from_slices ? Pairing::slices : Pairing::book;
    WayMeaning meaning{pairing, {}};
    meaning.parts.push_back({{mates.left, left, half(left.lower_face), centre},
                             {mates.right, right, half(right.lower_face), centre}});
    add({{std::move(part)}, false, rank_of(pairing)}, std::move(meaning));
  }

  std::optional<nesting::Candidate> book_candidate(const Mates& mates, const Lie& left, const Lie& right,
                                                   const Board& board) const {
    const Offcut& offcut = bin_.offcuts[board.index];
    const double thick = need(mates.left).thickness_mm + rules_.saw_kerf_mm + need(mates.right).thickness_mm;
    if (board.with_slice || offcut.material != need(mates.left).material || offcut.thickness_mm < thick)
      return {};
    if (wishes_.book_shows_outside && offcut.show_faces != (upper_face | lower_face)) return {};
    return turned_both(mates, left, right, offcut, offcut.thickness_mm - thick);
  }

  std::optional<nesting::Candidate> slices_candidate(const Mates& mates, const Lie& left, const Lie& right,
                                                     const Board& board) const {
    if (!board.with_slice) return {};
    const Offcut& upper = bin_.offcuts[board.index];
    const Offcut& lower = bin_.offcuts[*board.with_slice];
    const double thick = std::max(need(mates.left).thickness_mm, need(mates.right).thickness_mm);
    if (upper.material != need(mates.left).material || lower.material != upper.material) return {};
    const double thinner = std::min(upper.thickness_mm, lower.thickness_mm);
    if (thinner < thick) return {};
    // The faces that lay on each other in the block are the ones that mirror each other.
    if (!shows(upper, true) || !shows(lower, false)) return {};
    return turned_both(mates, left, right, upper, thinner - thick);
  }

  /// Turns that suit both halves.
  std::optional<nesting::Candidate> turned_both(const Mates& mates, const Lie& left, const Lie& right,
                                                const Offcut& offcut, double excess_mm) const {
    const auto of_left = turns(need(mates.left).grain, offcut.grain, left, rules_.grain_off_deg);
    const auto of_right = turns(need(mates.right).grain, offcut.grain, right, rules_.grain_off_deg);
    nesting::Candidate found{0, {}, kPenaltyPerExcessMm * excess_mm, kPenaltyPerDeg};
    for (const nesting::Angles& a : of_left)
      for (const nesting::Angles& b : of_right)
        if (const auto both = in_both(a, b)) found.angles.push_back(*both);
    if (found.angles.empty()) return {};
    settle(found.angles);
    return found;
  }

  static std::optional<nesting::Angles> in_both(const nesting::Angles& a, const nesting::Angles& b) {
    const double apart = std::remainder(b.middle_deg - a.middle_deg, 360.0);
    const double low = std::max(-a.play_deg, apart - b.play_deg);
    const double high = std::min(a.play_deg, apart + b.play_deg);
    if (low > high) return {};
    return nesting::Angles{a.middle_deg + (low + high) / 2, (high - low) / 2};
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

/// In one order and range, so that turns that are alike are equal.
void settle(std::vector<nesting::Angles>& angles) {
  constexpr double kSame_deg = 1e-9;
  for (nesting::Angles& turn : angles) {
    turn.middle_deg = std::fmod(std::fmod(turn.middle_deg, 360.0) + 360.0, 360.0);
    turn.middle_deg = std::round(turn.middle_deg / kSame_deg) * kSame_deg;
    if (turn.middle_deg >= 360) turn.middle_deg = 0;
    turn.play_deg = std::round(turn.play_deg / kSame_deg) * kSame_deg;
  }
  std::ranges::sort(angles, {}, &nesting::Angles::middle_deg);
}

}  // namespace

nesting::Polygon laid_shape(const std::vector<Vec2>& outline, bool mirrored) {
  constexpr double kGrid_mm = 1e-3;
  const Vec2 middle = middle_of(box_round(outline));
  nesting::Polygon shape;
  for (const Vec2 p : outline) {
    const Vec2 from_middle = p - middle;
    shape.push_back(glm::round(Vec2{mirrored ? -from_middle.x : from_middle.x, from_middle.y} / kGrid_mm) *
                    kGrid_mm);
  }
  if (mirrored) std::ranges::reverse(shape);
  const auto first =
      std::ranges::min_element(shape, [](Vec2 a, Vec2 b) { return a.x != b.x ? a.x < b.x : a.y < b.y; });
  std::rotate(shape.begin(), first, shape.end());
  return shape;
}

nesting::Rules saw_rules(const ShopRules& rules, const CuttingWishes& wishes) {
  return {.kerf_mm = rules.saw_kerf_mm,
          .defect_margin_mm = rules.defect_margin_mm + kChordMm,
          .useful_length_mm = rules.leftover_length_mm,
          .useful_width_mm = rules.leftover_width_mm,
          .straight_cuts = true,
          .order = wishes.order};
}

std::optional<nesting::Candidate> candidate(const PieceNeed& need, const Offcut& offcut, const Lie& lie,
                                            const ShopRules& rules) {
  if (offcut.material != need.material || offcut.thickness_mm < need.thickness_mm) return {};
  if (!shows(offcut, lie.lower_face)) return {};
  nesting::Candidate found{0, turns(need.grain, offcut.grain, lie, rules.grain_off_deg),
                           kPenaltyPerExcessMm * (offcut.thickness_mm - need.thickness_mm), kPenaltyPerDeg};
  if (found.angles.empty()) return {};
  settle(found.angles);
  return found;
}

WoodProblem wood_problem(const Needs& needs, const Bin& bin, const ShopRules& rules,
                         const CuttingWishes& wishes) {
  WoodProblem wood;
  wood.boards = wood_boards(bin, materials_of(needs), wishes.project, needs.pieces.size(), rules);
  wood.problem.stocks = wood.boards.stocks;
  wood.problem.rules = saw_rules(rules, wishes);
  Demands demands(needs, bin, rules, wishes, wood);
  const auto planned = [&](std::size_t need) { return wishes.blanks_too || !needs.pieces[need].at_hand; };
  std::vector<bool> done(needs.pieces.size());
  for (const Mates& mates : needs.mates) {
    if (!planned(mates.left) || !planned(mates.right)) continue;
    demands.add_mates(mates);
    done[mates.left] = done[mates.right] = true;
  }
  for (std::size_t i = 0; i < needs.pieces.size(); ++i)
    if (!done[i] && planned(i)) demands.add_single(i);
  return wood;
}

std::vector<Vec2> outline_as_placed(const std::vector<Vec2>& outline, const PlacedBlank& placed) {
  std::vector<Vec2> points;
  for (const Vec2 p : outline) points.push_back(as_placed(p, placed));
  if (placed.mirrored) std::ranges::reverse(points);
  return points;
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
        PlacedBlank blank{laid.need,        laid.centre_mm,      placed.at_mm,
                          placed.angle_deg, laid.lie.mirrored(), laid.lie.lower_face,
                          laid.half,        meaning.pairing,     shape};
        blank.outline = outline_as_placed(needs.pieces[laid.need].outline, blank);
        use.blanks.push_back(std::move(blank));
      }
    }
    for (const nesting::Leftover& leftover : plan.leftovers)
      if (leftover.stock == cuts.stock) use.leftovers.push_back(leftover);
    use.slabs = slabs_of(use, needs, bin.offcuts[use.index], rules);
    uses.push_back(std::move(use));
  }
  return uses;
}

}  // namespace haftwright::cutting
