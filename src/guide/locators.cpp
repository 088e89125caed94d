// Location in the plate's plane: two fences along an edge of the handle, a stop at the front face of a scale
// without joints, and stops for the tang.
#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <optional>
#include <span>

#include "haftwright/design/validate.hpp"
#include "haftwright/geometry/outline_ops.hpp"
#include "plan.hpp"

namespace haftwright::guide {
namespace {

constexpr double kSearchStepMm = 0.5;
/// Where no edge runs along the handle, round pins may stand where it runs within about 37 degrees of it.
constexpr double kSteepestEdgeDeg = 36.87;

/// What a pair of locators is looked for with.
struct PairWish {
  GuideLocator like;  ///< role, whom it serves, diameter, loose, edge
  double allowance_mm = 0;
  double steepest_deg = 0;
  std::span<const Outline* const> parts;  ///< that it touches or has to stay clear of, at finished size
};

using FencePair = std::array<GuideLocator, 2>;

/// A round locator touching the edge, standing off by the allowance; none where it would not fit.
std::optional<GuideLocator> locator_at(const OnEdge& place, const PairWish& wish, double wall_mm,
                                       const DrillGuide& guide) {
  const double stand_off = wish.like.diameter_mm / 2 + wish.allowance_mm;
  const Vec2 outward{place.along.y, -place.along.x};
  GuideLocator locator = wish.like;
  locator.at = place.at + outward * stand_off;
  locator.contact = place.at + outward * wish.allowance_mm;
  // In a hollow of the edge the disc would touch twice, or cut in: only a single clean contact locates. A
  // part that stands proud there would be cut into as well.
  constexpr double kContactTolerance = 1e-6;
  for (const Outline* part : wish.parts)
    if (part->depth_mm(locator.at) > -stand_off + kContactTolerance) return std::nullopt;
  const Disc disc = disc_of(locator);
  const double rim = locator.loose ? wall_mm : 0.0;
  if (edge_gap_mm(disc, guide.plate) < rim || gap_to_all_mm(disc, guide) < wall_mm) return std::nullopt;
  return locator;
}

/// Two locators along the edge, as far apart as the plan allows, each where the edge runs along the handle
/// for as far as the blank has to be worked there.
std::optional<FencePair> edge_pair(const Design& design, const Handle& handle, const PairWish& wish,
                                   const DrillGuide& guide) {
  const HandleEdge edge = wish.like.edge;
  const auto front_x = [&](const SideLayout& side) {
    return (edge == HandleEdge::spine ? side.front_spine : side.front_belly).inner.x;
  };
  const double from = std::max(front_x(handle.left), front_x(handle.right));
  std::vector<std::optional<OnEdge>> places;
  for (double x = from; x <= handle.tang.bounds().high.x; x += kSearchStepMm) {
    places.push_back(on_edge(handle.tang, edge, x));
    if (places.back() && slope_deg(places.back()->along) > wish.steepest_deg) places.back().reset();
  }
  const auto good_at = [&](std::size_t i) -> std::optional<GuideLocator> {
    if (!places[i]) return std::nullopt;
    const auto locator = locator_at(*places[i], wish, design.guide.least_wall_mm, guide);
    if (!locator) return std::nullopt;
    const auto beside = static_cast<std::size_t>(std::ceil(worked_beside_mm(*locator) / kSearchStepMm));
    if (i < beside || i + beside >= places.size()) return std::nullopt;
    for (std::size_t k = i - beside; k <= i + beside; ++k)
      if (!places[k]) return std::nullopt;
    return locator;
  };
  std::optional<GuideLocator> front;
  std::optional<GuideLocator> rear;
  for (std::size_t i = 0; i < places.size() && !front; ++i) front = good_at(i);
  for (std::size_t i = places.size(); i-- > 0 && front && !rear;) rear = good_at(i);
  if (!front || !rear || gap_mm(disc_of(*front), disc_of(*rear)) < design.guide.least_wall_mm)
    return std::nullopt;
  return FencePair{*front, *rear};
}

double spread_mm(const FencePair& pair) {
  return glm::distance(pair[0].contact, pair[1].contact);
}

/// The spine where it runs along the handle, else the belly, else loose pins where an edge is steeper: the
/// first that is wide enough apart, or the widest.
void add_edge_pair(const Design& design, const Handle& handle, PairWish wish, DrillGuide& guide) {
  const double wanted = least_fence_spread_mm(handle);
  std::optional<FencePair> best;
  for (double steepest : {kSteepestPlacedDeg, kSteepestEdgeDeg}) {
    wish.steepest_deg = steepest;
    if (steepest > kSteepestPlacedDeg && !wish.like.loose) {
      wish.like.loose = true;
      wish.like.diameter_mm = design.guide.stop_pin_mm;
    }
    for (HandleEdge edge : {HandleEdge::spine, HandleEdge::belly}) {
      wish.like.edge = edge;
      const auto pair = edge_pair(design, handle, wish, guide);
      if (pair && (!best || spread_mm(*pair) > spread_mm(*best))) best = pair;
      if (best && spread_mm(*best) >= wanted) break;
    }
    if (best && spread_mm(*best) >= wanted) break;
  }
  if (!best)
    throw InputError("guide.fence_diameter_mm",
                     std::string("no room for two ") +
                         (wish.like.role == LocatorRole::edge_fence ? "fences" : "stop pins for the tang") +
                         " along the spine or the belly between the windows and bores; make them thinner "
                         "(guide.fence_diameter_mm, guide.stop_pin_mm), or give the guide a wider margin "
                         "(guide.margin_mm) or shorter windows (guide.window_length_mm)");
  guide.locators.insert(guide.locators.end(), best->begin(), best->end());
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

/// Only for scales without a joint to sight: with both, the blank would be held before its joint is in place.
void add_front_stops(const Design& design, const Handle& handle, DrillGuide& guide) {
  const bool left = handle.left.joints.empty();
  const bool right = handle.right.joints.empty();
  if (left && right && handle.left.front == handle.right.front) {
    add_front_stop(handle.left, Serves::both_scales, design, guide);
    return;
  }
  if (left) add_front_stop(handle.left, Serves::left_scale, design, guide);
  if (right) add_front_stop(handle.right, Serves::right_scale, design, guide);
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

double least_fence_spread_mm(const Handle& handle) {
  // Fences closer than half the handle let the blank turn more than it shifts.
  constexpr double kFenceSpreadShare = 0.5;
  return kFenceSpreadShare * handle.left.finished.bounds().size().x;
}

std::optional<OnEdge> on_edge(const Outline& outline, HandleEdge edge, double x) {
  const auto hits = crossings(outline, {x, 0}, {0, 1});
  if (hits.empty()) return std::nullopt;
  const Nearest at = outline.nearest((edge == HandleEdge::spine ? hits.back() : hits.front()).point);
  return OnEdge{at.point, at.edge, at.t, outline.edges()[at.edge].direction(at.t)};
}

double steepest_beside_deg(const Handle& handle, const GuideLocator& fence) {
  constexpr int kSamples = 8;
  double steepest = 0;
  for (int i = -kSamples; i <= kSamples; ++i) {
    const double x = fence.contact.x + worked_beside_mm(fence) * i / kSamples;
    const auto place = on_edge(handle.tang, fence.edge, x);
    steepest = std::max(steepest, place ? slope_deg(place->along) : 90.0);
  }
  return steepest;
}

bool worked_whole(const Handle& handle, const DrillGuide& guide) {
  return std::ranges::any_of(guide.locators, [&](const GuideLocator& locator) {
    return locator.role == LocatorRole::edge_fence && locator.loose &&
           steepest_beside_deg(handle, locator) > kSteepestFenceDeg;
  });
}

double slope_deg(Vec2 along) {
  return std::atan2(std::abs(along.y), std::abs(along.x)) * 180 / std::numbers::pi;
}

void add_locators(const Design& design, const Handle& handle, DrillGuide& guide) {
  const GuideSettings& settings = design.guide;
  const bool flush = settings.blank_allowance_mm == 0;
  add_front_stops(design, handle, guide);
  const Vec2 butt = rearmost(handle.tang);
  guide.locators.push_back({LocatorRole::butt_stop, Serves::tang, butt + Vec2{settings.stop_pin_mm / 2, 0},
                            settings.stop_pin_mm, true, butt});
  const std::array<const Outline*, 3> all{&handle.left.edge, &handle.right.edge, &handle.tang};
  const GuideLocator fence{LocatorRole::edge_fence,
                           flush ? Serves::scales_and_tang : Serves::both_scales,
                           {0, 0},
                           settings.fence_diameter_mm,
                           false,
                           {0, 0}};
  add_edge_pair(design, handle, {fence, settings.blank_allowance_mm, 0, all}, guide);
  if (flush) return;
  // The fences stand off by the allowance, which the tang does not have: it gets pins of its own.
  const GuideLocator stop{LocatorRole::tang_stop, Serves::tang, {0, 0}, settings.stop_pin_mm, true, {0, 0}};
  add_edge_pair(design, handle, {stop, 0, 0, std::span(all).last(1)}, guide);
}

}  // namespace haftwright::guide

namespace haftwright {

bool serves(const GuideLocator& locator, Which side) {
  switch (locator.serves) {
    case Serves::both_scales:
    case Serves::scales_and_tang:
      return true;
    case Serves::left_scale:
      return side == Which::left;
    case Serves::right_scale:
      return side == Which::right;
    case Serves::tang:
      return false;
  }
  return false;
}

bool serves_tang(const GuideLocator& locator) {
  return locator.serves == Serves::tang || locator.serves == Serves::scales_and_tang;
}

double worked_beside_mm(const GuideLocator& locator) {
  constexpr double kBesideFenceMm = 1;  // so that rough wood beside it does not touch the fence's flank
  return std::abs(locator.at.x - locator.contact.x) + locator.diameter_mm / 2 + kBesideFenceMm;
}

}  // namespace haftwright
