#include "haftwright/edits/build_up.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "haftwright/design/ids.hpp"
#include "haftwright/design/limits.hpp"
#include "parts.hpp"

namespace haftwright {
namespace {

using edits::change_entry;
using edits::joints_of;
using edits::liners_of;
using edits::no_such;
using edits::on;
using edits::pieces_of;

/// The lists that must keep the same number of entries when one of `side` gets another.
struct CountedLists {
  std::vector<std::vector<Piece>*> pieces;
  std::vector<std::vector<Joint>*> joints;
};
CountedLists counted_lists(Design& design, Which side) {
  SideOverrides& right = design.right;
  if (right.pieces && right.joints) return {{&pieces_of(design, side)}, {&joints_of(design, side)}};
  CountedLists lists{{&design.left.pieces}, {&design.left.joints}};
  if (right.pieces) lists.pieces.push_back(&*right.pieces);
  if (right.joints) lists.joints.push_back(&*right.joints);
  return lists;
}

/// A joint at `place_mm` that leans like the nearest of `joints`.
Joint like_nearest(const std::vector<Joint>& joints, double place_mm) {
  Joint made;
  const auto nearest = std::ranges::min_element(
      joints, {}, [&](const Joint& joint) { return std::abs(joint.place_mm - place_mm); });
  if (nearest != joints.end()) {
    made.slant_deg = nearest->slant_deg;
    made.rake_deg = nearest->rake_deg;
  }
  made.place_mm = place_mm;
  return made;
}

}  // namespace

Edited set_front(const Design& design, Which side, const FrontFace& front) {
  Design edited = design;
  edits::field_of(edited, side, &Side::front, &SideOverrides::front) = front;
  return edited;
}

Edited set_butt_proud(const Design& design, Which side, double butt_proud_mm) {
  Design edited = design;
  edits::field_of(edited, side, &Side::butt_proud_mm, &SideOverrides::butt_proud_mm) = butt_proud_mm;
  return edited;
}

Edited add_joint(const Design& design, Which side, double place_mm) {
  Design edited = design;
  const std::vector<Joint>& there = joints_of(edited, side);
  const auto ahead = std::ranges::count_if(there, [&](const Joint& j) { return j.place_mm < place_mm; });
  const auto index = static_cast<std::size_t>(ahead);
  const std::string new_piece = new_piece_id(design);
  const std::string id = new_joint_id(design);
  const CountedLists lists = counted_lists(edited, side);
  for (std::vector<Piece>* pieces : lists.pieces) {
    if (pieces->size() >= limits::kPieces) return edits::too_many("pieces of a side", limits::kPieces);
    if (index >= pieces->size()) return no_such("piece", index, on(side));
    Piece rear = (*pieces)[index];
    rear.id = new_piece;
    pieces->insert(edits::at(*pieces, index + 1), std::move(rear));
  }
  for (std::vector<Joint>* joints : lists.joints) {
    Joint joint = like_nearest(*joints, place_mm);
    joint.id = id;
    joints->insert(edits::at(*joints, std::min(index, joints->size())), std::move(joint));
  }
  edits::match_joint_ids(edited);
  return edited;
}

Edited remove_piece(const Design& design, Which side, std::size_t piece) {
  Design edited = design;
  const std::size_t joint = piece == 0 ? 0 : piece - 1;
  const CountedLists lists = counted_lists(edited, side);
  for (std::vector<Piece>* pieces : lists.pieces) {
    if (piece >= pieces->size()) return no_such("piece", piece, on(side));
    if (pieces->size() == 1) return Edited::refused("a side keeps at least one piece");
    pieces->erase(edits::at(*pieces, piece));
  }
  for (std::vector<Joint>* joints : lists.joints)
    if (joint < joints->size()) joints->erase(edits::at(*joints, joint));
  edits::match_joint_ids(edited);
  edits::drop_lost_hand_places(design, edited);
  return edited;
}

Edited set_piece(const Design& design, Which side, std::size_t piece, const Piece& value) {
  const auto list = [side](Design& edited) -> std::vector<Piece>& { return pieces_of(edited, side); };
  return change_entry(design, list, piece, "piece", on(side), [&](Piece& changed) {
    std::string id = std::move(changed.id);
    changed = value;
    changed.id = std::move(id);
  });
}

Edited swap_pieces(const Design& design, Which side, std::size_t a, std::size_t b) {
  Design edited = design;
  std::vector<Piece>& pieces = pieces_of(edited, side);
  if (std::max(a, b) >= pieces.size()) return no_such("piece", std::max(a, b), on(side));
  std::swap(pieces[a], pieces[b]);
  return edited;
}

Edited add_spacer(const Design& design, Which side, std::size_t joint, std::size_t before,
                  const Sheet& sheet) {
  Design edited = design;
  std::vector<Joint>& joints = joints_of(edited, side);
  if (joint >= joints.size()) return no_such("joint", joint, on(side));
  std::vector<Sheet>& spacers = joints[joint].spacers;
  if (spacers.size() >= limits::kSheets) return edits::too_many("spacer strips of a joint", limits::kSheets);
  spacers.insert(edits::at(spacers, std::min(before, spacers.size())), sheet);
  return edited;
}

Edited set_spacer(const Design& design, Which side, std::size_t joint, std::size_t spacer,
                  const Sheet& sheet) {
  Design edited = design;
  std::vector<Joint>& joints = joints_of(edited, side);
  if (joint >= joints.size()) return no_such("joint", joint, on(side));
  if (spacer >= joints[joint].spacers.size()) return no_such("spacer strip", spacer, " in that joint");
  joints[joint].spacers[spacer] = sheet;
  return edited;
}

Edited remove_spacer(const Design& design, Which side, std::size_t joint, std::size_t spacer) {
  Design edited = design;
  std::vector<Joint>& joints = joints_of(edited, side);
  if (joint >= joints.size()) return no_such("joint", joint, on(side));
  std::vector<Sheet>& spacers = joints[joint].spacers;
  if (spacer >= spacers.size()) return no_such("spacer strip", spacer, " in that joint");
  spacers.erase(edits::at(spacers, spacer));
  return edited;
}

Edited add_liner(const Design& design, Which side, std::size_t before, const Sheet& sheet) {
  Design edited = design;
  std::vector<Sheet>& liners = liners_of(edited, side);
  if (liners.size() >= limits::kSheets) return edits::too_many("liners of a side", limits::kSheets);
  liners.insert(edits::at(liners, std::min(before, liners.size())), sheet);
  for (Pin& pin : edited.pins)
    if (pin.liner_hole == HoleSize{}) pin.liner_hole = pin.scale_hole;
  return edited;
}

Edited set_liner(const Design& design, Which side, std::size_t liner, const Sheet& sheet) {
  const auto list = [side](Design& edited) -> std::vector<Sheet>& { return liners_of(edited, side); };
  return change_entry(design, list, liner, "liner", on(side), [&](Sheet& changed) { changed = sheet; });
}

Edited remove_liner(const Design& design, Which side, std::size_t liner) {
  Design edited = design;
  std::vector<Sheet>& liners = liners_of(edited, side);
  if (liner >= liners.size()) return no_such("liner", liner, on(side));
  liners.erase(edits::at(liners, liner));
  return edited;
}

}  // namespace haftwright
