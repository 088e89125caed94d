// Linking the sides: what the right side does not override follows the left, so an edit of a linked field on
// the right side goes to the left. Places that were chosen by hand for pieces that are gone then go with
// them.
#pragma once

#include "haftwright/edits/edited.hpp"

namespace haftwright {

/// What the right side may do its own way.
enum class SideField { liners, pieces, joints, front, butt_proud, finish };
inline constexpr SideField kSideFields[] = {SideField::liners, SideField::pieces,     SideField::joints,
                                            SideField::front,  SideField::butt_proud, SideField::finish};
/// "liners", "butt allowance": as a panel would write it.
const char* name_of(SideField field);

bool linked(const Design& design, SideField field);
bool all_linked(const Design& design);
/// The right side gets values of its own, equal to the left's: nothing moves.
Edited unlink(const Design& design, SideField field);
Edited unlink_all(const Design& design);
/// The right side follows the left again. Linking pieces links joints of another number too, and the other
/// way round, since a side has one joint fewer than pieces.
Edited link(const Design& design, SideField field);
Edited link_all(const Design& design);
/// The other side gets this side's numbers. Unlinked fields stay unlinked.
Edited copy_side(const Design& design, Which from);
/// Left becomes right and right becomes left, mirrored, and readings go with their lines. Linked fields stay
/// linked.
Edited swap_sides(const Design& design);

}  // namespace haftwright
