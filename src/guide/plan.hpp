// Discs, outlines and the gaps between them: what the guide's layout and its self-check both measure with.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "haftwright/guide/drill_guide.hpp"
#include "haftwright/guide/spots.hpp"

namespace haftwright::guide {

struct Disc {
  Vec2 at{0, 0};
  double radius_mm = 0;
};

/// A full circle as an outline: two half-circle edges.
Outline circle(const Disc& disc);
/// Material between two discs, or between a disc and the outside of an outline; negative when they overlap.
double gap_mm(const Disc& a, const Disc& b);
double gap_mm(const Disc& disc, const Outline& opening);
/// Material between a disc or an opening and the plate's edge; negative when it sticks out.
double edge_gap_mm(const Disc& disc, const Outline& plate);
double edge_gap_mm(const Outline& opening, const Outline& plate);

inline Disc disc_of(const GuideBore& bore) {
  return {bore.at, bore.diameter_mm / 2};
}
inline Disc disc_of(const GuideLocator& locator) {
  return {locator.at, locator.diameter_mm / 2};
}

/// Least gap from a disc to every bore, window and locator laid out so far.
double gap_to_all_mm(const Disc& disc, const DrillGuide& guide);

// The steps of lay_out_guide, in order; each adds to the guide.
void add_bores(const Design& design, const Handle& handle, DrillGuide& guide);
void add_windows(const Design& design, const Handle& handle, DrillGuide& guide);
void add_locators(const Design& design, const Handle& handle, DrillGuide& guide);
void add_marks(DrillGuide& guide);

/// A fence touches an edge that runs within this of the handle; steeper, it would hold the blank lengthwise
/// too. A working limit of this program.
constexpr double kSteepestFenceDeg = 8;
/// Where fences are put; the rest is left for edges that turn between the places looked at.
constexpr double kSteepestPlacedDeg = 6;
/// Angle of a direction from the handle's axis, either way; 0 to 90.
double slope_deg(Vec2 along);
/// A place on the edge, met by the line across the handle at one x.
struct OnEdge {
  Vec2 at{0, 0};
  std::size_t edge = 0;
  double t = 0;
  Vec2 along{1, 0};  ///< counter-clockwise: forward on the spine, rearward on the belly
};
std::optional<OnEdge> on_edge(const Outline& outline, HandleEdge edge, double x);
/// Steepest of the edge for as far as the blank is worked beside a fence or pin.
double steepest_beside_deg(const Handle& handle, const GuideLocator& fence);
/// Whether the blank's edge has to be worked over its whole length: loose pins hold it where it is steep.
bool worked_whole(const Handle& handle, const DrillGuide& guide);
/// Contacts of a pair of fences are to be this far apart.
double least_fence_spread_mm(const Handle& handle);

/// Room between a fence's end and what lies under the work. Common practice.
constexpr double kFenceBelowBlankMm = 1;
/// How far a drill has to stand out of its chuck to come through the thickest blank.
double drill_out_mm(const Design& design, const DrillGuide& guide, const GuideBore& bore);
/// Whether the chuck, coming down on this bore, would meet a fence on the drill's side of the plate.
bool chuck_over_fence(const DrillGuide& guide, const GuideBore& bore);

/// Range of x over the front face's foot on a side: where a stop pin and the plate's front end have to stand
/// off.
double foremost_front_mm(const SideLayout& side, double stop_height_mm);

}  // namespace haftwright::guide
