// The kinds of thing that can be taken hold of: where their grips are on a handle, what a drag, a nudge and a
// typed value do, what can be said of them meanwhile, and how they are taken away.
//
// All of a kind is one row, a Draggable, in a file of its own; draggables() lists the rows. Nothing here
// knows of a screen: places are millimetres on the handle.
#pragma once

#include <cstddef>
#include <limits>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "haftwright/design/quantities.hpp"
#include "haftwright/edits/edited.hpp"
#include "haftwright/edits/selection.hpp"
#include "haftwright/edits/sides.hpp"
#include "haftwright/handle/fold_place.hpp"
#include "haftwright/handle/handle.hpp"

namespace haftwright {

/// A place where something can be taken hold of.
struct Grip {
  Selection what;
  FoldPlace place;
  std::string label;                    ///< name of the step that dragging it makes: "Move pin 3"
  Vec3 xys{0, 0, 0};                    ///< of a joint: the place held, in the frame that joints are given in
  std::optional<HandleEdge> seen_from;  ///< on the strip: only from that edge; none: from both
  double room_mm = std::numeric_limits<double>::infinity();  ///< a drawing with less has no room for it
};

/// A drag: always from the design as it was when the thing was taken hold of.
struct Drag {
  const Design& base;
  const Handle& handle;  ///< of `base`, or of an earlier step of the same drag
  const Grip& grip;      ///< of `base`
  Vec2 to_mm{0, 0};      ///< in the coordinates of the grip's place
  bool one_way = false;  ///< along the handle only; of a thickness: its size only
  double snap_mm = 0;    ///< reach of what it settles at; 0: nothing

  Vec2 from_mm() const { return {grip.place.x_mm, grip.place.y_or_z_mm}; }
  /// `to_mm`, held to the way along the handle if it is one_way.
  Vec2 held_to_mm() const { return {to_mm.x, one_way ? from_mm().y : to_mm.y}; }
};

/// A small way by a key.
struct Nudge {
  Vec2 by_mm{0, 0};     ///< in the coordinates of the grip's place
  double turn_deg = 0;  ///< of what turns
  double rise_mm = 0;   ///< of what is bent
};

/// A figure that can be typed.
struct TypedValue {
  const char* label;
  const char* tip;
  schema::Quantity quantity;
  double (*get)(const Design& design, const Selection& what);
  Edited (*set)(const Design& design, const Selection& what, double value);
  std::string (*step)(const Design& design, const Selection& what);  ///< name of the step it makes
};

/// Something else that can be done to the thing itself.
struct ThingAction {
  const char* label;
  const char* tip;
  const char* step;
  Edited (*make)(const Design& design, const Selection& what);
};

/// What the numbers beside a held thing are taken from.
struct HeldThing {
  const Design& design;
  const Design& base;    ///< as it was when it was taken hold of
  const Handle& handle;  ///< of `design`
};

/// How its grips look.
enum class GripLook { pin, cross, diamond, square, dot, ring };

struct Draggable {
  const char* noun;  ///< "pin"
  const char* how;   ///< how it is dragged, a sentence
  GripLook look = GripLook::ring;
  bool of_tang = false;             ///< taken hold of only while the tang's own shape is worked on
  std::optional<SideField> shared;  ///< what links it to the other side's
  /// Ids of all there are on a side, in order; null where things of this kind have none.
  std::vector<std::string> (*ids)(const Design& design, Which side) = nullptr;
  /// Whether there is such a thing. All other functions but `ids` and `add_grips` are called only when there
  /// is.
  bool (*exists)(const Design& design, const Selection& what);
  void (*add_grips)(const Design& design, const Handle& handle, std::vector<Grip>& grips);
  std::string (*title)(const Design& design, const Selection& what);
  /// Plain sentences on where it is now and how far it has come.
  std::vector<std::string> (*tell)(const HeldThing& held, const Selection& what);
  Edited (*drag)(const Drag& drag, const Selection& what);
  Edited (*nudge)(const Design& design, const Selection& what, const Nudge& nudge);
  Edited (*remove)(const Design& design, const Selection& what);  ///< null: it can't be taken away by itself
  std::span<const TypedValue> values;
  std::span<const ThingAction> actions;
};

namespace draggable {
extern const Draggable station, joint, joint_slant, joint_rake, cutout, edge, corner, tang_hole, pin;
}

/// All kinds. Where two things lie on each other, what comes later lies on top.
std::span<const Draggable* const> draggables();

/// Every grip on a handle laid out from `design`.
std::vector<Grip> grips_of(const Design& design, const Handle& handle,
                           std::span<const Draggable* const> kinds = draggables());
/// Whether something is selected and there.
bool exists(const Design& design, const Selection& what);
/// Refused when nothing is held, or it is not there any more.
Edited dragged(const Drag& drag);
/// Refused when nothing is selected, or it is not there any more.
Edited nudged(const Design& design, const Selection& what, const Nudge& nudge);
/// Refused as nudged() is, and for what can't be taken away by itself.
Edited removed(const Design& design, const Selection& what);
bool removable(const Selection& what);
/// "Remove pin 3".
std::string removal_step(const Design& design, const Selection& what);
/// The thing that stands at `index` now.
Selection selected_at(const Design& design, const Draggable& kind, Which side, std::size_t index);
/// Where what is selected stands in its list now; past the list's end where it is gone.
std::size_t index_now(const Design& design, const Selection& what);
/// Whether both sides can be told apart in it, and what would link them.
std::optional<SideField> linked_field(const Selection& what);
/// The joint itself, or a grip that turns it.
bool is_joint(const Selection& what);

}  // namespace haftwright
