#include "body_maker.hpp"

#include <algorithm>
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

std::uint32_t BodyMaker::vertex_at(const SheetMesh& mesh, const SheetFace& face,
                                   std::span<const CutPlane> planes, const SheetFrame& frame,
                                   std::uint32_t point, const CrownedSheet* crown, Body& body) {
  const bool cut = face.kind == FaceKind::front_cut || face.kind == FaceKind::rear_cut;
  Made& made = made_[3 * std::size_t{point} + (face.kind == FaceKind::wall ? 1 : cut ? 2 : 0)];
  if (made.vertex == kNoVertex)
    touched_.push_back(point);
  else if (made.kind == face.kind && made.source == face.source)
    return made.vertex;
  const Vec3 normal = face_normal(mesh, face, planes, point);
  made = {static_cast<std::uint32_t>(body.vertices.size()), face.kind, face.source};
  const Vec3 at = mesh.points[point];
  body.vertices.push_back(vertex(frame.place(at), frame.normal(normal)));
  if (crown)
    body.vertices.back().below =
        static_cast<float>(std::max(0.0, crown->surface.crown_mm({at.x, at.y}) - crown->below_mm - at.z));
  return made.vertex;
}

void BodyMaker::add(const SheetMesh& mesh, std::span<const SheetFace> faces, std::span<const CutPlane> planes,
                    const SheetFrame& frame, Body& body, const CrownedSheet* crown) {
  made_.resize(std::max(made_.size(), 3 * mesh.points.size()), {kNoVertex, FaceKind::outer, 0});
  touched_.clear();
  body.vertices.reserve(body.vertices.size() + faces.size());
  body.triangles.reserve(body.triangles.size() + 3 * faces.size());
  for (const SheetFace& face : faces) {
    const auto& [a, b, c] = face.corner;
    for (const std::uint32_t point : {a, frame.sign < 0 ? c : b, frame.sign < 0 ? b : c})
      body.triangles.push_back(vertex_at(mesh, face, planes, frame, point, crown, body));
  }
  for (const std::uint32_t point : touched_)
    for (std::size_t i = 0; i < 3; ++i) made_[3 * std::size_t{point} + i].vertex = kNoVertex;
}

}  // namespace haftwright::preview
