// What one side is laid out from, gathered once.
#pragma once

#include <string>
#include <vector>

#include "disc.hpp"
#include "plane_section.hpp"

namespace haftwright::layout {

/// A pin's holes, one diameter a layer.
struct PinHoles {
  Vec2 at{0, 0};
  double scale_mm = 0;
  double liner_mm = 0;
  double tang_mm = 0;
};

struct SideInput {
  const Design& design;
  const Side& side;
  Which which;
  const Outline& tang;
  const std::vector<Outline>& cutouts;
  double tang_thickness_front_mm;
  double tang_slope;
  const std::vector<PinHoles>& holes;

  /// Path of one of the side's fields; a right side that takes it from the left names the left's.
  std::string field(const std::string& key) const;
  std::string joint_field(std::size_t joint) const {
    return field("joints") + '[' + std::to_string(joint) + "].place_mm";
  }
  /// A length as the maker wants to read it; a 64th of an inch is too coarse for what is said here.
  std::string length(double mm) const {
    const bool metric = design.shown_unit == LengthUnit::millimetre;
    return format_length(mm, metric ? LengthUnit::millimetre : LengthUnit::inch);
  }
  /// "x 12.00 mm, y -3.50 mm".
  std::string place(Vec2 at) const { return "x " + length(at.x) + ", y " + length(at.y); }

  double liner_total_mm() const;
};

/// The holes of all pins in one kind of layer.
std::vector<Disc> discs_of(const SideInput& input, double PinHoles::*layer);

/// One face between neighbours: line `line` of joint `joint`, front to rear.
struct Interface {
  std::size_t joint = 0;
  std::size_t line = 0;
  CutPlane plane;
};

CutPlane front_plane(const FrontFace& front);
/// Every face of every joint, front to rear; the inner face slopes by `base_slope` (dz/dx).
std::vector<Interface> interfaces_of(const Side& side, double base_slope);

}  // namespace haftwright::layout
