// What the drill itself asks of the guide.
#include <algorithm>
#include <cmath>
#include <numbers>

#include "haftwright/reference/drills.hpp"
#include "report.hpp"

namespace haftwright::guide {
namespace {

/// A guide this many drill diameters long keeps the drill upright: 1.5 to 2 is usual in jig and fixture work.
constexpr double kGuideLengthDiameters = 1.5;

void check_length(const Report& report) {
  const auto spare = [&](const GuideBore& bore) {
    return report.guide.thickness_at_mm(bore.at.x) - kGuideLengthDiameters * bore.drill_mm;
  };
  const auto worst = std::ranges::min_element(report.guide.bores, {}, spare);
  report.add(
      {.id = "guide.length",
       .where = {{.thing = Thing::bore, .index = worst->pin, .aspect = Aspect::plate_thickness}},
       .place = report.on_plate(worst->at),
       .value = report.guide.thickness_at_mm(worst->at.x),
       .limit = kGuideLengthDiameters * worst->drill_mm,
       .why =
           "A short guide lets the drill lean, and the hole comes out of the scale off its place. Make the "
           "plate thicker, or use longer bushings.",
       .basis = "common practice in jig work: 1.5 to 2 drill diameters"});
}

/// Flutes that end inside the guide carry no swarf out, and the chuck comes down on the plate or on a fence.
void check_reach(const Report& report, const GuideBore& bore) {
  const auto flutes = jobber_flute_length(bore.drill_mm);
  if (!flutes) return;
  const bool over_fence = chuck_over_fence(report.guide, bore);
  report.add({.id = "guide.drill_reach",
              .where = {{.thing = Thing::bore, .index = bore.pin, .aspect = Aspect::flutes}},
              .place = report.on_plate(bore.at),
              .value = flutes->length_mm,
              .limit = drill_out_mm(report.design, report.guide, bore),
              .why = std::string(over_fence ? "The chuck comes down over a fence. " : "") +
                     "A drill of ordinary length does not get through with its flutes clear of the guide and "
                     "the chuck clear of the fences: swarf jams, and the drill leans. Use a longer drill, "
                     "lower fences, a thinner plate or thinner blanks.",
              .basis = std::string(flutes->source)});
}

/// A plate with parallel faces drills square to the scale's inner face, while a pin stands square to the
/// mid-plane.
void check_lean(const Report& report) {
  const double off = std::abs(report.handle.tang_slope - report.guide.thickness_slope) / 2;
  if (off == 0) return;
  constexpr double kDegrees = 180 / std::numbers::pi;
  for (const PinLayout& pin : report.handle.pins) {
    double allowed = HUGE_VAL;
    for (const HoleLayer& layer : pin.layers)
      if (layer.kind == HoleLayer::Kind::scale)
        allowed = std::min(allowed,
                           std::atan(std::max(0.0, layer.diameter_mm - pin.diameter_mm) / layer.length_mm()));
    report.add(
        {.id = "guide.lean",
         .where = {{.thing = Thing::pin, .index = pin.pin, .layer = Layer::scale, .aspect = Aspect::lean}},
         .place = report.on_plate(pin.at),
         .value = std::atan(off) * kDegrees,
         .limit = allowed * kDegrees,
         .sense = Sense::at_most,
         .unit = FigureUnit::degree,
         .why = "The tang is tapered and the plate is not: each scale's holes lean by half the taper, "
                "one against the other, and the pin binds where its room does not allow that. Make the "
                "plate a wedge (guide.wedged), or open the holes up. The line-up takes the holes as "
                "square.",
         .basis = "the pin's room over the length of its hole"});
  }
}

}  // namespace

bool chuck_over_fence(const DrillGuide& guide, const GuideBore& bore) {
  // Outside diameter of a keyed 13 mm chuck, about; common practice.
  constexpr double kChuckMm = 50;
  return std::ranges::any_of(guide.locators, [&](const GuideLocator& locator) {
    return !locator.loose && gap_mm({bore.at, kChuckMm / 2}, disc_of(locator)) < 0;
  });
}

double drill_out_mm(const Design& design, const DrillGuide& guide, const GuideBore& bore) {
  // Height of a 118 degree point, the usual one.
  const double point = bore.drill_mm / 2 / std::tan(59 * std::numbers::pi / 180);
  double blank = 0;
  for (const Side& side : {design.left, design.right_side()})
    for (const Piece& piece : side.pieces) blank = std::max(blank, piece.blank.thickness_mm);
  return guide.thickness_at_mm(bore.at.x) + blank + point +
         (chuck_over_fence(guide, bore) ? guide.fence_height_mm : 0);
}

void check_drilling(const Report& report) {
  check_length(report);
  for (const GuideBore& bore : report.guide.bores) check_reach(report, bore);
  check_lean(report);
}

}  // namespace haftwright::guide
