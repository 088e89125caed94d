#include <algorithm>

#include "parts.hpp"
#include "shapes.hpp"
#include "side_frame.hpp"

namespace haftwright::kernel {

namespace {

const std::string kName = "tang";
constexpr double kOvershoot_mm = 1;

struct Hole {
  Vec2 at{0, 0};
  double radius_mm = 0;
};

/// Existing holes and pin holes. A pin in an existing hole adds none of its own.
std::vector<Hole> holes_of(const Design& design, const Handle& handle) {
  std::vector<Hole> holes;
  for (const TangHole& hole : design.tang.holes) holes.push_back({hole.at_mm, hole.diameter_mm / 2});
  for (const PinLayout& pin : handle.pins) {
    if (!design.pins[pin.pin].existing_tang_hole.empty()) continue;
    for (const HoleLayer& layer : pin.layers)
      if (layer.kind == HoleLayer::Kind::tang) holes.push_back({pin.at, layer.diameter_mm / 2});
  }
  return holes;
}

std::vector<TopoDS_Shape> drills(const std::vector<Hole>& holes, double reach) {
  std::vector<TopoDS_Shape> tools;
  for (const Hole& hole : holes) tools.push_back(upright_cylinder(hole.at, hole.radius_mm, -reach, reach));
  return tools;
}

}  // namespace

TopoDS_Shape tang_body(const Design& design, const Handle& handle) {
  const Bounds& plan = handle.tang.bounds();
  const double thickest =
      std::max(handle.tang_thickness_mm(plan.low.x), handle.tang_thickness_mm(plan.high.x)) / 2;
  const double reach = thickest + kOvershoot_mm;
  const bool tapered = handle.tang_slope != 0;
  // Cutouts lie clear of everything, so that they need no cut: cutting hundreds of walls takes long.
  TopoDS_Shape body =
      upright(handle.tang, handle.cutouts, tapered ? -reach : -thickest, tapered ? reach : thickest);
  if (tapered) {
    const double slope = handle.tang_slope / 2;
    const double half = handle.tang_thickness_front_mm / 2;
    body = below(body, gp_Pln(gp_Pnt(0, 0, half), gp_Dir(-slope, 0, 1)), kName);
    body = below(body, gp_Pln(gp_Pnt(0, 0, -half), gp_Dir(-slope, 0, -1)), kName);
  }
  return cut(body, drills(holes_of(design, handle), reach), kName);
}

}  // namespace haftwright::kernel
