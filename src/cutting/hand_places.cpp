#include "hand_places.hpp"

#include <algorithm>

#include "haftwright/design/ids.hpp"
#include "haftwright/offcuts/bin_words.hpp"
#include "haftwright/words/words.hpp"
#include "wood_problem.hpp"

namespace haftwright::cutting {
namespace {

const char* defect_words(DefectKind kind) {
  switch (kind) {
    case DefectKind::knot:
      return "a knot";
    case DefectKind::check:
      return "a check";
    case DefectKind::hole:
      return "a hole";
    case DefectKind::sapwood:
      return "sapwood";
    case DefectKind::other:
      break;
  }
  return "a defect";
}

/// What keeps a shape off an offcut wherever it would lie there; empty where nothing does.
std::string unfit_words(const LaidShape& laid, const Needs& needs, const Bin& bin, const Board& board,
                        const CuttingWishes& wishes, const Design& design) {
  const Offcut& wood = bin.offcuts[board.index];
  const Fitness fitness = fitness_of(laid, needs, bin, board, design.rules, wishes);
  const std::string name = "the offcut " + wood.id;
  switch (fitness.what) {
    case Fitness::What::other_wood:
      return name + " is " + material_name(bin, wood.material) + ", not " +
             material_name(bin, needs.pieces[laid.pieces.front().need].material);
    case Fitness::What::too_thin:
      return name + " is " + fine_length(fitness.short_mm, design.shown_unit, 2) + " too thin";
    case Fitness::What::hidden_face:
      return "the face of " + name + " that would be seen is not a good one";
    case Fitness::What::fits:
      break;
  }
  return {};
}

/// Holds the places against the bin one after another: what comes first in the list stays.
class Keeper {
 public:
  Keeper(const Design& design, const Needs& needs, const Bin& bin, const Boards& boards,
         const CuttingWishes& wishes)
      : design_(design), needs_(needs), bin_(bin), boards_(boards), wishes_(wishes) {}

  HandPlaces all() {
    for (std::size_t i = 0; i < design_.hand_places.size(); ++i) {
      const HandPlace& place = design_.hand_places[i];
      const std::optional<std::size_t> need = need_of(design_, needs_, place);
      if (!need) {
        kept_.not_kept.push_back(
            {i,
             {},
             "there is no piece " + place.piece + " on the " + name_of(place.side) + " side any longer"});
        continue;
      }
      if (std::string why = keep(i, *need); !why.empty()) kept_.not_kept.push_back({i, need, std::move(why)});
    }
    return std::move(kept_);
  }

 private:
  /// Why it can't be kept; empty when it is.
  std::string keep(std::size_t index, std::size_t need) {
    const HandPlace& place = design_.hand_places[index];
    HandLaid made;
    const std::optional<LaidShape> laid = shape_by_hand(needs_, need, place, wishes_);
    if (!laid) return "it has no mate of its wood on the other side";
    static_cast<LaidShape&>(made) = *laid;
    for (const HandLaid& other : kept_.laid)
      for (const LaidPiece& taken : other.pieces)
        for (const LaidPiece& piece : made.pieces)
          if (taken.need == piece.need)
            return "the " + needs_.pieces[piece.need].name + " has another place by hand";
    made.place = index;
    constexpr double kGrid_mm = 1e-3;
    made.at = {glm::round(place.at_mm / kGrid_mm) * kGrid_mm, place.turn_deg};
    std::string why = board_by_hand(design_, needs_, bin_, boards_, wishes_, place, made, made.stock);
    if (why.empty()) why = beside_others(made);
    if (why.empty()) kept_.laid.push_back(std::move(made));
    return why;
  }

  /// What lies in the way on its board.
  std::string beside_others(const HandLaid& made) const {
    const std::vector<std::size_t>& excluded = boards_.stocks[made.stock].excludes;
    std::vector<nesting::Obstacle> obstacles;
    std::vector<std::string> names;
    for (const HandLaid& other : kept_.laid) {
      if (std::ranges::find(excluded, other.stock) != excluded.end())
        return "the " + names_of(other, needs_) + " already has the offcut or its slice";
      if (other.stock != made.stock) continue;
      obstacles.push_back({other.shape, other.at.at_mm, other.at.angle_deg});
      names.push_back(names_of(other, needs_));
    }
    const nesting::Stock& stock = boards_.stocks[made.stock];
    const nesting::Rules rules = saw_rules(design_.rules, wishes_);
    return in_the_way_words(made, made.at, stock, rules, obstacles,
                            {defect_names(bin_, boards_.boards[made.stock]), names});
  }

