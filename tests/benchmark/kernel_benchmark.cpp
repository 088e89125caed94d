// The yardstick of the exact solids: the modelling steps of one sample's handle as bare calls of the kernel,
// each once, with no check, measure, name or second try.
#include <benchmark/benchmark.h>

#include <algorithm>
#include <string>
#include <vector>

#include <BRepAlgoAPI_BooleanOperation.hxx>
#include <BRepAlgoAPI_Common.hxx>
#include <BRepAlgoAPI_Cut.hxx>
#include <BRepAlgoAPI_Splitter.hxx>
#include <BRepFilletAPI_MakeFillet.hxx>
#include <BRep_Tool.hxx>
#include <TopExp.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_IndexedMapOfShape.hxx>
#include <TopTools_ListOfShape.hxx>
#include <TopoDS.hxx>

#include "crown_sheet.hpp"
#include "haftwright/files/project_file.hpp"
#include "haftwright/handle/lay_out.hpp"
#include "parts.hpp"
#include "shapes.hpp"
#include "side_frame.hpp"

namespace {

using namespace haftwright;
using Shapes = std::vector<TopoDS_Shape>;

TopTools_ListOfShape list_of(const Shapes& shapes) {
  TopTools_ListOfShape list;
  for (const TopoDS_Shape& shape : shapes) list.Append(shape);
  return list;
}

template <class Job>
Shapes made(const Shapes& from, const Shapes& tools) {
  Job job;
  job.SetArguments(list_of(from));
  job.SetTools(list_of(tools));
  job.SetNonDestructive(true);
  job.SetFuzzyValue(1e-6);
  job.Build();
  return kernel::solids_of(job.Shape());
}

/// The solid that reaches farthest along a plane's normal, or against it.
TopoDS_Shape farthest(const Shapes& solids, const gp_Pln& plane, double sign) {
  TopoDS_Shape best = solids.front();
  for (const TopoDS_Shape& solid : solids)
    if (sign * kernel::farthest_off(plane, solid) > sign * kernel::farthest_off(plane, best)) best = solid;
  return best;
}

TopoDS_Shape rounded(const TopoDS_Shape& solid, const TopoDS_Face& crown, double radius_mm) {
  BRepFilletAPI_MakeFillet fillet(solid, ChFi3d_Rational);
  for (TopExp_Explorer it(solid, TopAbs_FACE); it.More(); it.Next()) {
    if (BRep_Tool::Surface(TopoDS::Face(it.Current())) != BRep_Tool::Surface(crown)) continue;
    TopTools_IndexedMapOfShape edges;
    TopExp::MapShapes(it.Current(), TopAbs_EDGE, edges);
    for (int i = 1; i <= edges.Extent(); ++i)
      if (fillet.Contour(TopoDS::Edge(edges(i))) == 0) fillet.Add(radius_mm, TopoDS::Edge(edges(i)));
  }
  fillet.Build();
  return kernel::solids_of(fillet.Shape()).front();
}

Shapes drills(const Handle& handle, HoleLayer::Kind kind, double low, double high) {
  Shapes tools;
  for (const PinLayout& pin : handle.pins)
    for (const HoleLayer& layer : pin.layers)
      if (layer.kind == kind && (kind == HoleLayer::Kind::tang || layer.side == Which::left))
        tools.push_back(kernel::upright_cylinder(pin.at, layer.diameter_mm / 2, low, high));
  return tools;
}

TopoDS_Shape rod(const PinLayout& pin) {
  const double reach = pin.length_mm + 2 * pin.diameter_mm + 10;
  return kernel::upright_cylinder(pin.at, pin.diameter_mm / 2, -reach, reach);
}

/// Of a handle whose sides are alike, whose tang is even and which has one liner a side.
void make_bare(const Handle& handle) {
  const SideLayout& side = handle.left;
  const kernel::SideFrame frame(handle, side);
  const Bounds& plan = side.edge.bounds();
  const double tang = frame.tang_front_z();
  double longest = 0, highest = 0;
  for (const PinLayout& pin : handle.pins) longest = std::max(longest, pin.length_mm);
  for (const Part& part : side.parts) highest = std::max(highest, frame.z_of(0, part.s_high_mm));
  const double deep = -longest - 2, top = highest + 2;
  const kernel::CrownSheet sheet(side.surface.shape(), tang, plan);
  const TopoDS_Shape prism = kernel::upright(side.edge, deep, sheet.greatest_z() + 1);
  const gp_Pln middle(gp_Pnt(0, 0, (deep + sheet.greatest_z() + 1) / 2), gp_Dir(0, 0, 1));
  const TopoDS_Shape envelope =
      rounded(farthest(made<BRepAlgoAPI_Splitter>({prism}, {sheet.face()}), middle, -1), sheet.face(),
              side.surface.shape().round_over_mm);
  const auto wide = [&](const gp_Pln& plane) { return kernel::wide_face(plane, plan, -2, top); };

  Shapes blocks =
      made<BRepAlgoAPI_Splitter>({envelope}, {wide(frame.level(0)), wide(frame.plane(side.front))});
  std::erase_if(blocks, [&](const TopoDS_Shape& block) {
    return kernel::farthest_off(frame.level(0), block) < 0 ||
           kernel::farthest_off(frame.plane(side.front), block) < 0;
  });
  Shapes joints, all;
  const Part* first = nullptr;
  for (const Part& part : side.parts) {
    if (part.kind == PartKind::liner) {
      const TopoDS_Shape sheet_body =
          kernel::upright(side.edge, frame.z_of(0, part.s_low_mm), frame.z_of(0, part.s_high_mm));
      const TopoDS_Shape kept =
          farthest(made<BRepAlgoAPI_Splitter>({sheet_body}, {wide(frame.plane(part.front))}),
                   frame.plane(part.front), 1);
      all = made<BRepAlgoAPI_Cut>({kept}, drills(handle, HoleLayer::Kind::liner, -2, top));
    } else if (first == nullptr) {
      first = &part;
    } else {
      joints.push_back(wide(frame.plane(part.front)));
    }
  }
  const Shapes drilled =
      made<BRepAlgoAPI_Cut>({blocks.front()}, drills(handle, HoleLayer::Kind::scale, -2, top));
  for (const TopoDS_Shape& piece : made<BRepAlgoAPI_Splitter>(drilled, joints)) all.push_back(piece);
  Shapes mirrored;
  for (const TopoDS_Shape& shape : all) mirrored.push_back(kernel::mirrored(shape));

  const TopoDS_Shape steel = kernel::upright(handle.tang, handle.cutouts, -tang, tang);
  benchmark::DoNotOptimize(
      made<BRepAlgoAPI_Cut>({steel}, drills(handle, HoleLayer::Kind::tang, -tang - 1, tang + 1)));
  Shapes pins;
  for (const PinLayout& pin : handle.pins) pins.push_back(rod(pin));
  pins = made<BRepAlgoAPI_Common>(pins, {envelope});
  benchmark::DoNotOptimize(made<BRepAlgoAPI_Common>(pins, {kernel::mirrored(envelope)}));
  benchmark::DoNotOptimize(mirrored);
}

void kernel_steps(benchmark::State& state) {
  const Handle handle = lay_out(read_project(std::string(HAFTWRIGHT_PROJECTS) + "/shucking_knife.json"));
  kernel::keep_quiet();
  for (auto _ : state) make_bare(handle);
}
BENCHMARK(kernel_steps)->Unit(benchmark::kMillisecond)->MinTime(3);

}  // namespace
