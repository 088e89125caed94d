#include "haftwright/cutting/by_hand.hpp"

#include <algorithm>
#include <cmath>

#include "haftwright/design/ids.hpp"
#include "haftwright/design/limits.hpp"
#include "hand_places.hpp"

namespace haftwright {
namespace {

std::optional<std::size_t> mate_of(const Needs& needs, std::size_t need) {
  for (const Mates& mates : needs.mates) {
    if (mates.left == need) return mates.right;
    if (mates.right == need) return mates.left;
  }
  return {};
}

const std::string& id_of_need(const Design& design, const PieceNeed& need) {
  return design.pieces(need.side)[need.piece].id;
}

bool is_about(const HandPlace& place, const Design& design, const PieceNeed& need) {
  return place.side == need.side && place.piece == id_of_need(design, need);
}

HandCut cut_of(Pairing pairing) {
  if (pairing == Pairing::book) return HandCut::book;
  return pairing == Pairing::slices ? HandCut::slices : HandCut::single;
}

}  // namespace

HandPlace hand_place_of(const Design& design, const Needs& needs, const Bin& bin, const BoardUse& use,
                        const PlacedBlank& blank) {
  const PieceNeed& need = needs.pieces[blank.need];
  return {need.side,
          id_of_need(design, need),
          bin.offcuts[use.index].id,
          static_cast<int>(use.copy) + 1,
          blank.at_mm,
          std::remainder(blank.turn_deg, 360.0),
          blank.lower_face ? Face::lower : Face::upper,
          cut_of(blank.pairing)};
}

std::optional<std::size_t> hand_place_index(const Design& design, const Needs& needs, std::size_t need) {
  const std::optional<std::size_t> mate = mate_of(needs, need);
  for (std::size_t i = 0; i < design.hand_places.size(); ++i) {
    const HandPlace& place = design.hand_places[i];
    if (is_about(place, design, needs.pieces[need])) return i;
    if (place.cut != HandCut::single && mate && is_about(place, design, needs.pieces[*mate])) return i;
  }
  return {};
}

Edited put_by_hand(const Design& design, const Needs& needs, const HandPlace& place) {
  const std::optional<std::size_t> need = cutting::need_of(design, needs, place);
  if (!need)
    return Edited::refused("there is no piece " + place.piece + " on the " + name_of(place.side) + " side");
  const std::optional<std::size_t> mate = mate_of(needs, *need);
  if (place.cut != HandCut::single && !mate)
    return Edited::refused("the " + needs.pieces[*need].name + " has no mate of its wood on the other side");
  Design edited = design;
  const std::optional<std::size_t> old = hand_place_index(design, needs, *need);
  // In the place of the old one, so that what was put later keeps making way for it.
  if (old)
    edited.hand_places[*old] = place;
  else
    edited.hand_places.push_back(place);
  const std::size_t kept = old.value_or(edited.hand_places.size() - 1);
  if (place.cut != HandCut::single)
    for (std::size_t i = edited.hand_places.size(); i-- > 0;)
      if (i != kept && is_about(edited.hand_places[i], design, needs.pieces[*mate]))
        edited.hand_places.erase(edited.hand_places.begin() + static_cast<std::ptrdiff_t>(i));
  return edited;
}

Edited free_by_hand(const Design& design, const Needs& needs, std::size_t need) {
  const std::optional<std::size_t> place = hand_place_index(design, needs, need);
  if (!place) return Edited::refused("the " + needs.pieces[need].name + " has no place by hand");
  Design edited = design;
  edited.hand_places.erase(edited.hand_places.begin() + static_cast<std::ptrdiff_t>(*place));
  return edited;
}

Edited free_all_by_hand(const Design& design) {
  if (design.hand_places.empty()) return Edited::refused("nothing has a place by hand");
  Design edited = design;
  edited.hand_places.clear();
  return edited;
}

Edited put_all_by_hand(const Design& design, const Needs& needs, const Bin& bin, const CuttingPlan& plan) {
  Edited edited = design;
  for (const BoardUse& use : plan.offcuts)
    for (const PlacedBlank& blank : use.blanks) {
      if (hand_place_index(*edited, needs, blank.need)) continue;
      edited = put_by_hand(*edited, needs, hand_place_of(design, needs, bin, use, blank));
      if (!edited) return edited;
    }
  return edited;
}

}  // namespace haftwright
