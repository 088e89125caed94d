// The edits a maker makes by hand, each a pure function: Design in, new Design or refusal out.
//
// Fields without a rule of their own (names, adhesive, guide, tang thickness ...) need no function here: copy
// the Design, set the field, hand it to the Document. The functions below know what belongs together: linked
// sides, a joint with its piece, a pin with the tang hole it goes through.
//
// Linked sides: what the right side does not override follows the left, so an edit of a linked field on the
// right side goes to the left. Indices that are out of range are refused, never undefined.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "haftwright/handle/handle.hpp"
#include "haftwright/session/edited.hpp"

namespace haftwright {

// --- Linking the sides --------------------------------------------------------------------------------

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
/// Left becomes right and right becomes left, mirrored. Linked fields stay linked.
Edited swap_sides(const Design& design);

// --- Pins -----------------------------------------------------------------------------------------------

/// How a dragged pin may go.
struct PinPath {
  bool along_axis = false;    ///< keeps its y
  double snap_within_mm = 0;  ///< goes to an even spacing, and to the axis or another pin's y, this near
};
/// x places at which the pin would be evenly spaced: half-way between its neighbours, or as far from one
/// neighbour as that is from the next. Sorted.
std::vector<double> even_spacings_mm(const Design& design, std::size_t pin);
/// y places at which the pin would be level with the axis or another pin. Sorted, each once.
std::vector<double> level_places_mm(const Design& design, std::size_t pin);
/// Refused for a pin in a hole the tang has already.
Edited move_pin(const Design& design, std::size_t pin, Vec2 to_mm, const PinPath& path = {});
/// Where one more hole of that diameter has most room: on the axis, or midway between the edges where the
/// axis runs outside, as far as can be from the outlines, cutouts, joint lines and other holes; tried every
/// 0.5 mm. None where it would touch one of them everywhere.
std::optional<Vec2> roomiest_place_mm(const Design& design, const Handle& handle, double diameter_mm);
/// A pin like the nearest one there is (a 3 mm or 1/8 in brass pin when it is the first), with a new name.
Edited add_pin(const Design& design, Vec2 at_mm);
/// The same at the roomiest place; refused where there is none.
Edited add_pin(const Design& design, const Handle& handle);
Edited remove_pin(const Design& design, std::size_t pin);
/// Readings of the dry fit that are taken from it follow. Refused while there are any and the name is empty
/// or another pin's.
Edited rename_pin(const Design& design, std::size_t pin, const std::string& name);
/// Sends the pin through a hole the tang has already; the pin moves to its middle.
Edited use_tang_hole(const Design& design, std::size_t pin, const std::string& hole);
/// The pin gets a hole of its own in the tang, of the scale hole's size.
Edited drill_tang_hole(const Design& design, std::size_t pin);

// --- Pieces, joints, spacer strips, liners --------------------------------------------------------------
// Where pieces or joints are linked, both sides have the same number of them, and adding or removing one
// does so on both.

Edited move_joint(const Design& design, Which side, std::size_t joint, double place_mm);
/// The same, settling where the other side has its joint of that number when that is this near.
Edited move_joint(const Design& design, Which side, std::size_t joint, double place_mm,
                  double snap_within_mm);
Edited slant_joint(const Design& design, Which side, std::size_t joint, double slant_deg);
Edited rake_joint(const Design& design, Which side, std::size_t joint, double rake_deg);
/// No nearer than this to where a joint turns can it be taken hold of to turn it.
inline constexpr double kLeastLeverMm = 0.5;
/// Turns the joint about its place so that its middle plane goes through (x, y, s); the slant settles at 0
/// and at the other side's when it comes this near. Refused with |y| under kLeastLeverMm.
Edited slant_joint_through(const Design& design, Which side, std::size_t joint, Vec3 xys,
                           double snap_within_deg = 0);
/// The same for the rake. Refused with s under kLeastLeverMm.
Edited rake_joint_through(const Design& design, Which side, std::size_t joint, Vec3 xys,
                          double snap_within_deg = 0);
Edited set_front(const Design& design, Which side, const FrontFace& front);
Edited set_butt_proud(const Design& design, Which side, double butt_proud_mm);

/// Parts the piece at x = `place_mm` in two of the same wood, with a joint leaning like its nearest
/// neighbour.
Edited add_joint(const Design& design, Which side, double place_mm);
/// Takes a piece and the joint ahead of it away (for the front piece, the joint behind it).
Edited remove_piece(const Design& design, Which side, std::size_t piece);
Edited set_piece(const Design& design, Which side, std::size_t piece, const Piece& value);
/// The two change places; joints stay.
Edited swap_pieces(const Design& design, Which side, std::size_t a, std::size_t b);

/// `before`: index the new strip gets; up to the number there are.
Edited add_spacer(const Design& design, Which side, std::size_t joint, std::size_t before,
                  const Sheet& sheet);
Edited set_spacer(const Design& design, Which side, std::size_t joint, std::size_t spacer,
                  const Sheet& sheet);
Edited remove_spacer(const Design& design, Which side, std::size_t joint, std::size_t spacer);

/// Pins whose liner hole is not given yet get their scale hole's.
Edited add_liner(const Design& design, Which side, std::size_t before, const Sheet& sheet);
Edited set_liner(const Design& design, Which side, std::size_t liner, const Sheet& sheet);
Edited remove_liner(const Design& design, Which side, std::size_t liner);

// --- Finish ---------------------------------------------------------------------------------------------

Edited set_finish(const Design& design, Which side, const Finish& finish);
Edited move_station(const Design& design, Which side, std::size_t station, double x_mm, double thickness_mm);
/// On the curve as it is, so that the surface hardly changes.
Edited add_station(const Design& design, Which side, double x_mm);
Edited remove_station(const Design& design, Which side, std::size_t station);

// --- Tang -----------------------------------------------------------------------------------------------

/// The tang's outline, or one of its cutouts.
struct OutlineOf {
  std::optional<std::size_t> cutout;  ///< none: the tang itself
};
Edited move_node(const Design& design, OutlineOf of, std::size_t node, Vec2 to_mm);
/// Bends the edge that leaves `node`; 0 makes it straight.
Edited bend_edge(const Design& design, OutlineOf of, std::size_t node, double bulge);
/// The same, so that the edge goes through a point; nearer to the straight line between its ends than
/// `straight_within_mm` it becomes straight. Refused at an end of the edge and in line with it outside.
Edited bend_edge_through(const Design& design, OutlineOf of, std::size_t node, Vec2 point,
                         double straight_within_mm = 0);
/// The same, by how far the middle of the edge stands out from the straight line between its ends, positive
/// away from the inside.
Edited set_edge_rise(const Design& design, OutlineOf of, std::size_t node, double rise_mm);
/// What set_edge_rise sets; none where there is no such edge.
std::optional<double> edge_rise_mm(const Design& design, OutlineOf of, std::size_t node);
/// A new node on the edge that leaves `node`, at parameter 0 < t < 1; the shape stays exactly as it is.
Edited split_edge(const Design& design, OutlineOf of, std::size_t node, double t);
/// The edge before it runs straight to the next node.
Edited remove_node(const Design& design, OutlineOf of, std::size_t node);
Edited remove_cutout(const Design& design, std::size_t cutout);
/// The whole cutout, as it is.
Edited move_cutout(const Design& design, std::size_t cutout, Vec2 by_mm);

/// Named "hole 1", "hole 2" ...
Edited add_tang_hole(const Design& design, Vec2 at_mm, double diameter_mm);
/// The same at the roomiest place; refused where there is none.
Edited add_tang_hole(const Design& design, const Handle& handle, double diameter_mm);
/// Refused for a diameter that is not positive.
Edited size_tang_hole(const Design& design, std::size_t hole, double diameter_mm);
/// Pins through it move with it.
Edited move_tang_hole(const Design& design, std::size_t hole, Vec2 to_mm);
/// Pins through it keep going through it.
Edited rename_tang_hole(const Design& design, std::size_t hole, const std::string& name);
/// Refused while a pin goes through it.
Edited remove_tang_hole(const Design& design, std::size_t hole);

// --- Shop rules -----------------------------------------------------------------------------------------

/// Refused outside the rule's range, which the refusal names.
Edited set_rule(const Design& design, double ShopRules::*rule, double value);

}  // namespace haftwright
