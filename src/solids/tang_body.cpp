#include <algorithm>

#include "parts.hpp"
#include "shapes.hpp"
#include "side_frame.hpp"

namespace haftwright::kernel {

namespace {

const std::string kName = "tang";
constexpr double kOvershoot_mm = 1;

/// Existing holes, pin holes and cutouts. A pin in an existing hole adds none of its own.
std::vector<TopoDS_Shape> openings(const Design& design, const Handle& handle, double reach) {
  std::vector<TopoDS_Shape> tools;
  for (const Outline& cutout : handle.cutouts) tools.push_back(upright(cutout, -reach, reach));
  for (const TangHole& hole : design.tang.holes) {
    tools.push_back(upright_cylinder(hole.at_mm, hole.diameter_mm / 2, -reach, reach));
  }
  for (const PinLayout& pin : handle.pins) {
    if (!design.pins[pin.pin].existing_tang_hole.empty()) continue;
    for (const HoleLayer& layer : pin.layers) {
      if (layer.kind != HoleLayer::Kind::tang) continue;
      tools.push_back(upright_cylinder(pin.at, layer.diameter_mm / 2, -reach, reach));
    }
  }
  return tools;
}

}  // namespace

TopoDS_Shape tang_body(const Design& design, const Handle& handle) {
  const Bounds& plan = handle.tang.bounds();
  const double thickest =
      std::max(handle.tang_thickness_mm(plan.low.x), handle.tang_thickness_mm(plan.high.x)) / 2;
  const double reach = thickest + kOvershoot_mm;
  const bool tapered = handle.tang_slope != 0;
  TopoDS_Shape body = upright(handle.tang, tapered ? -reach : -thickest, tapered ? reach : thickest);
  if (tapered) {
    const double slope = handle.tang_slope / 2;
    const double half = handle.tang_thickness_front_mm / 2;
    body = below(body, gp_Pln(gp_Pnt(0, 0, half), gp_Dir(-slope, 0, 1)), kName);
    body = below(body, gp_Pln(gp_Pnt(0, 0, -half), gp_Dir(-slope, 0, -1)), kName);
  }
  body = cut(body, openings(design, handle, reach), kName);
  require_sound(body, kName, "cutting its holes");
  return body;
}

}  // namespace haftwright::kernel
