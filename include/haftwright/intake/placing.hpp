// A flat part taken out of a drawing and laid into a frame of its own: x from one end to the other.
#pragma once

#include <utility>

#include "haftwright/intake/loops.hpp"

namespace haftwright::intake {

/// Two places on the drawing, in millimetres, the second towards the rear.
struct AxisPoints {
  Vec2 front{0, 0};
  Vec2 rear{1, 0};
};

/// How the part is laid. First it is mirrored, then turned.
struct Placing {
  bool mirror = false;             ///< seen from the other face: top and bottom change places
  std::optional<double> turn_deg;  ///< counter-clockwise; none and no axis: a part that is higher than long
                                   ///< is turned by a quarter, clockwise
  std::optional<AxisPoints> axis;  ///< on the drawing as it is; becomes y = 0, front to rear along x
  bool front_right = false;        ///< the front is its right end then: turned half round
  double front_mm = 0;             ///< from the front end to x = 0, not negative
};

struct PlacedPart {
  std::vector<Node> outline;  ///< counter-clockwise
  std::vector<Round> holes;   ///< front to rear
  std::vector<std::vector<Node>> cutouts;
  std::size_t islands = 0;  ///< loops inside holes and cutouts, left out
  double turned_deg = 0;    ///< counter-clockwise, all in all
  double length_mm = 0;     ///< from x = 0 to the rear end
  double height_mm = 0;
};

/// Lays the loop `chosen` with what it holds. Without an axis y = 0 is the mean of the part's middle line
/// from x = 0 to its rear end. Throws IntakeError where the front would lie behind the part, the axis has no
/// length, or a closed line in its place is spoilt; std::out_of_range for no such loop.
PlacedPart place(const Loops& loops, std::size_t chosen, const Placing& placing);

}  // namespace haftwright::intake
