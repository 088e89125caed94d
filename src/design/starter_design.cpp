#include <algorithm>

#include "haftwright/design/ids.hpp"
#include "haftwright/design/starters.hpp"

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

}  // namespace

Sheet starter_sheet() {
  return {"vulcanized_fibre", 0.8};
}

Design starter_design(std::vector<Node> tang_outline, double tang_thickness_mm, LengthUnit unit) {
  const Outline outline(tang_outline);
  const Bounds& bounds = outline.bounds();
  const double length = bounds.high.x;
  const double reach = std::max(bounds.high.y, -bounds.low.y);

  Design design;
  design.shown_unit = unit;
  design.tang.outline = std::move(tang_outline);
  design.tang.thickness_front_mm = tang_thickness_mm;
  design.tang.thickness_butt_mm = tang_thickness_mm;

  const Blank blank{kScaleMm + kBlankSpareMm, std::nullopt, std::nullopt};
  design.left.liners = {starter_sheet()};
  design.left.pieces = {{"black_walnut", blank, {}}, {"sugar_maple", blank, {}}};
  Joint joint;
  joint.place_mm = kJointShare * length;
  joint.spacers = {starter_sheet()};
  design.left.joints = {joint};
  design.left.finish = {
      {{0, kScaleMm}, {length / 2, kScaleMm + 0.5}, {length, kScaleMm}}, 2.5 * reach, 0, kRoundOverMm};

  for (double share : kPinShares)
    design.pins.push_back(pin_at({share * length, 0}, design.pins.size() + 1, unit));
  return with_ids(std::move(design));
}

}  // namespace haftwright
