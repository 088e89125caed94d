#include "envelope.hpp"

#include <BRepFilletAPI_MakeFillet.hxx>
#include <BRep_Tool.hxx>
#include <Standard_Failure.hxx>
#include <TopExp.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_IndexedMapOfShape.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Edge.hxx>

#include "crown_sheet.hpp"
#include "haftwright/design/units.hpp"
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

/// The edges where walls and crown meet.
std::vector<TopoDS_Edge> rim(const TopoDS_Shape& solid, const CrownSheet& sheet) {
  const auto crown = BRep_Tool::Surface(sheet.face());
  TopTools_IndexedMapOfShape edges;
  for (TopExp_Explorer it(solid, TopAbs_FACE); it.More(); it.Next()) {
    const TopoDS_Face& face = TopoDS::Face(it.Current());
    if (BRep_Tool::Surface(face) == crown) TopExp::MapShapes(face, TopAbs_EDGE, edges);
  }
  std::vector<TopoDS_Edge> result;
  for (int i = 1; i <= edges.Extent(); ++i) result.push_back(TopoDS::Edge(edges(i)));
  return result;
}

/// A null shape when the kernel can't do it.
TopoDS_Shape rounded(const TopoDS_Shape& solid, const std::vector<TopoDS_Edge>& edges, double radius_mm,
                     ChFi3d_FilletShape form) {
  try {
    BRepFilletAPI_MakeFillet fillet(solid, form);
    for (const TopoDS_Edge& edge : edges) fillet.Add(radius_mm, edge);
    fillet.Build();
    if (!fillet.IsDone()) return {};
    const TopoDS_Shape result = gathered(solids_of(fillet.Shape()));
    return closed_and_valid(result) ? result : TopoDS_Shape();
  } catch (const Standard_Failure&) {
    return {};
  }
}

}  // namespace

TopoDS_Shape envelope(const EnvelopeShape& shape) {
  const CrownSheet sheet(shape.surface.shape(), shape.z_of_base, shape.surface.edge().bounds());
  const TopoDS_Shape solid = crowned(shape, sheet);
  require_sound(solid, shape.name, "shaping the crown");
  const double radius = shape.surface.shape().round_over_mm;
  if (radius <= 0) return solid;
  const std::vector<TopoDS_Edge> edges = rim(solid, sheet);
  // Where the kernel stumbles over one description of the surface, a tenth of a micrometre or another form of
  // the same round often gets it past.
  for (const double nudge_mm : {0.0, 1e-4, -1e-4, 1e-3})
    for (const ChFi3d_FilletShape form : {ChFi3d_Rational, ChFi3d_QuasiAngular})
      if (TopoDS_Shape result = rounded(solid, edges, radius + nudge_mm, form); !result.IsNull())
        return result;
  throw SolidError(shape.name + ": the kernel can't round the edge over by " + format_number(radius, 2) +
                   " mm; try a radius somewhat smaller, or less tight corners of the outline");
}

}  // namespace haftwright::kernel
