#include <algorithm>
#include <cmath>
#include <limits>

#include "haftwright/design/ids.hpp"
#include "haftwright/design/limits.hpp"
#include "haftwright/design/starters.hpp"
#include "haftwright/geometry/outline_ops.hpp"

namespace haftwright {
namespace {

// Places along the handle, as shares of its length: pins clear of the joint, of each other and of both ends.
constexpr double kJointShare = 0.32;
constexpr double kPinShares[] = {0.16, 0.50, 0.84};
constexpr double kScaleMm = 8;
constexpr double kRoundOverMm = 2.5;
constexpr double kBlankSpareMm = 3;

PinStock pin_stock(LengthUnit unit) {
  PinStock stock;
  stock.nominal_mm = unit == LengthUnit::millimetre ? 3.0 : kMmPerInch / 8;
  return stock;
}

Pin pin_at(Vec2 at, std::size_t number, LengthUnit unit) {
  HoleSize hole;
  hole.drill = unit == LengthUnit::millimetre ? "3.1 mm" : "#30";
  return {"", "pin " + std::to_string(number), at, pin_stock(unit), hole, hole, hole, ""};
}

/// On the axis, or halfway between spine and belly where that leaves too little steel round the hole.
Vec2 place_on_tang(const Outline& outline, double x) {
  constexpr double kSteelMm = 3.5;  // half a small pin's hole and 2 mm of wall, as the rules have it
  if (outline.depth_mm({x, 0}) >= kSteelMm) return {x, 0};
  const auto across = crossings(outline, {x, 0}, {0, 1});
  if (across.empty()) return {x, 0};
  return {x, (across.front().along_mm + across.back().along_mm) / 2};
}

bool in_cutout(const Tang& tang, Vec2 p, double clear_mm) {
  for (const std::vector<Node>& cutout : tang.cutouts)
    if (Outline(cutout).depth_mm(p) > -clear_mm) return true;
  return false;
}

Pin pin_through(const TangHole& hole, std::size_t number, const ShopRules& rules) {
  const double clearance = (rules.glue_clearance_least_mm + rules.glue_clearance_most_mm) / 2;
  PinStock stock;
  stock.nominal_mm = hole.diameter_mm - clearance;
  const HoleSize size{"", hole.diameter_mm};
  return {"", "pin " + std::to_string(number), hole.at_mm, stock, size, size, {}, hole.id};
}

std::vector<Pin> pins_through_holes(const Design& design, const ShopRules& rules) {
  std::vector<Pin> pins;
  for (const TangHole& hole : design.tang.holes) {
    const bool for_pin = hole.diameter_mm >= kLeastPinHoleMm && hole.diameter_mm <= kMostPinHoleMm;
    if (for_pin && hole.at_mm.x > hole.diameter_mm && pins.size() < limits::kPins)
      pins.push_back(pin_through(hole, pins.size() + 1, rules));
  }
  return pins;
}

/// Halfway between two pins in a row: where that is nearest to the usual place, of the pins that stand far
/// enough apart for a joint between them, or else between those that stand farthest apart.
double joint_between(const std::vector<Pin>& pins, double usual, const ShopRules& rules) {
  std::vector<double> places;
  for (const Pin& pin : pins) places.push_back(pin.at_mm.x);
  std::sort(places.begin(), places.end());
  double best = usual;
  double least_off = std::numeric_limits<double>::infinity();
  for (std::size_t i = 0; i + 1 < places.size(); ++i) {
    const double apart = places[i + 1] - places[i];
    const double wanted = 2 * rules.joint_centre_diameters * kMostPinHoleMm;
    const double middle = (places[i] + places[i + 1]) / 2;
    // What is too narrow comes after all others, the narrower the later.
    const double off = apart >= wanted ? std::abs(middle - usual) : 1e6 - apart;
    if (off < least_off) best = middle, least_off = off;
  }
  return best;
}

}  // namespace

Sheet starter_sheet() {
  return {"vulcanized_fibre", 0.8};
}

Design starter_design(std::vector<Node> tang_outline, double tang_thickness_mm, LengthUnit unit) {
  Tang tang;
  tang.outline = std::move(tang_outline);
  tang.thickness_front_mm = tang.thickness_butt_mm = tang_thickness_mm;
  return starter_design(std::move(tang), {}, unit);
}

Design starter_design(Tang tang, const ShopRules& rules, LengthUnit unit) {
  const Outline outline(tang.outline);
  const Bounds& bounds = outline.bounds();
  const double length = bounds.high.x;
  const double reach = std::max(bounds.high.y, -bounds.low.y);

  Design design;
  design.shown_unit = unit;
  design.tang = std::move(tang);

  const Blank blank{kScaleMm + kBlankSpareMm, std::nullopt, std::nullopt};
  design.left.liners = {starter_sheet()};
  design.left.pieces = {{"black_walnut", blank, {}}, {"sugar_maple", blank, {}}};
  Joint joint;
  joint.place_mm = kJointShare * length;
  joint.spacers = {starter_sheet()};
  design.left.joints = {joint};
  design.left.finish = {
      {{0, kScaleMm}, {length / 2, kScaleMm + 0.5}, {length, kScaleMm}}, 2.5 * reach, 0, kRoundOverMm};

  design = with_ids(std::move(design));
  design.pins = pins_through_holes(design, rules);
  if (!design.pins.empty()) {
    design.left.joints[0].place_mm = joint_between(design.pins, kJointShare * length, rules);
    return with_ids(std::move(design));
  }
  for (double share : kPinShares) {
    const Vec2 at = place_on_tang(outline, share * length);
    if (!in_cutout(design.tang, at, pin_stock(unit).nominal_mm))
      design.pins.push_back(pin_at(at, design.pins.size() + 1, unit));
  }
  return with_ids(std::move(design));
}

}  // namespace haftwright
