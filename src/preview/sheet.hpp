// A sheet: what lies between an inner and an outer face over a plan, its walls parallel to the pins. Liners,
// the tang and the whole scale of a side begin as sheets; planes then cut them into parts.
#pragma once

#include <array>
#include <cstdint>
#include <vector>

#include "haftwright/geometry/height_field.hpp"
#include "haftwright/preview/meshes.hpp"
#include "plan_curves.hpp"
#include "plan_triangulation.hpp"

namespace haftwright::preview {

enum class FaceKind : std::uint8_t {
  inner,
  outer,
  wall,
  front_cut,  ///< at a part's front, looking forward
  rear_cut,
};

struct SheetFace {
  std::array<std::uint32_t, 3> corner{};  ///< counter-clockwise seen from outside
  FaceKind kind = FaceKind::outer;
  int source = 0;  ///< wall: curve; cuts: plane
};

/// A closed mesh over points (x, y, s). Points are single: the same corner serves every face that meets
/// there.
struct SheetMesh {
  std::vector<Vec3> points;
  std::vector<Vec3> normals;  ///< of the inner or outer face it lies on, in (x, y, s)
  std::vector<char> on_rim;   ///< outer points at the top of an outline's wall
  std::vector<SheetFace> faces;
  std::vector<Edge> curves;
  std::size_t first_opening = 0;  ///< curves from here on run round openings and holes

  void clear();
  std::uint32_t add(Vec3 point, Vec3 normal, bool rim);
};

/// Plan of a sheet.
struct SheetPlan {
  std::vector<Outline> outlines;
  std::vector<Outline> openings;
  std::vector<RoundHole> holes;
  std::vector<Vec2> wanted;  ///< places on the outlines that must be points
  Spacing spacing;

  bool inside(Vec2 p) const;
};

/// Memory that sheets use one after the other.
struct SheetWorkshop {
  PlanCurves curves;
  PlanTriangulation net;
  std::vector<Vec2> places;
  std::vector<PlanTriangulation::Corner> corners;
  std::vector<std::uint32_t> outer_point;
  std::vector<std::uint32_t> inner_point;

  /// Samples the plan's curves and hands them to the mesh.
  void trace(const SheetPlan& plan, SheetMesh& mesh);
  /// Keeps every stretch between neighbouring samples as an edge of the net; corners[i] is that of sample i.
  void constrain_loops();
};

/// Both faces flat, at s = inner and s = outer.
void build_flat_sheet(const SheetPlan& plan, double inner, double outer, SheetWorkshop& shop,
                      SheetMesh& mesh);

/// The inner face flat at s = 0, the outer face `below_mm` below the surface (s = height - below_mm), with
/// its round-over. `cell_mm` is the spacing of points away from edges.
struct CrownedSheet {
  const HeightField& surface;
  double below_mm = 0;
  double cell_mm = 2;
};
void build_crowned_sheet(const SheetPlan& plan, const CrownedSheet& sheet, SheetWorkshop& shop,
                         SheetMesh& mesh);

/// Walls from boundary edges; `inner_point` and `outer_point` (by corner) must be set.
void add_walls(const std::vector<PlanTriangulation::BoundaryEdge>& boundary, const SheetWorkshop& shop,
               SheetMesh& mesh);

}  // namespace haftwright::preview
