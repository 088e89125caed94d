// What the edits share: which list an edit of a side goes to, and how a wrong index is refused.
#pragma once

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "haftwright/design/ids.hpp"
#include "haftwright/edits/edited.hpp"

namespace haftwright::edits {

/// The field of `side` that an edit changes: the right side's own, or the left's where it is linked.
template <class T>
T& field_of(Design& design, Which side, T Side::*in_left, std::optional<T> SideOverrides::*in_right) {
  std::optional<T>& own = design.right.*in_right;
  return side == Which::right && own ? *own : design.left.*in_left;
}
inline std::vector<Sheet>& liners_of(Design& design, Which side) {
  return field_of(design, side, &Side::liners, &SideOverrides::liners);
}
inline std::vector<Piece>& pieces_of(Design& design, Which side) {
  return field_of(design, side, &Side::pieces, &SideOverrides::pieces);
}
inline std::vector<Joint>& joints_of(Design& design, Which side) {
  return field_of(design, side, &Side::joints, &SideOverrides::joints);
}
inline Finish& finish_of(Design& design, Which side) {
  return field_of(design, side, &Side::finish, &SideOverrides::finish);
}

/// Where both sides have come to have as many joints, the ones that meet get one id, the left side's.
inline void match_joint_ids(Design& design) {
  if (!design.right.joints || design.right.joints->size() != design.left.joints.size()) return;
  for (std::size_t i = 0; i < design.left.joints.size(); ++i)
    (*design.right.joints)[i].id = design.left.joints[i].id;
}

/// Places chosen by hand go with their pieces: those of pieces that `before` had and this one no longer has
/// go too.
inline void drop_lost_hand_places(const Design& before, Design& edited) {
  const auto has = [](const Design& design, const HandPlace& place) {
    const std::vector<Piece>& pieces = design.pieces(place.side);
    return index_of(pieces, place.piece) < pieces.size();
  };
  std::erase_if(edited.hand_places,
                [&](const HandPlace& place) { return has(before, place) && !has(edited, place); });
}

/// "There is no joint 3 on the left side."
inline Edited no_such(const std::string& what, std::size_t index, const std::string& where) {
  return Edited::refused("there is no " + what + " " + std::to_string(index + 1) + where);
}
inline std::string on(Which side) {
  return std::string(" on the ") + name_of(side) + " side";
}
inline Edited too_many(const std::string& what, std::size_t most) {
  return Edited::refused(what + " can be no more than " + std::to_string(most));
}

/// The one of `places` nearest to `value`, when it is within reach; else `value`.
inline double snapped(double value, const std::vector<double>& places, double within) {
  double best = value;
  double reach = within;
  for (const double place : places)
    if (std::abs(place - value) <= reach) {
      best = place;
      reach = std::abs(place - value);
    }
  return best;
}

template <class T>
auto at(std::vector<T>& list, std::size_t index) {
  return list.begin() + static_cast<std::ptrdiff_t>(index);
}

/// Copies the Design, lets `change(entry)` loose on one entry of a list, refuses an index past its end.
template <class List, class Change>
Edited change_entry(const Design& design, List&& list_of, std::size_t index, const std::string& what,
                    const std::string& where, Change&& change) {
  Design edited = design;
  auto& list = list_of(edited);
  if (index >= list.size()) return no_such(what, index, where);
  change(list[index]);
  return edited;
}

/// "pin 4": the first such name from that number on that nothing in `list` has, so that people can tell them
/// apart.
template <class List>
std::string free_name(const std::string& word, const List& list, std::size_t number) {
  for (;; ++number) {
    std::string name = word + " " + std::to_string(number);
    if (std::ranges::find(list, name, [](const auto& entry) { return entry.name; }) == list.end())
      return name;
  }
}

}  // namespace haftwright::edits
