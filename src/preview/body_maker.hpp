// Turns parts of a sheet into Bodies: places in the handle's frame, normals, sharp edges doubled.
#pragma once

#include <span>
#include <vector>

#include "haftwright/handle/handle.hpp"
#include "haftwright/preview/meshes.hpp"
#include "sheet.hpp"

namespace haftwright::preview {

/// Where (x, y, s) of a sheet lies in the handle: z = sign (base + slope x + s).
struct SheetFrame {
  double sign = 1;   ///< left 1, right -1
  double base = 0;   ///< of s = 0 at x = 0, above the mid-plane
  double slope = 0;  ///< d(base)/dx

  Vec3 place(Vec3 xys) const { return {xys.x, xys.y, sign * (base + slope * xys.x + xys.z)}; }
  /// Normal of a surface f(x, y, s) = 0 whose gradient is given.
  Vec3 normal(Vec3 gradient) const {
    return glm::normalize(Vec3{gradient.x - slope * gradient.z, gradient.y, sign * gradient.z});
  }
};

Vertex vertex(Vec3 position, Vec3 normal);

/// Keeps its memory from one body to the next.
class BodyMaker {
 public:
  /// Appends faces of a mesh to a body. `planes` are those that cut faces name. Faces of one smooth surface,
  /// one wall's curve or one cut share their vertices. `crown`: what Vertex::below counts from.
  void add(const SheetMesh& mesh, std::span<const SheetFace> faces, std::span<const CutPlane> planes,
           const SheetFrame& frame, Body& body, const CrownedSheet* crown = nullptr);

 private:
  std::uint32_t vertex_at(const SheetMesh& mesh, const SheetFace& face, std::span<const CutPlane> planes,
                          const SheetFrame& frame, std::uint32_t point, const CrownedSheet* crown,
                          Body& body);

  /// The last vertex made at a point, and for what.
  struct Made {
    std::uint32_t vertex;
    FaceKind kind;
    int source;
  };
  std::vector<Made> made_;  // three a point: on a surface, on a wall, on a cut
  std::vector<std::uint32_t> touched_;
};

}  // namespace haftwright::preview
