#include "body_maker.hpp"

#include <limits>

namespace haftwright::preview {
namespace {

constexpr std::uint32_t kNoVertex = std::numeric_limits<std::uint32_t>::max();

/// Out of the material, in (x, y, s), at a point of a face.
Vec3 face_normal(const SheetMesh& mesh, const SheetFace& face, std::span<const CutPlane> planes,
                 std::uint32_t point) {
  switch (face.kind) {
    case FaceKind::outer:
    case FaceKind::inner:
      return mesh.normals[point];
    case FaceKind::wall: {
      const auto curve = static_cast<std::size_t>(face.source);
      const Vec2 right = right_of(mesh.curves[curve], {mesh.points[point].x, mesh.points[point].y});
      return curve < mesh.first_opening ? Vec3{right, 0} : Vec3{-right, 0};
    }
    case FaceKind::front_cut:
    case FaceKind::rear_cut: {
      const CutPlane& plane = planes[static_cast<std::size_t>(face.source)];
      const Vec3 rearward{1, -plane.tan_slant, -plane.tan_rake};
      return face.kind == FaceKind::rear_cut ? rearward : -rearward;
    }
  }
  return {0, 0, 1};
}

}  // namespace

Vertex vertex(Vec3 position, Vec3 normal) {
  return {{static_cast<float>(position.x), static_cast<float>(position.y), static_cast<float>(position.z)},
          {static_cast<float>(normal.x), static_cast<float>(normal.y), static_cast<float>(normal.z)}};
}

void BodyMaker::add(const SheetMesh& mesh, std::span<const SheetFace> faces, std::span<const CutPlane> planes,
                    const SheetFrame& frame, Body& body) {
  vertex_of_.resize(std::max(vertex_of_.size(), mesh.points.size()), kNoVertex);
  touched_.clear();
  body.vertices.reserve(body.vertices.size() + faces.size());
  body.triangles.reserve(body.triangles.size() + 3 * faces.size());
  const auto make = [&](std::uint32_t point, Vec3 normal) {
    body.vertices.push_back(vertex(frame.place(mesh.points[point]), frame.normal(normal)));
    return static_cast<std::uint32_t>(body.vertices.size() - 1);
  };
  for (const SheetFace& face : faces) {
    std::array<std::uint32_t, 3> index{};
    for (std::size_t i = 0; i < 3; ++i) {
      const std::uint32_t point = face.corner[i];
      const Vec3 normal = face_normal(mesh, face, planes, point);
      if (face.kind != FaceKind::outer && face.kind != FaceKind::inner) {
        index[i] = make(point, normal);
        continue;
      }
      if (vertex_of_[point] == kNoVertex) {
        vertex_of_[point] = make(point, normal);
        touched_.push_back(point);
      }
      index[i] = vertex_of_[point];
    }
    if (frame.sign < 0) std::swap(index[1], index[2]);
    body.triangles.insert(body.triangles.end(), index.begin(), index.end());
  }
  for (const std::uint32_t point : touched_) vertex_of_[point] = kNoVertex;
}

}  // namespace haftwright::preview
