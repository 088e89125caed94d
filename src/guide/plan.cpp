#include "plan.hpp"

#include <algorithm>
#include <cmath>

#include "haftwright/geometry/outline_ops.hpp"

namespace haftwright::guide {

Outline circle(const Disc& disc) {
  const Vec2 reach{disc.radius_mm, 0};
  return Outline::trusted({{disc.at - reach, 1}, {disc.at + reach, 1}});
}

double gap_mm(const Disc& a, const Disc& b) {
  return glm::distance(a.at, b.at) - a.radius_mm - b.radius_mm;
}

double gap_mm(const Disc& disc, const Outline& opening) {
  return -opening.depth_mm(disc.at) - disc.radius_mm;
}

double edge_gap_mm(const Disc& disc, const Outline& plate) {
  return plate.depth_mm(disc.at) - disc.radius_mm;
}

double edge_gap_mm(const Outline& opening, const Outline& plate) {
  const double distance = boundary_distance_mm(opening, plate);
  return contains(plate, opening) ? distance : -distance;
}

double gap_to_all_mm(const Disc& disc, const DrillGuide& guide) {
  double least = HUGE_VAL;
  for (const GuideBore& bore : guide.bores) least = std::min(least, gap_mm(disc, disc_of(bore)));
  for (const SightWindow& window : guide.windows) least = std::min(least, gap_mm(disc, window.outline));
  for (const GuideLocator& locator : guide.locators) least = std::min(least, gap_mm(disc, disc_of(locator)));
  return least;
}

double foremost_front_mm(const SideLayout& side, double stop_height_mm) {
  const double lean = std::min(0.0, side.front.tan_rake * stop_height_mm);
  return std::min(side.front_spine.inner.x, side.front_belly.inner.x) + lean;
}

}  // namespace haftwright::guide
