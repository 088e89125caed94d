// A drill guide laid out by hand, whose volume can be told by hand.
#pragma once

#include <utility>

#include "haftwright/guide/drill_guide.hpp"

namespace haftwright::test {

inline Outline box(double x0, double y0, double x1, double y1) {
  return Outline({{{x0, y0}, 0}, {{x1, y0}, 0}, {{x1, y1}, 0}, {{x0, y1}, 0}});
}

/// A plate of 120 x 60 mm or more, 12 mm thick, with everything a guide can have.
inline DrillGuide hand_made_guide(Outline plate) {
  DrillGuide guide{.plate = std::move(plate)};
  guide.thickness_mm = 12;
  guide.fence_height_mm = 5;
  guide.mark_depth_mm = 0.5;
  guide.bores = {{0, {30, 30}, 3.2, 3.25, false}, {1, {80, 28}, 6.4, 9.55, true}};
  guide.locators.push_back({LocatorRole::edge_fence, Serves::both_scales, {35, 50}, 8, false, {35, 46}});
  guide.locators.push_back({LocatorRole::edge_fence, Serves::both_scales, {90, 50}, 8, false, {90, 46}});
  guide.locators.push_back({LocatorRole::front_stop, Serves::both_scales, {10, 30}, 6, true, {13, 30}});
  guide.windows.push_back({.outline = box(55, 38, 60, 47)});
  guide.marks.push_back({GuideMark::Kind::letter, true, {box(5, 5, 6.5, 15), box(5, 5, 11, 6.5)}});
  guide.marks.push_back({GuideMark::Kind::letter, false, {box(105, 5, 106.5, 15)}});
  return guide;
}

}  // namespace haftwright::test
