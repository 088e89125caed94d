// The guide checks itself: what it measures on its own plan before anything is cut.
#include <algorithm>
#include <cmath>

#include "haftwright/geometry/outline_ops.hpp"
#include "report.hpp"

namespace haftwright {
namespace guide {
namespace {

constexpr double kSupportShare = 0.7;
constexpr double kSupportGridMm = 0.5;

struct Neighbour {
  double gap_mm = HUGE_VAL;
  std::optional<Spot> what;
  void offer(double gap, const Spot& candidate) {
    if (gap < gap_mm) *this = {gap, candidate};
  }
};

void check_bores(const Report& report) {
  const DrillGuide& guide = report.guide;
  for (const GuideBore& bore : guide.bores) {
    const Disc disc = disc_of(bore);
    Neighbour wall;
    wall.offer(edge_gap_mm(disc, guide.plate), {.thing = Thing::plate_edge});
    for (const GuideBore& other : guide.bores)
      if (&other != &bore) wall.offer(gap_mm(disc, disc_of(other)), spot_of(other));
    for (const SightWindow& window : guide.windows) wall.offer(gap_mm(disc, window.outline), spot_of(window));
    Neighbour fence;
    for (const GuideLocator& locator : guide.locators)
      (locator.loose ? wall : fence).offer(gap_mm(disc, disc_of(locator)), spot_of(locator));
    const Spot at = spot_of(bore);
    report.add(
        {.id = "guide.bore_wall",
         .where = {at, wall.what},
         .place = report.on_plate(bore.at),
         .value = wall.gap_mm,
         .limit = report.design.guide.least_wall_mm,
         .why =
             "A thin wall breaks out or lets the bore give. Move the pin, shorten the windows, or give the "
             "plate a wider margin.",
         .basis = kCommonPractice});
    if (!fence.what) continue;  // loose pins only
    report.add({.id = "guide.fence_clear",
                .where = {at, fence.what},
                .place = report.on_plate(bore.at),
                .value = fence.gap_mm,
                .limit = report.design.guide.least_wall_mm,
                .why = "A fence in the way of the chuck or the swarf spoils the hole.",
                .basis = kCommonPractice});
  }
}

void check_windows(const Report& report) {
  const DrillGuide& guide = report.guide;
  for (std::size_t i = 0; i < guide.windows.size(); ++i) {
    const SightWindow& window = guide.windows[i];
    Neighbour wall;
    wall.offer(edge_gap_mm(window.outline, guide.plate), {.thing = Thing::plate_edge});
    for (std::size_t j = 0; j < guide.windows.size(); ++j) {
      if (j == i) continue;
      const Outline& other = guide.windows[j].outline;
      const bool nested = contains(other, window.outline) || contains(window.outline, other);
      wall.offer(nested ? 0.0 : boundary_distance_mm(window.outline, other), spot_of(guide.windows[j]));
    }
    for (const GuideLocator& locator : guide.locators)
      wall.offer(gap_mm(disc_of(locator), window.outline), spot_of(locator));
    report.add(
        {.id = "guide.window_wall",
         .where = {spot_of(window), wall.what},
         .place = report.on_plate(window.joint_to),
         .value = wall.gap_mm,
         .limit = report.design.guide.least_wall_mm,
         .why =
             "Windows that run into each other or into the edge leave nothing to sight against. Use shorter "
             "or narrower windows, or a wider margin.",
         .basis = kCommonPractice});
  }
}

void check_locators(const Report& report) {
  const DrillGuide& guide = report.guide;
  for (const GuideLocator& locator : guide.locators) {
    if (!locator.loose) continue;
    Neighbour wall;
    wall.offer(edge_gap_mm(disc_of(locator), guide.plate), {.thing = Thing::plate_edge});
    for (const GuideLocator& other : guide.locators)
      if (&other != &locator) wall.offer(gap_mm(disc_of(locator), disc_of(other)), spot_of(other));
    report.add({.id = "guide.stop_wall",
                .where = {spot_of(locator), wall.what},
                .place = report.on_plate(locator.at),
                .value = wall.gap_mm,
                .limit = report.design.guide.least_wall_mm,
                .why = "A stop pin needs sound plate round its hole to stand firm.",
                .basis = kCommonPractice});
  }
}

void check_fences(const Report& report) {
  std::vector<Vec2> contacts;
  for (const GuideLocator& locator : report.guide.locators)
    if (locator.role == LocatorRole::edge_fence) contacts.push_back(locator.contact);
  if (contacts.size() > 1)
    report.add(
        {.id = "guide.fence_spread",
         .where = {{.thing = Thing::fence, .aspect = Aspect::spread}},
         .place = report.on_plate((contacts[0] + contacts[1]) * 0.5),
         .value = glm::distance(contacts[0], contacts[1]),
         .limit = least_fence_spread_mm(report.handle),
         .why = "Fences close together let the blank turn. Shorter windows or thinner fences leave room to "
                "set them farther apart.",
         .basis = "common practice: locators as far apart as the work allows; half the handle is this "
                  "program's own limit"});
  double thinnest = HUGE_VAL;
  for (const Side& side : {report.design.left, report.design.right_side()})
    for (const Piece& piece : side.pieces) thinnest = std::min(thinnest, piece.blank.thickness_mm);
  report.add(
      {.id = "guide.fence_height",
       .where = {{.thing = Thing::fence}, Spot{.thing = Thing::blank}, Relation::against},
       .value = report.guide.fence_height_mm,
       .limit = thinnest - kFenceBelowBlankMm,
       .sense = Sense::at_most,
       .why = "Fences taller than the blank stand on the table, and the plate no longer lies on the blank.",
       .basis = kCommonPractice});
}

/// Share of a blank's face that lies on the plate, counted on a grid: the rest is over windows, bores and
/// stops.
double supported_share(const DrillGuide& guide, const Outline& blank) {
  std::size_t inside = 0;
  std::size_t carried = 0;
  const Bounds& bounds = blank.bounds();
  for (double x = bounds.low.x + kSupportGridMm / 2; x < bounds.high.x; x += kSupportGridMm) {
    for (double y = bounds.low.y + kSupportGridMm / 2; y < bounds.high.y; y += kSupportGridMm) {
      const Vec2 p{x, y};
      if (!blank.contains(p)) continue;
      ++inside;
      const auto covers = [&](const auto& thing) { return gap_mm({p, 0}, disc_of(thing)) < 0; };
      const bool open =
          std::any_of(guide.bores.begin(), guide.bores.end(), covers) ||
          std::any_of(guide.locators.begin(), guide.locators.end(),
                      [&](const GuideLocator& locator) { return locator.loose && covers(locator); }) ||
          std::any_of(guide.windows.begin(), guide.windows.end(),
                      [&](const SightWindow& window) { return window.outline.contains(p); });
      if (!open && guide.plate.contains(p)) ++carried;
    }
  }
  return inside == 0 ? 0.0 : static_cast<double>(carried) / static_cast<double>(inside);
}

void check_support(const Report& report) {
  for (Which which : {Which::left, Which::right})
    report.add({.id = "guide.support",
                .where = {{.thing = Thing::blank, .sides = sides_of(which)},
                          Spot{.thing = Thing::plate},
                          Relation::on},
                .value = supported_share(report.guide, report.handle.side(which).finished),
                .limit = kSupportShare,
                .unit = FigureUnit::share,
                .why = "A blank that hangs over windows rocks and drills out of square. Use smaller windows.",
                .basis = kOurOwn});
}

/// The bores guide the scale's drill; a tang drilled with another size is guided by nothing.
void check_drills(const Report& report) {
  for (const GuideBore& bore : report.guide.bores) {
    const Pin& pin = report.design.pins[bore.pin];
    if (!pin.existing_tang_hole.empty() || bore.for_bushing) continue;
    const double difference = std::abs(pin.tang_hole.actual_mm() - pin.scale_hole.actual_mm());
    report.add(
        {.id = "guide.same_drill",
         .where = {{.thing = Thing::bore, .index = bore.pin, .aspect = Aspect::drills}},
         .place = report.on_plate(bore.at),
         .value = difference,
         .limit = report.design.guide.guide_clearance_mm,
         .sense = Sense::at_most,
         .why = "One bore guides one drill. Drill both through the guide with the smaller drill and open the "
                "larger hole up afterwards, or use bushings, one for each drill.",
         .basis = kCommonPractice});
  }
}

void check_clamps(const Report& report) {
  const DrillGuide& guide = report.guide;
  for (std::size_t i = 0; i < guide.clamp_lands.size(); ++i) {
    const Disc land{guide.clamp_lands[i], guide.clamp_land_mm / 2};
    report.add(
        {.id = "guide.clamp_room",
         .where = {{.thing = Thing::clamp_land, .toward = i == 0 ? Toward::front : Toward::butt}},
         .place = report.on_plate(land.at),
         .value = std::min(gap_to_all_mm(land, guide), edge_gap_mm(land, guide.plate)),
         .limit = 0,
         .why = "The clamp's pad needs the whole land, clear of bores, windows, fences and the plate's edge.",
         .basis = kCommonPractice});
  }
}

}  // namespace
}  // namespace guide

std::vector<Finding> check_guide(const Design& design, const Handle& handle, const DrillGuide& guide) {
  std::vector<Finding> findings;
  const guide::Report report{design, handle, guide, findings};
  guide::check_drilling(report);
  guide::check_bores(report);
  guide::check_windows(report);
  guide::check_locators(report);
  guide::check_fences(report);
  guide::check_seats(report);
  guide::check_support(report);
  guide::check_drills(report);
  guide::check_clamps(report);
  return findings;
}

}  // namespace haftwright
