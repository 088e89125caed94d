// The drill guide: one plate that serves both sides, so that they can't disagree.
//
// The plate stands where the tang will be. The left scale lies with its inner face on the plate's left face,
// the right scale on its right face, the drill comes from the free side through the same bores: whatever the
// plate is, both scales get it. Where the tang is tapered the plate is a wedge, each face tilted by half the
// taper, so that the bores stand square to the mid-plane as the pins do.
//
// A scale's blank is located in plan by two round fences along its spine (or belly, where that is the
// straighter edge) and along the handle by its joint lines in the sight windows; a scale without a joint has
// a loose stop pin at its front face instead. Never both: a stop would keep the joint from its window. Blanks
// may stay oversize at the butt, at the other edge and, where there is a joint, at the front. The tang, which
// is finished steel, stops with its butt on a loose pin. This room lays the guide out in plan; solids/ turns
// it into a body.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "haftwright/checks/finding.hpp"
#include "haftwright/handle/handle.hpp"

namespace haftwright {

struct GuideBore {
  std::size_t pin = 0;
  Vec2 at{0, 0};
  double drill_mm = 0;     ///< the scale's drill, nominal; a typed hole counts as its own drill
  double diameter_mm = 0;  ///< of the bore in the plate
  bool for_bushing = false;
};

/// edge_fence: along the spine or belly. tang_stop: the same for the tang alone, where the fences stand off
/// from it by the blank's allowance.
enum class LocatorRole { edge_fence, front_stop, butt_stop, tang_stop };
enum class Serves { both_scales, left_scale, right_scale, tang, scales_and_tang };

/// A round fence standing on both faces, or a hole through the plate for a loose pin.
struct GuideLocator {
  LocatorRole role = LocatorRole::edge_fence;
  Serves serves = Serves::both_scales;
  Vec2 at{0, 0};
  double diameter_mm = 0;
  bool loose = false;                   ///< a hole for a pin
  Vec2 contact{0, 0};                   ///< the point of the blank or tang it touches, in plan
  HandleEdge edge = HandleEdge::spine;  ///< edge_fence and tang_stop: the edge it touches
};
bool serves(const GuideLocator& locator, Which side);
bool serves_tang(const GuideLocator& locator);

/// How far to each side of its contact, along x, a fence needs the blank's edge worked to its line.
double worked_beside_mm(const GuideLocator& locator);

/// Through the plate; its edge from `joint_from` to `joint_to` lies on the foremost line of a joint, as that
/// line runs on the inner face of the pieces, and reaches past the blank's edge.
struct SightWindow {
  std::size_t joint = 0;
  bool for_left = true;
  bool for_right = true;
  bool at_spine = true;
  Outline outline;
  Vec2 joint_from{0, 0};
  Vec2 joint_to{0, 0};
};

/// A shallow mark cut into one face. Strokes of one mark may overlap.
struct GuideMark {
  enum class Kind { letter, front_arrow, clamp_land };
  Kind kind = Kind::front_arrow;
  bool on_left_face = true;  ///< reads L there, R on the other face, each seen from its own side
  std::vector<Outline> strokes;
};

struct DrillGuide {
  Outline plate;
  double thickness_mm = 0;     ///< at x = 0; the plate fills z from -face_z_mm(x) to +face_z_mm(x)
  double thickness_slope = 0;  ///< d(thickness)/dx: the tang's own on a wedged plate, else 0
  double fence_height_mm = 0;  ///< above each face at the fence's axis; square to the mid-plane there
  double mark_depth_mm = 0;
  std::vector<GuideBore> bores;
  std::vector<GuideLocator> locators;
  std::vector<SightWindow> windows;
  std::vector<Vec2>
      clamp_lands;  ///< centres of round places kept clear for clamps: ahead of the blank and behind it
  double clamp_land_mm = 0;  ///< their diameter
  std::vector<GuideMark> marks;
  std::vector<Finding> findings;  ///< what check_guide found; ids begin with "guide."

  double thickness_at_mm(double x) const { return thickness_mm + thickness_slope * x; }
  /// Height of the left face above the mid-plane; the right face lies as far below it.
  double face_z_mm(double x) const { return thickness_at_mm(x) / 2; }
  double fence_top_mm(const GuideLocator& fence) const { return face_z_mm(fence.at.x) + fence_height_mm; }
};

/// Lays the guide out and checks it. Throws InputError when no guide can be made: no pins, no room for the
/// fences, a wedge that runs out (fields "pins", "guide.…").
DrillGuide lay_out_guide(const Design& design, const Handle& handle);

/// What the guide finds on its own plan: guide length, walls, support, clearances, each locator against every
/// part at blank size and at finished size, lifting out, the drill's reach. `guide` may be any plan for this
/// handle; its own findings are not looked at.
std::vector<Finding> check_guide(const Design& design, const Handle& handle, const DrillGuide& guide);

}  // namespace haftwright
