// The drill guide: one plate that serves both sides, so that they can't disagree.
//
// The plate stands where the tang will be. The left scale lies with its inner face on the plate's left face,
// the right scale on its right face, the drill comes from the free side through the same bores: whatever the
// plate is, both scales get it. 3-2-1 location: the plate's face, two round fences along the spine, one loose
// stop pin at the front face (pulled out for the tang, which has the blade there and stops with its butt on
// another pin). This room lays the guide out in plan; solids/ turns it into a body.
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

enum class LocatorRole { spine_fence, front_stop, butt_stop, tang_spine_stop };
enum class Serves { both_scales, left_scale, right_scale, tang, scales_and_tang };

/// A round fence standing on both faces, or a hole through the plate for a loose stop pin.
struct GuideLocator {
  LocatorRole role = LocatorRole::spine_fence;
  Serves serves = Serves::both_scales;
  Vec2 at{0, 0};
  double diameter_mm = 0;
  bool loose = false;  ///< a hole for a pin
  Vec2 contact{0, 0};  ///< the point of the blank or tang it touches, in plan
};

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
  double thickness_mm = 0;     ///< the plate fills z = -thickness/2 to +thickness/2
  double fence_height_mm = 0;  ///< above each face
  double mark_depth_mm = 0;
  std::vector<GuideBore> bores;
  std::vector<GuideLocator> locators;
  std::vector<SightWindow> windows;
  std::vector<Vec2>
      clamp_lands;  ///< centres of round places kept clear for clamps: ahead of the blank and behind it
  double clamp_land_mm = 0;  ///< their diameter
  std::vector<GuideMark> marks;
  std::vector<Finding> findings;  ///< guide length, walls, support, clearances; ids begin with "guide."
};

/// Throws InputError when no guide can be made: no pins, or no room for the fences (fields "pins",
/// "guide.…").
DrillGuide lay_out_guide(const Design& design, const Handle& handle);

}  // namespace haftwright
