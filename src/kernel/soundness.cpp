#include <algorithm>

#include <BRepAdaptor_Curve.hxx>
#include <BRepCheck_Analyzer.hxx>
#include <BRepGProp.hxx>
#include <BRep_Tool.hxx>
#include <GProp_GProps.hxx>
#include <Precision.hxx>
#include <ShapeFix_Wireframe.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_DataMapOfShapeInteger.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Edge.hxx>
#include <gp_Vec.hxx>

#include "haftwright/solids/solids.hpp"
#include "shapes.hpp"

namespace haftwright::kernel {

namespace {

bool edges_pair_up(const TopoDS_Shape& shell) {
  TopTools_DataMapOfShapeInteger forward;
  TopTools_DataMapOfShapeInteger reversed;
  for (TopExp_Explorer at(shell, TopAbs_EDGE); at.More(); at.Next()) {
    const TopoDS_Edge& edge = TopoDS::Edge(at.Current());
    if (BRep_Tool::Degenerated(edge)) continue;
    const bool ahead = edge.Orientation() == TopAbs_FORWARD;
    if (!ahead && edge.Orientation() != TopAbs_REVERSED) return false;
    // Bind answers false when the key is there already: a second use in the same direction.
    if (!(ahead ? forward : reversed).Bind(edge.Oriented(TopAbs_FORWARD), 1)) return false;
  }
  if (forward.Extent() != reversed.Extent()) return false;
  for (TopTools_DataMapOfShapeInteger::Iterator at(forward); at.More(); at.Next()) {
    if (!reversed.IsBound(at.Key())) return false;
  }
  return forward.Extent() > 0;
}

/// How far a shape reaches to both sides of a plane.
struct Reach {
  double ahead = 0;
  double behind = 0;  ///< zero or less
};

Reach reach_across(const gp_Pln& plane, const TopoDS_Shape& shape) {
  Reach reach;
  for (TopExp_Explorer at(shape, TopAbs_EDGE); at.More(); at.Next()) {
    const TopoDS_Edge& edge = TopoDS::Edge(at.Current());
    if (BRep_Tool::Degenerated(edge)) continue;
    const BRepAdaptor_Curve curve(edge);
    const double from = curve.FirstParameter();
    const double to = curve.LastParameter();
    for (const double share : {0.0, 0.25, 0.5, 0.75}) {
      const gp_Vec there(plane.Location(), curve.Value(from + share * (to - from)));
      const double off = there.Dot(gp_Vec(plane.Axis().Direction()));
      reach.ahead = std::max(reach.ahead, off);
      reach.behind = std::min(reach.behind, off);
    }
  }
  return reach;
}

}  // namespace

double volume_mm3(const TopoDS_Shape& shape) {
  GProp_GProps properties;
  BRepGProp::VolumePropertiesGK(shape, properties, 1e-4);
  return properties.Mass();
}

TopoDS_Shape with_borders_closed(const TopoDS_Shape& shape) {
  constexpr double kOpen_mm =
      1e-5;  // far over the kernel's own coincidence, far under what shows in a volume
  constexpr double kWidestGap_mm = 1;
  double widest = 0;
  for (TopExp_Explorer at(shape, TopAbs_VERTEX); at.More(); at.Next())
    widest = std::max(widest, BRep_Tool::Tolerance(TopoDS::Vertex(at.Current())));
  if (widest < kOpen_mm) return shape;
  ShapeFix_Wireframe borders(shape);
  borders.SetPrecision(Precision::Confusion());
  borders.SetMaxTolerance(kWidestGap_mm);
  if (!borders.FixWireGaps() || !closed_and_valid(borders.Shape())) return shape;
  return borders.Shape();
}

double farthest_off(const gp_Pln& plane, const TopoDS_Shape& shape) {
  const Reach reach = reach_across(plane, shape);
  return reach.ahead > -reach.behind ? reach.ahead : reach.behind;
}

bool lies_ahead(const gp_Pln& plane, const TopoDS_Shape& shape, const std::string& what) {
  constexpr double kThrough_mm = 1e-3;  // far over the kernel's tolerances, far under every thickness
  const Reach reach = reach_across(plane, shape);
  if (reach.ahead > kThrough_mm && reach.behind < -kThrough_mm)
    throw SolidError(what + ": the solid kernel missed a cut");
  return reach.ahead > -reach.behind;
}

bool closed_and_valid(const TopoDS_Shape& shape) {
  if (shape.IsNull() || solids_of(shape).empty()) return false;
  for (TopExp_Explorer at(shape, TopAbs_SHELL); at.More(); at.Next()) {
    if (!edges_pair_up(at.Current())) return false;
  }
  return BRepCheck_Analyzer(shape).IsValid();
}

void require_sound(const TopoDS_Shape& shape, const std::string& what, const std::string& step) {
  if (!closed_and_valid(shape)) {
    throw SolidError(what + ": no closed solid came out of " + step);
  }
}

}  // namespace haftwright::kernel
