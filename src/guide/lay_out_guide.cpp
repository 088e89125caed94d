#include <algorithm>
#include <cmath>

#include "haftwright/design/validate.hpp"
#include "haftwright/geometry/outline_ops.hpp"
#include "plan.hpp"

namespace haftwright {
namespace {

/// Room for the pad of a small clamp; common practice.
constexpr double kClampLandMm = 16;
constexpr double kMarkDepthMm = 0.6;

/// An end that comes to a point stays as it is: the margin round it is all the plate has there.
Outline end_drawn_out(const Outline& outline, End end, double by_mm) {
  try {
    return drawn_out(outline, end, by_mm);
  } catch (const EndError&) {
    return outline;
  }
}

/// Nothing is located by the plate's edge, and the solid kernel's time grows with the square of its edges:
/// many are fitted by few.
Outline with_few_edges(const Outline& plate) {
  constexpr std::size_t kMany = 100;
  constexpr double kDeviationMm = 0.1;
  if (plate.edges().size() <= kMany) return plate;
  std::vector<Node> chain = fit_arcs(polyline(plate, kDeviationMm / 2), kDeviationMm / 2).chain;
  return find_fault(chain) ? plate : Outline(std::move(chain));
}

/// The plate follows the handle at a margin, with an end fore and aft for a stop pin and a clamp.
Outline plate_outline(const Design& design, const Handle& handle) {
  const GuideSettings& settings = design.guide;
  const double end =
      std::max(0.0, settings.stop_pin_mm + 2 * settings.least_wall_mm + kClampLandMm - settings.margin_mm);
  const double front = std::min(guide::foremost_front_mm(handle.left, settings.fence_height_mm),
                                guide::foremost_front_mm(handle.right, settings.fence_height_mm)) -
                       end;
  const bool left_is_longer = handle.left.edge.bounds().high.x >= handle.right.edge.bounds().high.x;
  const Outline& longer = (left_is_longer ? handle.left : handle.right).edge;
  const double reach = std::max(0.0, longer.bounds().low.x - front);
  const Outline drawn = end_drawn_out(end_drawn_out(longer, End::butt, end), End::front, reach + 1);
  const auto handle_part = clip(drawn, {{-1, 0}, -front});
  std::vector<Region> plates;
  for (const Outline& part : handle_part)
    for (Region& grown : offset(part, settings.margin_mm)) plates.push_back(std::move(grown));
  const auto largest = std::max_element(plates.begin(), plates.end(), [](const Region& a, const Region& b) {
    return a.outer.area_mm2() < b.outer.area_mm2();
  });
  if (largest == plates.end()) throw InputError("guide.margin_mm", "leaves no plate");
  return with_few_edges(largest->outer);
}

void add_clamp_lands(const Design& design, const Handle& handle, DrillGuide& plan) {
  const GuideSettings& settings = design.guide;
  const double off = settings.stop_pin_mm + settings.least_wall_mm + kClampLandMm / 2;
  const double front = std::min(guide::foremost_front_mm(handle.left, settings.fence_height_mm),
                                guide::foremost_front_mm(handle.right, settings.fence_height_mm));
  const double front_y = (handle.left.front_spine.inner.y + handle.left.front_belly.inner.y) / 2;
  const double butt = std::max(handle.left.finished.bounds().high.x, handle.right.finished.bounds().high.x);
  plan.clamp_land_mm = kClampLandMm;
  plan.clamp_lands.push_back({front - off, front_y});
  for (const GuideLocator& locator : plan.locators)
    if (locator.role == LocatorRole::butt_stop) plan.clamp_lands.push_back({butt + off, locator.at.y});
}

/// The thickness asked for is kept at the thinnest bore; from there a wedge follows the tang's taper.
void set_thickness(const Design& design, const Handle& handle, DrillGuide& plan) {
  constexpr double kThinnestMm = 1.5;  // below it the marks of both faces would nearly meet
  plan.thickness_slope = design.guide.wedged ? handle.tang_slope : 0;
  double thinnest = HUGE_VAL;
  for (const GuideBore& bore : plan.bores) thinnest = std::min(thinnest, plan.thickness_slope * bore.at.x);
  plan.thickness_mm = design.guide.plate_thickness_mm - thinnest;
  const Bounds& bounds = plan.plate.bounds();
  const double end = std::min(plan.thickness_at_mm(bounds.low.x), plan.thickness_at_mm(bounds.high.x));
  if (end < kThinnestMm)
    throw InputError(
        "guide.plate_thickness_mm",
        "the wedge that the tang's taper asks for would run out before its thin end; make the "
        "plate at least " +
            format_length(design.guide.plate_thickness_mm + kThinnestMm - end, design.shown_unit) +
            " thick, or its faces parallel (guide.wedged: false)");
}

}  // namespace

DrillGuide lay_out_guide(const Design& design, const Handle& handle) {
  if (handle.pins.empty())
    throw InputError("pins", "there is no pin, so there is no hole to guide a drill to");
  DrillGuide plan{.plate = plate_outline(design, handle)};
  plan.fence_height_mm = design.guide.fence_height_mm;
  plan.mark_depth_mm = kMarkDepthMm;
  guide::add_bores(design, handle, plan);
  set_thickness(design, handle, plan);
  guide::add_windows(design, handle, plan);
  guide::add_locators(design, handle, plan);
  add_clamp_lands(design, handle, plan);
  guide::add_marks(plan);
  plan.findings = check_guide(design, handle, plan);
  return plan;
}

}  // namespace haftwright
