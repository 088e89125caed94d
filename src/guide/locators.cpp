// 3-2-1 location in the plate's plane: two fences along the spine, a stop at the front face, and stops for
// the tang.
#include <algorithm>
#include <cmath>
#include <optional>

#include "haftwright/design/validate.hpp"
#include "haftwright/geometry/outline_ops.hpp"
#include "plan.hpp"

namespace haftwright::guide {
namespace {

constexpr double kSearchStepMm = 0.5;
/// A fence may touch the spine where it runs within about 37 degrees of the axis; steeper, it would locate x
/// too.
constexpr double kLeastUpwardNormal = 0.8;

struct Contact {
  Vec2 point;
  Vec2 outward;
};

std::optional<Contact> spine_at(const Outline& outline, double x) {
  const auto hits = crossings(outline, {x, 0}, {0, 1});
  if (hits.empty()) return std::nullopt;
  const Nearest at = outline.nearest(hits.back().point);
  const Vec2 along = outline.edges()[at.edge].direction(at.t);
  return Contact{at.point, {along.y, -along.x}};
}

/// A round locator touching the spine at x, standing off by `allowance_mm`; none where it would not fit.
std::optional<GuideLocator> spine_locator(const Outline& spine, double x, const GuideLocator& like,
                                          double allowance_mm, double wall_mm, const DrillGuide& guide) {
  const auto contact = spine_at(spine, x);
  if (!contact || contact->outward.y < kLeastUpwardNormal) return std::nullopt;
  const double stand_off = like.diameter_mm / 2 + allowance_mm;
  GuideLocator locator = like;
  locator.at = contact->point + contact->outward * stand_off;
  locator.contact = contact->point + contact->outward * allowance_mm;
  // In a hollow of the spine the disc would touch twice, or cut in: only a single clean contact locates.
  constexpr double kContactTolerance = 1e-6;
  if (spine.depth_mm(locator.at) > -stand_off + kContactTolerance) return std::nullopt;
  const Disc disc = disc_of(locator);
  const double rim = locator.loose ? wall_mm : 0.0;
  if (edge_gap_mm(disc, guide.plate) < rim || gap_to_all_mm(disc, guide) < wall_mm) return std::nullopt;
  return locator;
}

/// Two locators along the spine, as far apart as the plan allows.
void add_spine_pair(const Outline& spine, const GuideLocator& like, double from_x, double to_x,
                    double allowance_mm, double wall_mm, DrillGuide& guide) {
  std::optional<GuideLocator> front;
  std::optional<GuideLocator> rear;
  for (double x = from_x; x <= to_x; x += kSearchStepMm) {
    const auto here = spine_locator(spine, x, like, allowance_mm, wall_mm, guide);
    if (!here) continue;
    if (!front) front = here;
    rear = here;
  }
  if (!front || gap_mm(disc_of(*front), disc_of(*rear)) < wall_mm)
    throw InputError(
        "guide.fence_diameter_mm",
        "no room for two " + name_of(like) +
            "s along the spine between the windows and bores; make them thinner, or give the guide "
            "a wider margin (guide.margin_mm) or shorter windows (guide.window_length_mm)");
  guide.locators.push_back(*front);
  guide.locators.push_back(*rear);
}

void add_front_stop(const SideLayout& side, Serves serves, const Design& design, DrillGuide& guide) {
  const double radius = design.guide.stop_pin_mm / 2;
  const double low = side.front_belly.inner.y;
  const double high = side.front_spine.inner.y;
  const double slope = std::hypot(1.0, side.front.tan_slant);
  const Vec2 rearward{1 / slope, -side.front.tan_slant / slope};
  // A front face that leans forward touches the pin at the pin's end, not at its foot.
  const double lean = std::min(0.0, side.front.tan_rake * design.guide.fence_height_mm);
  std::optional<GuideLocator> best;
  double best_gap = -HUGE_VAL;
  for (double share : {0.5, 0.35, 0.65, 0.2, 0.8}) {  // the middle of the face first
    const double y = low + share * (high - low);
    GuideLocator stop{LocatorRole::front_stop, serves, {0, 0}, 2 * radius, true, {0, 0}};
    stop.contact = {side.front.x_at(y, 0) + lean, y};
    stop.at = stop.contact - rearward * radius;
    const double gap = std::min(gap_to_all_mm(disc_of(stop), guide), edge_gap_mm(disc_of(stop), guide.plate));
    if (gap > best_gap + 1e-9) {
      best = stop;
      best_gap = gap;
    }
    if (gap >= design.guide.least_wall_mm) break;
  }
  guide.locators.push_back(*best);
}

/// The outline's rearmost point.
Vec2 rearmost(const Outline& outline) {
  Vec2 best = outline.nodes().front().at;
  for (const Edge& edge : outline.edges()) {
    if (edge.from.x > best.x) best = edge.from;
    if (!edge.is_arc()) continue;
    const Vec2 quadrant = edge.centre + Vec2{edge.radius, 0};
    if (quadrant.x > best.x && outline.nearest(quadrant).distance_mm < 1e-9) best = quadrant;
  }
  return best;
}

}  // namespace

void add_locators(const Design& design, const Handle& handle, DrillGuide& guide) {
  const GuideSettings& settings = design.guide;
  const bool flush = settings.blank_allowance_mm == 0;
  const double from = std::max(handle.left.front_spine.inner.x, handle.right.front_spine.inner.x) + 1;
  const double to = handle.tang.bounds().high.x;

  if (handle.left.front == handle.right.front) {
    add_front_stop(handle.left, Serves::both_scales, design, guide);
  } else {
    add_front_stop(handle.left, Serves::left_scale, design, guide);
    add_front_stop(handle.right, Serves::right_scale, design, guide);
  }
  const Vec2 butt = rearmost(handle.tang);
  guide.locators.push_back({LocatorRole::butt_stop, Serves::tang, butt + Vec2{settings.stop_pin_mm / 2, 0},
                            settings.stop_pin_mm, true, butt});

  const GuideLocator fence{LocatorRole::spine_fence,
                           flush ? Serves::scales_and_tang : Serves::both_scales,
                           {0, 0},
                           settings.fence_diameter_mm,
                           false,
                           {0, 0}};
  add_spine_pair(handle.tang, fence, from, to, settings.blank_allowance_mm, settings.least_wall_mm, guide);
  if (flush) return;
  // The fences stand off by the allowance, which the tang does not have: it gets pins of its own.
  const GuideLocator stop{LocatorRole::tang_spine_stop, Serves::tang, {0, 0},
                          settings.stop_pin_mm,         true,         {0, 0}};
  add_spine_pair(handle.tang, stop, from, to, 0, settings.least_wall_mm, guide);
}

}  // namespace haftwright::guide
