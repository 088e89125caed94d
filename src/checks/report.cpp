#include "report.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace haftwright::checks {

void Report::add(Finding finding) const {
  // A whole number is enough or it is not: one pin of one is not nearly too few.
  const double near_share = finding.unit == FindingUnit::count ? 0 : design.rules.near_share;
  finding.status = judge(finding.value, finding.limit, finding.sense, near_share);
  findings.push_back(std::move(finding));
}

std::string pin_words(const Design& design, std::size_t pin) {
  const std::string number = "pin " + std::to_string(pin + 1);
  const std::string& name = design.pins[pin].name;
  return name.empty() || name == number || name == std::to_string(pin + 1) ? number
                                                                           : number + " (" + name + ")";
}

std::string side_words(Which side) {
  return std::string(name_of(side)) + " side";
}

std::string length_words(double mm, LengthUnit shown) {
  constexpr int kMmDecimals = 3;
  constexpr int kInchDecimals = 4;
  const std::string metric = format_number(mm, kMmDecimals) + " mm";
  const std::string inch = format_number(mm / kMmPerInch, kInchDecimals) + " in";
  return shown == LengthUnit::millimetre ? metric + " (" + inch + ")" : inch + " (" + metric + ")";
}

std::string toward_words(Vec2 here, Vec2 there) {
  const Vec2 way = there - here;
  if (std::abs(way.x) > std::abs(way.y)) return way.x < 0 ? "toward the front" : "toward the butt";
  return way.y < 0 ? "toward the belly" : "toward the spine";
}

std::string depth_words(double s_mm, double height_mm, LengthUnit shown) {
  if (s_mm <= 0) return "at the inner face";
  if (s_mm >= height_mm) return "at the finished surface";
  return format_length(s_mm, shown) + " above the inner face";
}

std::string basis_words(double ShopRules::*rule) {
  const RuleRow& row = rule_row(rule);
  return std::string(row.basis) + " (shop rule " + std::string(row.key) + ")";
}

Vec3 on_side(const Handle& handle, Which side, Vec2 p, double s_mm) {
  const double out = handle.tang_thickness_mm(p.x) / 2 + handle.side(side).liner_total_mm + s_mm;
  return {p, side == Which::left ? out : -out};
}

PlanHole scale_hole(const Pin& pin) {
  return {pin.at_mm, pin.scale_hole.actual_mm()};
}

Vec2 rim_toward(const PlanHole& hole, Vec2 there) {
  const Vec2 way = there - hole.at;
  const double distance = glm::length(way);
  return distance > 0 ? hole.at + way * (hole.diameter_mm / 2 / distance) : hole.at;
}

PlanHole tang_hole(const Design& design, const Pin& pin) {
  if (pin.existing_tang_hole.empty()) return {pin.at_mm, pin.tang_hole.actual_mm()};
  const auto there = std::ranges::find(design.tang.holes, pin.existing_tang_hole, &TangHole::name);
  if (there == design.tang.holes.end())
    throw std::logic_error("a pin names a tang hole that is not there; validate() refuses this");
  return {there->at_mm, there->diameter_mm};
}

}  // namespace haftwright::checks
