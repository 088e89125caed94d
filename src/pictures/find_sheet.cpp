#include "haftwright/pictures/find_sheet.hpp"

#include <algorithm>
#include <cmath>

#include "plane.hpp"
#include "quad.hpp"

namespace haftwright {

using namespace pictures;

namespace {

constexpr int kSearch_px = 800;
// Of the picture: smaller is no sheet to measure with, larger is the picture itself.
constexpr double kLeastArea = 0.02;
constexpr double kMostArea = 0.97;
// How much of the quadrilateral the area must fill, dents by things that lie across its side included.
constexpr double kLeastFilled = 0.75;

struct Candidate {
  Quad quad{};
  bool lighter_outside = false;
  double area = 0;
};

/// Four-sided areas in a mask, in the pixels of the mask.
void collect(const Mask& mask, bool lighter_outside, std::vector<Candidate>& candidates) {
  const Parts parts = parts_of(mask);
  const double all = double{1} * mask.width * mask.height;
  for (const Parts::Part& part : parts.parts) {
    const double box = double{1} * (part.high_x - part.low_x + 1) * (part.high_y - part.low_y + 1);
    if (box < kLeastArea * all) continue;
    const auto borders = borders_of(parts, part);
    const auto outer = std::max_element(borders.begin(), borders.end(), [](const Border& a, const Border& b) {
      return a.area_px < b.area_px;
    });
    const auto hull = convex_hull(outer->corners);
    const auto quad = largest_quad(hull);
    if (!quad || !may_be_rectangle(*quad)) continue;
    const double area = area_of(*quad);
    if (area < kLeastArea * all || area > kMostArea * all || outer->area_px < kLeastFilled * area) continue;
    // Other shapes bulge past the largest quadrilateral in them: a circle by more than half.
    if (area_of(hull) > 1.15 * area) continue;
    candidates.push_back({*quad, lighter_outside, area});
  }
}

std::vector<Candidate> candidates_in(const Photo& photo) {
  const Plane plane = box_mean(seen_brightness(photo), 1);
  const float middle = two_class_threshold(plane.values, 0, 1);
  std::vector<Candidate> candidates;
  // The best threshold for all, those within either class, and two in between.
  const float low = two_class_threshold(plane.values, 0, middle);
  const float high = two_class_threshold(plane.values, middle, 1);
  for (const float threshold : {middle, high, low, (middle + high) / 2, (low + middle) / 2}) {
    Mask light(plane.width, plane.height);
    Mask dark(plane.width, plane.height);
    for (std::size_t i = 0; i < plane.values.size(); ++i) {
      light.values[i] = plane.values[i] > threshold;
      dark.values[i] = !light.values[i];
    }
    collect(light, false, candidates);
    collect(dark, true, candidates);
  }
  std::stable_sort(candidates.begin(), candidates.end(),
                   [](const Candidate& a, const Candidate& b) { return a.area > b.area; });
  return candidates;
}

/// From the one nearest to the upper left.
Quad begun_at_upper_left(const Quad& quad) {
  Quad out = quad;
  const auto first =
      std::min_element(out.begin(), out.end(), [](Vec2 a, Vec2 b) { return a.x + a.y < b.x + b.y; });
  std::rotate(out.begin(), first, out.end());
  return out;
}

}  // namespace

std::optional<FoundSheet> find_sheet(const Photo& photo) {
  if (photo.width_px < 32 || photo.height_px < 32) return {};
  const Photo small = reduced(photo, kSearch_px);
  const Vec2 scale{double{1} * photo.width_px / small.width_px,
                   double{1} * photo.height_px / small.height_px};
  const LightReader light(photo);
  for (const Candidate& candidate : candidates_in(small)) {
    Quad quad = candidate.quad;
    for (Vec2& corner : quad) corner *= scale;
    // Coarsely, then nearer. In an area with rounded corners the largest quadrilateral lies within its sides.
    const double coarse = 4 * std::max(scale.x, scale.y) + 0.03 * std::sqrt(area_of(quad));
    const auto first = fitted_quad(light, quad, coarse, candidate.lighter_outside);
    if (!first || !may_be_rectangle(first->corners)) continue;
    const auto fit = fitted_quad(light, first->corners, 4, candidate.lighter_outside);
    if (!fit || !may_be_rectangle(fit->corners)) continue;
    if (!std::all_of(fit->corners.begin(), fit->corners.end(), [&](Vec2 p) { return light.holds(p); }))
      continue;
    return FoundSheet{begun_at_upper_left(fit->corners), fit->sides_seen, fit->stray_px};
  }
  return {};
}

}  // namespace haftwright
