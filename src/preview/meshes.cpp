#include "haftwright/preview/meshes.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace haftwright {

MeshSettings MeshSettings::dragging(const Handle& handle) {
  // Up to this much surface this spacing makes about 7,000 triangles; on a screen of usual size the chords
  // stay within half a pixel.
  constexpr double usual_area_mm2 = 6000;
  const double area = handle.left.finished.area_mm2() + handle.right.finished.area_mm2();
  MeshSettings settings{.cell_mm = 2.2, .deviation_mm = 0.05};
  settings.cell_mm = std::min(settings.cell_mm * std::max(1.0, std::sqrt(area / usual_area_mm2)), 20.0);
  return settings;
}

const Body* Preview::find(const BodyId& id) const {
  for (const Body& body : bodies)
    if (body.id == id) return &body;
  return nullptr;
}

std::size_t Preview::triangle_count() const {
  std::size_t count = 0;
  for (const Body& body : bodies) count += body.triangle_count();
  return count;
}

double mesh_volume_mm3(const Body& body) {
  if (body.vertices.empty()) return 0;
  const auto place = [&](std::uint32_t index) {
    const auto& p = body.vertices[index].position;
    return Vec3(p[0], p[1], p[2]);
  };
  // Tetrahedra from a corner of the body itself: far from the origin they would cancel badly.
  const Vec3 apex = place(0);
  double six_times = 0;
  for (std::size_t i = 0; i + 2 < body.triangles.size(); i += 3) {
    const Vec3 a = place(body.triangles[i]) - apex;
    const Vec3 b = place(body.triangles[i + 1]) - apex;
    const Vec3 c = place(body.triangles[i + 2]) - apex;
    six_times += glm::dot(a, glm::cross(b, c));
  }
  return six_times / 6;
}

BodyBox box_of(const Body& body) {
  constexpr float kNone = std::numeric_limits<float>::infinity();
  std::array<float, 3> low{kNone, kNone, kNone};
  std::array<float, 3> high{-kNone, -kNone, -kNone};
  for (const Vertex& vertex : body.vertices)
    for (std::size_t i = 0; i < 3; ++i) {
      low[i] = std::min(low[i], vertex.position[i]);
      high[i] = std::max(high[i], vertex.position[i]);
    }
  return {Vec3(low[0], low[1], low[2]), Vec3(high[0], high[1], high[2])};
}

void measure_bounds(Preview& preview) {
  preview.low = Vec3(std::numeric_limits<double>::infinity());
  preview.high = -preview.low;
  for (const Body& body : preview.bodies) {
    const BodyBox box = box_of(body);
    preview.low = glm::min(preview.low, box.low);
    preview.high = glm::max(preview.high, box.high);
  }
  if (preview.bodies.empty()) preview.low = preview.high = {0, 0, 0};
}

}  // namespace haftwright
