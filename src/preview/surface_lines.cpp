#include "surface_lines.hpp"

#include <cmath>

namespace haftwright::preview {
namespace {

constexpr double kSame = 1e-9;

/// The front face's line: x from the surface's height, whose slope times the rake is well below 1 anywhere
/// but on the round-over; there the steps are halved until they settle.
std::vector<Vec3> front_line(const Handle& handle, const SideLayout& side) {
  const Vec2 belly{side.front_belly.outer.x, side.front_belly.outer.y};
  const Vec2 spine{side.front_spine.outer.x, side.front_spine.outer.y};
  const double sign = side.which == Which::left ? 1 : -1;
  std::vector<Vec3> points{side.front_belly.outer};
  const int count = std::max(2, static_cast<int>(std::ceil(spine.y - belly.y)));
  for (int i = 1; i < count; ++i) {
    const double y = belly.y + (spine.y - belly.y) * i / count;
    double x = belly.x + (spine.x - belly.x) * i / count;
    double share = 1;
    double last_step = 0;
    for (int step = 0; step < 60; ++step) {
      const double wanted = side.front.x_at(y, side.scale_height_mm({x, y}));
      const double way = wanted - x;
      if (std::abs(way) < 1e-10) break;
      if (way * last_step < 0) share /= 2;
      last_step = way;
      x += way * share;
    }
    points.push_back({x, y, sign * (handle.tang_thickness_mm(x) / 2 + side.surface.height_mm({x, y}))});
  }
  points.push_back(side.front_spine.outer);
  return points;
}

std::vector<Vec3> joint_line(const JointLine& line) {
  std::vector<Vec3> points = line.on_surface;
  if (points.empty() || glm::distance(points.front(), line.belly.outer) > kSame)
    points.insert(points.begin(), line.belly.outer);
  if (glm::distance(points.back(), line.spine.outer) > kSame) points.push_back(line.spine.outer);
  return points;
}

}  // namespace

std::vector<SurfaceLine> surface_lines(const Handle& handle, const SideLayout& side) {
  std::vector<SurfaceLine> lines;
  lines.push_back({true, 0, 0, side.front, side.front_spine, side.front_belly, front_line(handle, side)});
  for (const JointLayout& joint : side.joints)
    for (std::size_t i = 0; i < joint.lines.size(); ++i) {
      const JointLine& line = joint.lines[i];
      lines.push_back({false, joint.joint, i, line.plane, line.spine, line.belly, joint_line(line)});
    }
  return lines;
}

}  // namespace haftwright::preview
