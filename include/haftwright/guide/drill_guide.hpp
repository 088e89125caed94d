// The drill guide: one plate that serves both sides, so that they can't disagree.
//
// The plate stands where the tang will be. The left scale lies with its inner face on the plate's left face,
// the right scale on its right face, the drill comes from the free side through the same bores: whatever the
// plate is, both scales get it. 3-2-1 location: the plate's face, two round fences along the spine, one loose
// stop pin at the front face (pulled out for the tang, which has the blade there and stops with its butt on
// another pin). This room lays the guide out in plan; solids/ turns it into a body.
#pragma once

#include <string>
#include <vector>

#include "haftwright/checks/finding.hpp"
#include "haftwright/handle/handle.hpp"

namespace haftwright {

struct GuideBore {
  std::size_t pin = 0;
  Vec2 at{0, 0};
  double drill_mm = 0;     ///< scale hole the bore guides for
  double diameter_mm = 0;  ///< of the bore in the plate
  bool for_bushing = false;
};

enum class LocatorRole { spine_fence, front_stop, butt_stop, tang_spine_stop };
/// A round fence standing on both faces, or a hole through the plate for a loose stop pin.
struct GuideLocator {
  LocatorRole role = LocatorRole::spine_fence;
  Vec2 at{0, 0};
  double diameter_mm = 0;
  bool loose = false;  ///< a hole for a pin
  Vec2 contact{0, 0};  ///< the point of the blank or tang it touches
};

/// Through the plate; its edge from `joint_from` to `joint_to` lies on a joint line at the inner face.
struct SightWindow {
  Which side = Which::left;
  std::size_t joint = 0;
  bool at_spine = true;
  Outline outline;
  Vec2 joint_from{0, 0};
  Vec2 joint_to{0, 0};
};

/// A shallow mark cut into one face: letters L and R, an arrow to the front, clamp lands.
struct GuideMark {
  enum class Kind { letter_left, letter_right, front_arrow, clamp_land };
  Kind kind = Kind::front_arrow;
  bool on_left_face = true;
  std::vector<Outline> strokes;
};

struct DrillGuide {
  Outline plate;
  double thickness_mm = 0;
  double fence_height_mm = 0;  ///< above each face
  double mark_depth_mm = 0;
  std::vector<GuideBore> bores;
  std::vector<GuideLocator> locators;
  std::vector<SightWindow> windows;
  std::vector<Vec2> clamp_lands;  ///< centres of round places kept clear for clamps
  double clamp_land_mm = 0;
  std::vector<GuideMark> marks;
  std::vector<Finding> findings;  ///< guide length, walls, support, clearances; ids begin with "guide."
};

/// Throws InputError (fields under "guide.") when no guide can be made: no pins, no room for fences.
DrillGuide lay_out_guide(const Design& design, const Handle& handle);

}  // namespace haftwright
