#include <algorithm>

#include <gp_Dir.hxx>
#include <gp_Pln.hxx>
#include <gp_Pnt.hxx>

#include "haftwright/solids/solids.hpp"
#include "parts.hpp"
#include "shapes.hpp"

namespace haftwright::kernel {

namespace {

constexpr double kOvershoot_mm = 1;
const std::string kName = "drill guide";

/// The plane parallel to the left (+1) or right (-1) face, `above_mm` farther out, its normal outward.
gp_Pln parallel_to_face(const DrillGuide& guide, int side, double above_mm) {
  const double slope = guide.thickness_slope / 2;
  return {gp_Pnt(0, 0, side * (guide.face_z_mm(0) + above_mm)), gp_Dir(-slope, 0, side)};
}

double thickest_mm(const DrillGuide& guide) {
  const Bounds& bounds = guide.plate.bounds();
  return std::max(guide.thickness_at_mm(bounds.low.x), guide.thickness_at_mm(bounds.high.x));
}

TopoDS_Shape plate_body(const DrillGuide& guide) {
  const double half = thickest_mm(guide) / 2;
  if (guide.thickness_slope == 0) return upright(guide.plate, -half, half);
  TopoDS_Shape body = upright(guide.plate, -half - kOvershoot_mm, half + kOvershoot_mm);
  for (const int side : {1, -1}) body = below(body, parallel_to_face(guide, side, 0), kName);
  return body;
}

/// The plate with its standing fences: each one cylinder right through the plate, so that no face of it lies
/// in a face of the plate.
TopoDS_Shape plate_with_fences(const DrillGuide& guide) {
  std::vector<TopoDS_Shape> fences;
  for (const GuideLocator& locator : guide.locators) {
    const double top = guide.fence_top_mm(locator);
    if (!locator.loose) fences.push_back(upright_cylinder(locator.at, locator.diameter_mm / 2, -top, top));
  }
  return fused(plate_body(guide), fences, kName);
}

/// Bores, holes for the loose stop pins and sight windows: right through everything.
std::vector<TopoDS_Shape> through_tools(const DrillGuide& guide) {
  const double reach = thickest_mm(guide) / 2 + guide.fence_height_mm + kOvershoot_mm;
  std::vector<TopoDS_Shape> tools;
  for (const GuideBore& bore : guide.bores) {
    tools.push_back(upright_cylinder(bore.at, bore.diameter_mm / 2, -reach, reach));
  }
  for (const GuideLocator& locator : guide.locators) {
    if (locator.loose) tools.push_back(upright_cylinder(locator.at, locator.diameter_mm / 2, -reach, reach));
  }
  for (const SightWindow& window : guide.windows) tools.push_back(upright(window.outline, -reach, reach));
  return tools;
}

/// Pockets of even depth: their floors run along with the face they are cut into.
std::vector<TopoDS_Shape> mark_tools(const DrillGuide& guide) {
  const double reach = thickest_mm(guide) / 2 + kOvershoot_mm;
  std::vector<TopoDS_Shape> tools;
  for (const GuideMark& mark : guide.marks) {
    const int side = mark.on_left_face ? 1 : -1;
    const double floor = side * (guide.face_z_mm(0) - guide.mark_depth_mm);
    for (const Outline& stroke : mark.strokes) {
      if (guide.thickness_slope == 0) {
        tools.push_back(upright(stroke, std::min(floor, side * reach), std::max(floor, side * reach)));
        continue;
      }
      const gp_Pln below_floor = parallel_to_face(guide, side, -guide.mark_depth_mm);
      const gp_Pln outward_turned(below_floor.Location(), below_floor.Axis().Direction().Reversed());
      tools.push_back(below(upright(stroke, std::min(0.0, side * reach), std::max(0.0, side * reach)),
                            outward_turned, kName));
    }
  }
  return tools;
}

}  // namespace

TopoDS_Shape guide_body(const DrillGuide& guide) {
  TopoDS_Shape body = plate_with_fences(guide);
  require_sound(body, kName, "setting the fences on the plate");
  std::vector<TopoDS_Shape> tools = through_tools(guide);
  for (const TopoDS_Shape& tool : mark_tools(guide)) tools.push_back(tool);
  body = cut(body, tools, kName);
  if (solids_of(body).size() != 1) {
    throw SolidError(kName + ": the windows and bores cut the plate into pieces; make the margin wider");
  }
  return body;
}

}  // namespace haftwright::kernel
