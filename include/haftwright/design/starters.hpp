// Tang outlines to start from, by a few measurements.
#pragma once

#include <vector>

#include "haftwright/design/design.hpp"

namespace haftwright {

/// A straight tang: level spine and belly tapering evenly from front to butt, butt corners rounded.
struct StraightTang {
  double length_mm = 110;  ///< x = 0 to the rearmost point
  double front_height_mm = 25;
  double butt_height_mm = 28;
  double butt_corner_mm = 8;  ///< radius of both butt corners; 0 leaves them square
  double ricasso_mm = 8;      ///< steel ahead of the front face
};
/// A tang whose belly swells to a drop at the butt and whose spine bows: lines and arcs only.
struct BowedTang {
  double length_mm = 115;
  double front_height_mm = 24;
  double butt_height_mm = 30;
  double spine_rise_mm = 2;    ///< how far the spine's arc stands above its chord
  double belly_rise_mm = 2.5;  ///< how far the belly's arc cuts in above its chord
  double butt_corner_mm = 9;
  double ricasso_mm = 8;
};
/// Throw std::invalid_argument naming the measurement that makes no shape.
std::vector<Node> starter_outline(const StraightTang& tang);
std::vector<Node> starter_outline(const BowedTang& tang);

/// A liner or spacer strip to start from.
Sheet starter_sheet();

/// A whole design to start from: two pieces a side with a spacer strip between them, a liner, three pins on
/// the axis, sized to the tang. Pins and drills are listed metric or inch sizes as `unit` says.
Design starter_design(std::vector<Node> tang_outline, double tang_thickness_mm, LengthUnit unit);

/// Holes of this size may be meant for pins (common practice; judgement where it ends: below lie pilot holes,
/// above lanyard tubes and holes that save weight).
inline constexpr double kLeastPinHoleMm = 1.5;
inline constexpr double kMostPinHoleMm = 7;

/// The same for a tang that is known as it is. Holes behind the front face that may be meant for pins get one
/// each, thinner by the middle of what `rules` ask for as clearance, through scale holes as large, and the
/// joint stands between two of them. Where there is none, three pins stand on the axis, or along the middle
/// of the tang where the axis leaves too little steel, clear of its cutouts.
Design starter_design(Tang tang, const ShopRules& rules, LengthUnit unit);

}  // namespace haftwright
