// What a handle asks of the wood, sheets and rods at hand: blanks with all allowances, before any offcut is
// looked at.
//
// A blank of a piece is sawn to straight edges: the planes of its two ends, moved out by what is needed to
// flatten them, and an edge each along the handle at the spine and the belly. It holds the piece at every
// height of the rough thickness, so a raked end counts where it reaches farthest.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "haftwright/handle/handle.hpp"

namespace haftwright {

struct PieceNeed {
  Which side = Which::left;
  std::size_t piece = 0;  ///< front to rear
  std::string name;       ///< "left front piece"
  std::string material;
  std::vector<Vec2> outline;  ///< the blank in the handle's x and y: convex, counter-clockwise, mm
  double thickness_mm = 0;    ///< of the rough blank, before its inner face is flattened
  Grain grain;                ///< as the project has it
  bool at_hand = false;       ///< the project types the blank's length and width: nothing is to be sawn
};

/// A liner or a spacer strip.
struct SheetNeed {
  Which side = Which::left;
  PartKind kind = PartKind::liner;
  std::size_t index = 0;  ///< liner: from the tang outward; spacer: within its joint
  std::size_t joint = 0;  ///< spacers only
  std::string name;
  std::string material;
  double thickness_mm = 0;    ///< the sheet's
  std::vector<Vec2> outline;  ///< a rectangle, counter-clockwise, mm; in a frame of its own
};

struct PinNeed {
  std::size_t pin = 0;
  PinStock stock;
  double length_mm = 0;  ///< with what is to be filed off flush at both ends
};

/// Two pieces that are to look alike: of one wood, at one place of the left and the right side.
struct Mates {
  std::size_t left = 0;   ///< index of Needs::pieces
  std::size_t right = 0;  ///< the same
};

struct Needs {
  std::vector<PieceNeed> pieces;  ///< left side's first, front to rear
  std::vector<SheetNeed> sheets;
  std::vector<PinNeed> pins;
  std::vector<Mates> mates;  ///< where both sides have as many pieces
};

/// What a pin stands out at each end until it is filed flush: common practice.
inline constexpr double kPinProudMm = 1.5;

/// Allowances are the design's rules: blank_thickness_allowance_mm, blank_outline_allowance_mm,
/// blank_joint_allowance_mm. `handle` is lay_out() of the design.
Needs needs_of(const Design& design, const Handle& handle);

}  // namespace haftwright
