// Discs, outlines and the gaps between them: what the guide's layout and its self-check both measure with.
#pragma once

#include <string>
#include <vector>

#include "haftwright/guide/drill_guide.hpp"

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

std::string name_of(const GuideLocator& locator);
std::string name_of(const SightWindow& window);

// The steps of lay_out_guide, in order; each adds to the guide.
void add_bores(const Design& design, const Handle& handle, DrillGuide& guide);
void add_windows(const Design& design, const Handle& handle, DrillGuide& guide);
void add_locators(const Design& design, const Handle& handle, DrillGuide& guide);
void add_marks(DrillGuide& guide);
void check_guide(const Design& design, const Handle& handle, DrillGuide& guide);

/// Range of x over the front face's foot on a side: where a stop pin and the plate's front end have to stand
/// off.
double foremost_front_mm(const SideLayout& side, double stop_height_mm);

}  // namespace haftwright::guide
