#include "envelope.hpp"

#include <algorithm>

#include <BRepAdaptor_Curve.hxx>
#include <BRepFilletAPI_MakeFillet.hxx>
#include <BRep_Tool.hxx>
#include <TopExp.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_IndexedMapOfShape.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Edge.hxx>

#include "crown_sheet.hpp"
#include "haftwright/solids/solids.hpp"
#include "shapes.hpp"

namespace haftwright::kernel {

namespace {

/// The prism cut off by the crown: its lower part.
TopoDS_Shape crowned(const EnvelopeShape& shape, const CrownSheet& sheet) {
  const TopoDS_Shape prism = upright(shape.surface.edge(), shape.z_deep, sheet.greatest_z() + 1);
  const auto parts = split(prism, {sheet.face()}, shape.name);
  if (parts.size() != 2) throw SolidError(shape.name + ": the crown does not pass right through the handle");
  const bool first_is_lower = centre_of_mass(parts[0]).Z() < centre_of_mass(parts[1]).Z();
  return first_is_lower ? parts[0] : parts[1];
}

/// The edges where walls and crown meet, but those ahead of `x_from`.
std::vector<TopoDS_Edge> rim(const TopoDS_Shape& solid, const CrownSheet& sheet, double x_from) {
  const auto crown = BRep_Tool::Surface(sheet.face());
  TopTools_IndexedMapOfShape edges;
  for (TopExp_Explorer it(solid, TopAbs_FACE); it.More(); it.Next()) {
    const TopoDS_Face& face = TopoDS::Face(it.Current());
    if (BRep_Tool::Surface(face) == crown) TopExp::MapShapes(face, TopAbs_EDGE, edges);
  }
  std::vector<TopoDS_Edge> result;
  for (int i = 1; i <= edges.Extent(); ++i) {
    const TopoDS_Edge& edge = TopoDS::Edge(edges(i));
    const BRepAdaptor_Curve curve(edge);
    const double ends =
        std::max(curve.Value(curve.FirstParameter()).X(), curve.Value(curve.LastParameter()).X());
    const double middle = curve.Value((curve.FirstParameter() + curve.LastParameter()) / 2).X();
    if (std::max(ends, middle) > x_from) result.push_back(edge);
  }
  return result;
}

TopoDS_Shape rounded(const TopoDS_Shape& solid, const std::vector<TopoDS_Edge>& edges, double radius_mm,
                     const std::string& name) {
  BRepFilletAPI_MakeFillet fillet(solid);
  for (const TopoDS_Edge& edge : edges) fillet.Add(radius_mm, edge);
  fillet.Build();
  if (!fillet.IsDone()) throw SolidError(name + ": fillet not done");
  return gathered(solids_of(fillet.Shape()));
}

}  // namespace

TopoDS_Shape envelope(const EnvelopeShape& shape) {
  const CrownSheet sheet(shape.surface.shape(), shape.z_of_base, shape.surface.edge().bounds());
  const TopoDS_Shape solid = crowned(shape, sheet);
  require_sound(solid, shape.name, "shaping the crown");
  const double radius = shape.surface.shape().round_over_mm;
  if (radius <= 0) return solid;
  const TopoDS_Shape result =
      rounded(solid, rim(solid, sheet, shape.x_from - 2 * radius), radius, shape.name);
  require_sound(result, shape.name, "rounding over the edge");
  return result;
}

}  // namespace haftwright::kernel
