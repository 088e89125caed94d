#include "shapes.hpp"

#include <cmath>

#include <BRepBuilderAPI_MakeEdge.hxx>
#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepBuilderAPI_MakeWire.hxx>
#include <BRepBuilderAPI_NurbsConvert.hxx>
#include <BRepPrimAPI_MakeCylinder.hxx>
#include <BRepPrimAPI_MakePrism.hxx>
#include <BRep_Builder.hxx>
#include <Message.hxx>
#include <Message_Messenger.hxx>
#include <Message_PrinterOStream.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Compound.hxx>
#include <TopoDS_Vertex.hxx>
#include <gp_Ax2.hxx>
#include <gp_Circ.hxx>
#include <gp_Dir.hxx>
#include <gp_Vec.hxx>

namespace haftwright::kernel {

namespace {

// An arc that leaves its chord by less than this is a plane wall to the kernel.
constexpr double kStraightSagitta_mm = 1e-6;

bool is_straight(const Edge& edge) {
  return std::abs(edge.bulge) * glm::distance(edge.from, edge.to) / 2 < kStraightSagitta_mm;
}

TopoDS_Edge kernel_edge(const Edge& edge, const TopoDS_Vertex& from, const TopoDS_Vertex& to, double z) {
  if (is_straight(edge)) return BRepBuilderAPI_MakeEdge(from, to).Edge();
  const gp_Dir axis(0, 0, edge.bulge > 0 ? 1 : -1);
  const gp_Circ circle(gp_Ax2(gp_Pnt(edge.centre.x, edge.centre.y, z), axis), edge.radius);
  return BRepBuilderAPI_MakeEdge(circle, from, to).Edge();
}

}  // namespace

void keep_quiet() {
  Message::DefaultMessenger()->RemovePrinters(STANDARD_TYPE(Message_PrinterOStream));
}

TopoDS_Wire wire(const Outline& outline, double z) {
  std::vector<TopoDS_Vertex> corners;
  BRep_Builder builder;
  for (const Edge& edge : outline.edges()) {
    TopoDS_Vertex corner;
    builder.MakeVertex(corner, gp_Pnt(edge.from.x, edge.from.y, z), 1e-7);
    corners.push_back(corner);
  }
  BRepBuilderAPI_MakeWire chain;
  for (std::size_t i = 0; i < corners.size(); ++i) {
    chain.Add(kernel_edge(outline.edges()[i], corners[i], corners[(i + 1) % corners.size()], z));
  }
  return chain.Wire();
}

TopoDS_Face face(const Outline& outline, double z) {
  const gp_Pln plane(gp_Pnt(0, 0, z), gp_Dir(0, 0, 1));
  return BRepBuilderAPI_MakeFace(plane, wire(outline, z), true).Face();
}

TopoDS_Shape upright(const Outline& outline, double z_low, double z_high) {
  return BRepPrimAPI_MakePrism(face(outline, z_low), gp_Vec(0, 0, z_high - z_low)).Shape();
}

TopoDS_Shape upright(const Outline& outline, const std::vector<Outline>& openings, double z_low,
                     double z_high) {
  BRepBuilderAPI_MakeFace plan(face(outline, z_low));
  for (const Outline& opening : openings) plan.Add(TopoDS::Wire(wire(opening, z_low).Reversed()));
  return BRepPrimAPI_MakePrism(plan.Face(), gp_Vec(0, 0, z_high - z_low)).Shape();
}

TopoDS_Shape upright_cylinder(Vec2 at, double radius_mm, double z_low, double z_high) {
  const gp_Ax2 axis(gp_Pnt(at.x, at.y, z_low), gp_Dir(0, 0, 1));
  return BRepPrimAPI_MakeCylinder(axis, radius_mm, z_high - z_low).Shape();
}

TopoDS_Face wide_face(const gp_Pln& plane, const Bounds& plan, double z_low, double z_high) {
  constexpr double kOvershoot_mm = 5;
  const gp_Pnt middle((plan.low.x + plan.high.x) / 2, (plan.low.y + plan.high.y) / 2, (z_low + z_high) / 2);
  const double reach =
      glm::length(glm::dvec3(plan.size(), z_high - z_low)) / 2 + kOvershoot_mm + plane.Distance(middle);
  gp_Pln centred = plane;
  const gp_Vec to_plane(gp_Vec(plane.Axis().Direction()) *
                        gp_Vec(middle, plane.Location()).Dot(gp_Vec(plane.Axis().Direction())));
  centred.SetLocation(middle.Translated(to_plane));
  return BRepBuilderAPI_MakeFace(centred, -reach, reach, -reach, reach).Face();
}

TopoDS_Face as_spline(const TopoDS_Face& flat) {
  return TopoDS::Face(BRepBuilderAPI_NurbsConvert(flat, true).Shape());
}

std::vector<TopoDS_Shape> solids_of(const TopoDS_Shape& shape) {
  std::vector<TopoDS_Shape> solids;
  if (shape.IsNull()) return solids;
  for (TopExp_Explorer at(shape, TopAbs_SOLID); at.More(); at.Next()) solids.push_back(at.Current());
  return solids;
}

TopoDS_Shape gathered(const std::vector<TopoDS_Shape>& solids) {
  if (solids.empty()) return {};
  if (solids.size() == 1) return solids.front();
  TopoDS_Compound compound;
  BRep_Builder builder;
  builder.MakeCompound(compound);
  for (const TopoDS_Shape& solid : solids) builder.Add(compound, solid);
  return compound;
}

}  // namespace haftwright::kernel
