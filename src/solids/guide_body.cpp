#include "haftwright/solids/solids.hpp"
#include "parts.hpp"
#include "shapes.hpp"

namespace haftwright::kernel {

namespace {

constexpr double kOvershoot_mm = 1;
const std::string kName = "drill guide";

/// The plate with its standing fences: each one cylinder right through the plate, so that no face of it lies
/// in a face of the plate.
TopoDS_Shape plate_with_fences(const DrillGuide& guide) {
  const double half = guide.thickness_mm / 2;
  const double top = half + guide.fence_height_mm;
  std::vector<TopoDS_Shape> fences;
  for (const GuideLocator& locator : guide.locators) {
    if (!locator.loose) fences.push_back(upright_cylinder(locator.at, locator.diameter_mm / 2, -top, top));
  }
  return fused(upright(guide.plate, -half, half), fences, kName);
}

/// Bores, holes for the loose stop pins and sight windows: right through everything.
std::vector<TopoDS_Shape> through_tools(const DrillGuide& guide) {
  const double reach = guide.thickness_mm / 2 + guide.fence_height_mm + kOvershoot_mm;
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

std::vector<TopoDS_Shape> mark_tools(const DrillGuide& guide) {
  const double floor = guide.thickness_mm / 2 - guide.mark_depth_mm;
  const double reach = guide.thickness_mm / 2 + kOvershoot_mm;
  std::vector<TopoDS_Shape> tools;
  for (const GuideMark& mark : guide.marks) {
    for (const Outline& stroke : mark.strokes) {
      tools.push_back(mark.on_left_face ? upright(stroke, floor, reach) : upright(stroke, -reach, -floor));
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
