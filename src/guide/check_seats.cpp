// Each locator against every part that lies on the guide while the locator stands there: both scales as
// blanks and as finished, and the tang.
#include <algorithm>
#include <array>
#include <cmath>

#include "haftwright/geometry/outline_ops.hpp"
#include "report.hpp"

namespace haftwright::guide {
namespace {

constexpr double kLargestMissMm = 0.01;
/// What rounding may leave of a contact that is exact.
constexpr double kRoundingMm = 1e-5;

/// A part lying on the plate, as far as a locator can meet it.
struct Body {
  Spot spot;
  std::optional<Which> side;  ///< none: the tang
  double proud_mm = 0;        ///< of its plan, along the edge that is located
  std::vector<Outline> plan;
};

double gap_mm(const GuideLocator& locator, const Body& body) {
  const bool at_edge = locator.role == LocatorRole::edge_fence;
  const double reach = locator.diameter_mm / 2 + (at_edge ? body.proud_mm : 0.0);
  double least = HUGE_VAL;
  for (const Outline& part : body.plan) least = std::min(least, -part.depth_mm(locator.at) - reach);
  return std::abs(least) < kRoundingMm ? 0.0 : least;
}

bool serves(const GuideLocator& locator, const Body& body) {
  return body.side ? haftwright::serves(locator, *body.side) : serves_tang(locator);
}

/// Ahead of the front face nothing is left, up to `height_mm` above the plate's face.
std::vector<Outline> behind_front(const Outline& outline, const SideLayout& side, double height_mm) {
  const double foremost = side.front.x0_mm + std::min(0.0, side.front.tan_rake * height_mm);
  return clip(outline, {{-1, side.front.tan_slant}, -foremost});
}

/// The stretch of an outline from one place on it to another, in its own direction; the last node is `to`.
std::vector<Node> stretch(const Outline& outline, const OnEdge& from, const OnEdge& to) {
  const auto& edges = outline.edges();
  std::vector<Node> chain;
  const auto add = [&](std::size_t i, double t0, double t1) {
    const Edge& edge = edges[i];
    const Vec2 start = edge.point(t0);
    if (glm::distance(start, edge.point(t1)) < 1e-6) return;
    chain.push_back({start, edge.is_arc() ? std::tan(edge.sweep * (t1 - t0) / 4) : 0});
  };
  if (from.edge == to.edge && to.t > from.t) {
    add(from.edge, from.t, to.t);
  } else {
    add(from.edge, from.t, 1);
    for (std::size_t i = (from.edge + 1) % edges.size(); i != to.edge; i = (i + 1) % edges.size())
      add(i, 0, 1);
    add(to.edge, 0, to.t);
  }
  chain.push_back({to.at, 0});
  return chain;
}

/// What may be left of a blank: its edge worked to the line from fence to fence, any amount of wood beyond
/// them and on the other sides. Where the edge is steep it has to be worked over its whole length, and goes
/// straight on from there. Empty where it is not located by two fences.
std::vector<Outline> blank_plan(const Report& report, const SideLayout& side) {
  const DrillGuide& guide = report.guide;
  std::vector<const GuideLocator*> fences;
  for (const GuideLocator& locator : guide.locators)
    if (locator.role == LocatorRole::edge_fence && haftwright::serves(locator, side.which))
      fences.push_back(&locator);
  if (fences.size() < 2) return {};
  const auto [front, rear] =
      std::minmax(fences[0], fences[1], [](auto* a, auto* b) { return a->contact.x < b->contact.x; });
  const HandleEdge edge = front->edge;
  const bool spine = edge == HandleEdge::spine;
  const bool whole = worked_whole(report.handle, guide);
  const auto place = [&](double x) {
    constexpr double kInsideMm = 1e-6;  // so that the line across the handle meets the edge
    const Bounds& bounds = side.edge.bounds();
    return on_edge(side.edge, edge, std::clamp(x, bounds.low.x + kInsideMm, bounds.high.x - kInsideMm));
  };
  // The gap to a blank is taken to its finished line, grown by the allowance: the wood beyond the worked edge
  // is set off as much.
  const double proud = report.design.guide.blank_allowance_mm;
  const auto first = place(front->contact.x - worked_beside_mm(*front) - proud);
  const auto last = place(rear->contact.x + worked_beside_mm(*rear) + proud);
  if (!first || !last) return {};
  // Counter-clockwise the spine runs toward the front, the belly toward the butt.
  const OnEdge& start = spine ? *last : *first;
  const OnEdge& end = spine ? *first : *last;
  std::vector<Node> chain = stretch(side.edge, start, end);
  const double far = guide.plate.bounds().size().x + guide.plate.bounds().size().y;
  const Vec2 out{0, spine ? far : -far};
  const Vec2 on = {spine ? -far : far, 0};
  if (whole) {
    chain.push_back({end.at + end.along * far, 0});
  } else {
    chain.insert(chain.end(), {{end.at + out, 0}, {end.at + out + on, 0}});
  }
  chain.insert(chain.end(), {{end.at + on - 3.0 * out, 0}, {start.at - on - 3.0 * out, 0}});
  if (whole) {
    chain.push_back({start.at - start.along * far, 0});
  } else {
    chain.insert(chain.end(), {{start.at - on + out, 0}, {start.at + out, 0}});
  }
  const Outline blank = Outline::trusted(std::move(chain));
  // A front face that its stop touches is finished.
  return side.joints.empty() ? behind_front(blank, side, guide.fence_height_mm) : std::vector<Outline>{blank};
}

Spot finished_scale(Which which) {
  return {.thing = Thing::side, .sides = sides_of(which), .aspect = Aspect::finished};
}

std::vector<Body> bodies(const Report& report) {
  std::vector<Body> all;
  const double proud = report.design.guide.blank_allowance_mm;
  for (const Which which : {Which::left, Which::right}) {
    const SideLayout& side = report.handle.side(which);
    const Spot finished = finished_scale(which);
    const Spot blank{.thing = Thing::blank, .sides = sides_of(which)};
    all.push_back({finished, which, proud, behind_front(side.edge, side, report.guide.fence_height_mm)});
    all.push_back({blank, which, proud, blank_plan(report, side)});
  }
  all.push_back({{.thing = Thing::tang}, std::nullopt, 0, {report.handle.tang}});
  return all;
}

struct Worst {
  double gap_mm;
  std::optional<Spot> body;
};

void check_clear(const Report& report, const GuideLocator& locator, const std::vector<Body>& all) {
  Worst worst{HUGE_VAL, std::nullopt};
  for (const Body& body : all) {
    if (locator.loose && !serves(locator, body)) continue;  // pulled out for it
    if (const double gap = gap_mm(locator, body); gap < worst.gap_mm) worst = {gap, body.spot};
  }
  if (!worst.body) return;
  report.add({.id = "guide.locator_clear",
              .where = {spot_of(locator), worst.body, Relation::beside},
              .place = report.on_plate(locator.contact),
              .value = worst.gap_mm,
              .limit = 0,
              .why = "A part that overlaps a locator can't lie where it is to be drilled.",
              .basis = "the locators' place against each part, at blank size and at finished size"});
}

void check_touch(const Report& report, const GuideLocator& locator, const std::vector<Body>& all) {
  Worst worst{-HUGE_VAL, std::nullopt};
  for (const Body& body : all) {
    if (!serves(locator, body) || body.plan.empty()) continue;
    if (const double gap = gap_mm(locator, body); gap > worst.gap_mm) worst = {gap, body.spot};
  }
  if (!worst.body) return;
  report.add({.id = "guide.locator_touch",
              .where = {spot_of(locator), worst.body},
              .place = report.on_plate(locator.contact),
              .value = std::max(0.0, worst.gap_mm),
              .limit = kLargestMissMm,
              .sense = Sense::at_most,
              .why = "A locator that a part does not reach leaves that part free to move.",
              .basis = kOurOwn});
}

void check_slope(const Report& report, const GuideLocator& fence) {
  Spot at = spot_of(fence);
  at.aspect = Aspect::slope;
  report.add({.id = "guide.edge_slope",
              .where = {at},
              .place = report.on_plate(fence.contact),
              .value = steepest_beside_deg(report.handle, fence),
              .limit = kSteepestFenceDeg,
              .sense = Sense::at_most,
              .unit = FigureUnit::degree,
              .why = "Where the edge runs askew to the handle a fence also stops the blank lengthwise, and "
                     "wood left beyond the line moves it. Work the edge to its line over its whole length "
                     "before drilling, and hold the joint lines to the windows.",
              .basis = kOurOwn});
}

/// A scale comes off along the fences: nothing of it, at any height, may hang over one.
void check_lift(const Report& report, const GuideLocator& fence) {
  if (fence.loose) return;
  Worst worst{HUGE_VAL, std::nullopt};
  for (const Which which : {Which::left, Which::right}) {
    const SideLayout& side = report.handle.side(which);
    double height = report.guide.fence_height_mm;
    for (const Part& part : side.parts) height = std::max(height, part.s_high_mm);
    const Body scale{finished_scale(which), which, report.design.guide.blank_allowance_mm,
                     behind_front(side.edge, side, height)};
    if (const double gap = gap_mm(fence, scale); gap < worst.gap_mm) worst = {gap, scale.spot};
  }
  report.add({.id = "guide.lift_out",
              .where = {spot_of(fence), worst.body, Relation::under},
              .place = report.on_plate(fence.at),
              .value = worst.gap_mm,
              .limit = 0,
              .why = "A scale that hangs over a fence can't be laid in nor lifted out.",
              .basis = "the fences' place against the whole scale, all heights"});
}

}  // namespace

void check_seats(const Report& report) {
  const std::vector<Body> all = bodies(report);
  for (const GuideLocator& locator : report.guide.locators) {
    check_clear(report, locator, all);
    check_touch(report, locator, all);
    if (locator.role != LocatorRole::edge_fence) continue;
    check_slope(report, locator);
    check_lift(report, locator);
  }
}

}  // namespace haftwright::guide