  const Design& design_;
  const Needs& needs_;
  const Bin& bin_;
  const Boards& boards_;
  const CuttingWishes& wishes_;
  HandPlaces kept_;
};

}  // namespace

std::vector<std::string> defect_names(const Bin& bin, const Board& board) {
  std::vector<std::string> names;
  const auto add = [&](const Offcut& offcut) {
    for (std::size_t i = 0; i < offcut.defects.size(); ++i)
      names.push_back(std::string(defect_words(offcut.defects[i].kind)) + " (defect " +
                      std::to_string(i + 1) + " of " + offcut.id + ")");
  };
  add(bin.offcuts[board.index]);
  if (board.with_slice) add(bin.offcuts[*board.with_slice]);
  return names;
}

std::string in_the_way_words(const LaidShape& laid, const nesting::Place& place, const nesting::Stock& stock,
                             const nesting::Rules& rules, std::span<const nesting::Obstacle> obstacles,
                             const Hindrances& names) {
  if (nesting::legal(stock, laid.shape, place, rules, obstacles)) return {};
  nesting::Stock bare = stock;
  bare.keep_outs.clear();
  if (!nesting::legal(bare, laid.shape, place, rules, {})) return "it would reach over the rim";
  for (std::size_t i = 0; i < stock.keep_outs.size(); ++i) {
    bare.keep_outs = {stock.keep_outs[i]};
    if (!nesting::legal(bare, laid.shape, place, rules, {})) return names.defects[i] + " is too near";
  }
  bare.keep_outs.clear();
  for (std::size_t i = 0; i < obstacles.size(); ++i)
    if (!nesting::legal(bare, laid.shape, place, rules, obstacles.subspan(i, 1)))
      return "the " + names.blanks[i] + " is in the way, or the saw has no room between them";
  return "it would reach over the rim";
}

std::optional<LaidShape> shape_by_hand(const Needs& needs, std::size_t need, const HandPlace& place,
                                       const CuttingWishes& wishes) {
  const bool lower = place.face == Face::lower;
  if (place.cut == HandCut::single) return single_shape(needs, need, lower);
  const std::optional<Mates> mates = mates_of(needs, need);
  if (!mates) return {};
  const bool mirrored = (place.side == Which::left) == lower;
  return book_shape(needs, *mates, mirrored, place.cut == HandCut::slices, wishes.book_shows_outside);
}

std::string board_by_hand(const Design& design, const Needs& needs, const Bin& bin, const Boards& boards,
                          const CuttingWishes& wishes, const HandPlace& place, const LaidShape& laid,
                          std::size_t& stock) {
  const std::size_t offcut = index_of(bin.offcuts, place.offcut);
  if (offcut == bin.offcuts.size()) return "there is no offcut " + place.offcut + " in the bin";
  const Offcut& wood = bin.offcuts[offcut];
  const bool slices = place.cut == HandCut::slices;
  const auto board = std::ranges::find_if(boards.boards, [&](const Board& one) {
    return one.index == offcut && one.with_slice.has_value() == slices &&
           (slices || one.copy + 1 == static_cast<std::size_t>(place.copy));
  });
  const bool there = board != boards.boards.end();
  if (std::string why = unfit_words(laid, needs, bin, {offcut, 0, there ? board->with_slice : std::nullopt},
                                    wishes, design);
      !why.empty())
    return why;
  if (there) {
    stock = static_cast<std::size_t>(board - boards.boards.begin());
    return {};
  }
  if (slices) return "the offcut " + wood.id + " has no slice beneath it that is free";
  if (place.copy > wood.alike)
    return "there is no more of the offcut " + wood.id + " than " + std::to_string(wood.alike);
  return "another project has reserved the offcut " + wood.id;
}

std::optional<std::size_t> need_of(const Design& design, const Needs& needs, const HandPlace& place) {
  const std::size_t piece = index_of(design.pieces(place.side), place.piece);
  for (std::size_t i = 0; i < needs.pieces.size(); ++i)
    if (needs.pieces[i].side == place.side && needs.pieces[i].piece == piece) return i;
  return {};
}

HandPlaces hand_places(const Design& design, const Needs& needs, const Bin& bin, const Boards& boards,
                       const CuttingWishes& wishes) {
  return Keeper(design, needs, bin, boards, wishes).all();
}

}  // namespace haftwright::cutting
