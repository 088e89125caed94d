// Left and right side equally thick, all along the handle.
#include <algorithm>
#include <cmath>
#include <vector>

#include "kinds.hpp"

namespace haftwright::checks {
namespace {

constexpr double kSameFront_mm = 0.005;

/// Thickness of a side at its crest.
double crest_mm(const SideLayout& side, double x) {
  return side.surface.crown_mm({x, side.surface.shape().crest_y_mm});
}

/// x at which the crest line enters a scale on its finished surface, behind the front face.
double crest_from(const SideLayout& side) {
  const double y = side.surface.shape().crest_y_mm;
  const Bounds& plan = side.surface.edge().bounds();
  double ahead = plan.low.x;
  double behind = plan.high.x;
  // The crest falls and rises far less than the front face leans, so that it is met once.
  for (int i = 0; i < 60; ++i) {
    const double x = (ahead + behind) / 2;
    const double s = crest_mm(side, x) - side.liner_total_mm;
    (side.front.behind_mm(x, y, s) < 0 ? ahead : behind) = x;
  }
  return behind;
}

/// Every station of both sides, and places at most `kStep` apart in between, where both sides have wood: the
/// curves between stations are smooth, so what lies between two places adds nothing that a maker could
/// measure.
std::vector<double> places(const Handle& handle, double from) {
  constexpr double kStep = 0.5;
  const double to = std::min(handle.left.finished.bounds().high.x, handle.right.finished.bounds().high.x);
  std::vector<double> xs;
  const int steps = std::max(1, static_cast<int>(std::ceil((to - from) / kStep)));
  for (int i = 0; i <= steps; ++i) xs.push_back(from + (to - from) * i / steps);
  for (const Which which : kBothSides)
    for (const auto& station : handle.side(which).surface.shape().thickness_mm)
      if (station.x > from && station.x < to) xs.push_back(station.x);
  return xs;
}

}  // namespace

void check_thickness_agree(const Report& report) {
  const Handle& handle = report.handle;
  const double left_from = crest_from(handle.left);
  const double right_from = crest_from(handle.right);
  const double from = std::max(left_from, right_from);
  const bool same_front = std::abs(left_from - right_from) < kSameFront_mm;
  double worst_x = 0;
  double worst_mm = -1;
  for (const double x : places(handle, from)) {
    const double difference = std::abs(crest_mm(handle.left, x) - crest_mm(handle.right, x));
    if (difference > worst_mm) {
      worst_mm = difference;
      worst_x = x;
    }
  }
  Spot front{.thing = Thing::front_face};
  if (!same_front) front.sides = left_from > right_from ? Sides::left : Sides::right;
  const LengthUnit shown = report.design.shown_unit;
  report.add({.id = "thickness.agree",
              .where = {{.thing = Thing::crest, .mm = worst_x - from}, front, Relation::behind},
              .place = on_side(handle, Which::left, {worst_x, handle.left.surface.shape().crest_y_mm},
                               crest_mm(handle.left, worst_x) - handle.left.liner_total_mm),
              .value = worst_mm,
              .limit = report.design.rules.thickness_agreement_mm,
              .sense = Sense::at_most,
              .why = "The left side is " + length_in_both(crest_mm(handle.left, worst_x), shown) +
                     " thick there and the right " + length_in_both(crest_mm(handle.right, worst_x), shown) +
                     ". Uneven sides feel lopsided, and raked joint lines come out at different places.",
              .basis = basis_words(&ShopRules::thickness_agreement_mm)});
}

}  // namespace haftwright::checks
