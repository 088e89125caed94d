#include "haftwright/edits/sides.hpp"

#include "parts.hpp"

namespace haftwright {
namespace {

/// Calls `visit(member of Side, member of SideOverrides)` for one field.
template <class Visit>
auto with_field(SideField field, Visit&& visit) {
  switch (field) {
    case SideField::liners:
      return visit(&Side::liners, &SideOverrides::liners);
    case SideField::pieces:
      return visit(&Side::pieces, &SideOverrides::pieces);
    case SideField::joints:
      return visit(&Side::joints, &SideOverrides::joints);
    case SideField::front:
      return visit(&Side::front, &SideOverrides::front);
    case SideField::butt_proud:
      return visit(&Side::butt_proud_mm, &SideOverrides::butt_proud_mm);
    case SideField::finish:
      break;
  }
  return visit(&Side::finish, &SideOverrides::finish);
}

void unlink_in(Design& design, SideField field) {
  with_field(field, [&](auto in_left, auto in_right) {
    if (!(design.right.*in_right)) design.right.*in_right = design.left.*in_left;
  });
}

/// On the other side, cut toward the same face and turned as before, so that it lies mirrored end for end. A
/// book stays the blank that it is: what was its left half is now its right one.
void swap_hand_place(HandPlace& place) {
  place.side = place.side == Which::left ? Which::right : Which::left;
  if (place.cut != HandCut::single) place.face = place.face == Face::upper ? Face::lower : Face::upper;
}

/// As many pieces as its joints ask for?
bool counts_match(const Side& side) {
  return side.joints.size() + 1 == side.pieces.size();
}

}  // namespace

const char* name_of(SideField field) {
  switch (field) {
    case SideField::liners:
      return "liners";
    case SideField::pieces:
      return "pieces";
    case SideField::joints:
      return "joints";
    case SideField::front:
      return "front face";
    case SideField::butt_proud:
      return "butt allowance";
    case SideField::finish:
      break;
  }
  return "finish";
}

bool linked(const Design& design, SideField field) {
  return with_field(field, [&](auto, auto in_right) { return !(design.right.*in_right).has_value(); });
}

bool all_linked(const Design& design) {
  return design.right == SideOverrides{};
}

Edited unlink(const Design& design, SideField field) {
  Design edited = design;
  unlink_in(edited, field);
  return edited;
}

Edited unlink_all(const Design& design) {
  Design edited = design;
  for (const SideField field : kSideFields) unlink_in(edited, field);
  return edited;
}

Edited link(const Design& design, SideField field) {
  Design edited = design;
  with_field(field, [&](auto, auto in_right) { (edited.right.*in_right).reset(); });
  const bool counted = field == SideField::pieces || field == SideField::joints;
  if (counted && !counts_match(edited.right_side())) {
    edited.right.pieces.reset();
    edited.right.joints.reset();
  }
  edits::drop_lost_hand_places(design, edited);
  return edited;
}

Edited link_all(const Design& design) {
  Design edited = design;
  edited.right = {};
  edits::drop_lost_hand_places(design, edited);
  return edited;
}

Edited copy_side(const Design& design, Which from) {
  Design edited = design;
  if (from == Which::right) {
    edited.left = design.right_side();
    edits::drop_lost_hand_places(design, edited);
    return edited;
  }
  for (const SideField field : kSideFields)
    with_field(field, [&](auto in_left, auto in_right) {
      if (edited.right.*in_right) edited.right.*in_right = design.left.*in_left;
    });
  edits::drop_lost_hand_places(design, edited);
  return edited;
}

Edited swap_sides(const Design& design) {
  Design edited = design;
  edited.left = design.right_side();
  for (CaliperReading& reading : edited.dry_fit)
    reading.side = reading.side == Which::left ? Which::right : Which::left;
  for (HandPlace& place : edited.hand_places) swap_hand_place(place);
  for (const SideField field : kSideFields)
    with_field(field, [&](auto in_left, auto in_right) {
      if (edited.right.*in_right) edited.right.*in_right = design.left.*in_left;
    });
  return edited;
}

}  // namespace haftwright
