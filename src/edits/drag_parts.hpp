// What the kinds of thing that can be dragged share.
#pragma once

#include <cmath>
#include <string>

#include "haftwright/design/quantities.hpp"
#include "haftwright/design/units.hpp"
#include "haftwright/edits/draggables.hpp"
#include "haftwright/words/words.hpp"

namespace haftwright::edits {

inline constexpr const char* kAlongTip = "from the front of the handle toward the butt";
inline constexpr const char* kAcrossTip = "from the axis toward the spine";
inline constexpr const char* kTogether = "both sides move together";

/// Ids of a list, in order.
template <class List>
std::vector<std::string> ids_of(const List& list) {
  std::vector<std::string> ids;
  for (const auto& thing : list) ids.push_back(thing.id);
  return ids;
}
/// "Joint 1, left side"; the side is left out where both are one.
std::string of_side(const Design& design, const std::string& text, Which side, SideField field);

/// 1 on the left: the way outward along z.
inline double outward(Which side) {
  return side == Which::left ? 1 : -1;
}
FoldRegion face_of(Which side);
Side side_of(const Design& design, Which side);
/// What both sides share: one thing, to be taken hold of on either face.
void add_on_faces(const Grip& grip, Vec2 at, std::vector<Grip>& grips);

/// The outline meant; null where there is no such cutout.
const std::vector<Node>* chain_of(const Design& design, const Selection& what);
bool node_exists(const Design& design, const Selection& what);
/// "tang", "cutout 2".
std::string whose_outline(const Selection& what);

// Lengths near each other, so that fractions of an inch would round them away.
std::string length_text(double mm, LengthUnit unit);
std::string place_text(Vec2 at, LengthUnit unit);
/// With its sign.
std::string moved_text(double mm, LengthUnit unit);
std::string moved_text(Vec2 by, LengthUnit unit);

}  // namespace haftwright::edits
