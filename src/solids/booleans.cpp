#include <BOPAlgo_Operation.hxx>
#include <BRepAlgoAPI_BooleanOperation.hxx>
#include <BRepAlgoAPI_Common.hxx>
#include <BRepAlgoAPI_Cut.hxx>
#include <BRepAlgoAPI_Fuse.hxx>
#include <BRepAlgoAPI_Splitter.hxx>
#include <BRepBndLib.hxx>
#include <Bnd_Box.hxx>
#include <TopTools_ListOfShape.hxx>
#include <gp_Vec.hxx>

#include "haftwright/solids/solids.hpp"
#include "shapes.hpp"

namespace haftwright::kernel {

namespace {

// Room for the rounding of intersection curves on fitted surfaces; far under every length that matters.
constexpr double kFuzzy_mm = 1e-6;

TopTools_ListOfShape list_of(const std::vector<TopoDS_Shape>& shapes) {
  TopTools_ListOfShape list;
  for (const TopoDS_Shape& shape : shapes) list.Append(shape);
  return list;
}

/// Runs one boolean. The kernel signals failure by flag or by exception; both become a SolidError.
void run(BRepAlgoAPI_BuilderAlgo& job, const std::string& what) {
  job.SetNonDestructive(true);
  job.SetFuzzyValue(kFuzzy_mm);
  job.SetRunParallel(false);
  job.Build();
  if (!job.IsDone() || job.HasErrors())
    throw SolidError(what + ": the solid kernel could not cut this shape");
}

}  // namespace

TopoDS_Shape cut(const TopoDS_Shape& from, const std::vector<TopoDS_Shape>& tools, const std::string& what) {
  if (tools.empty()) return from;
  BRepAlgoAPI_Cut job;
  job.SetArguments(list_of({from}));
  job.SetTools(list_of(tools));
  run(job, what);
  return gathered(solids_of(job.Shape()));
}

TopoDS_Shape fused(const TopoDS_Shape& a, const std::vector<TopoDS_Shape>& others, const std::string& what) {
  if (others.empty()) return a;
  BRepAlgoAPI_Fuse job;
  job.SetArguments(list_of({a}));
  job.SetTools(list_of(others));
  run(job, what);
  return gathered(solids_of(job.Shape()));
}

std::vector<TopoDS_Shape> split(const TopoDS_Shape& solid, const std::vector<TopoDS_Shape>& faces,
                                const std::string& what) {
  if (faces.empty()) return solids_of(solid);
  BRepAlgoAPI_Splitter job;
  job.SetArguments(list_of({solid}));
  job.SetTools(list_of(faces));
  run(job, what);
  return solids_of(job.Shape());
}

std::vector<TopoDS_Shape> common(const std::vector<TopoDS_Shape>& shapes, const TopoDS_Shape& keep,
                                 const std::string& what) {
  if (shapes.empty()) return {};
  BRepAlgoAPI_Common job;
  job.SetArguments(list_of(shapes));
  job.SetTools(list_of({keep}));
  run(job, what);
  std::vector<TopoDS_Shape> results;
  for (const TopoDS_Shape& shape : shapes) {
    std::vector<TopoDS_Shape> solids;
    for (const TopoDS_Shape& image : job.Modified(shape)) solids.push_back(image);
    if (solids.empty() && !job.IsDeleted(shape)) solids = solids_of(shape);
    results.push_back(gathered(solids));
  }
  return results;
}

TopoDS_Shape below(const TopoDS_Shape& solid, const gp_Pln& plane, const std::string& what) {
  Bnd_Box box;
  BRepBndLib::Add(solid, box, false);
  const gp_Pnt low = box.CornerMin();
  const gp_Pnt high = box.CornerMax();
  const Bounds plan{{low.X(), low.Y()}, {high.X(), high.Y()}};
  std::vector<TopoDS_Shape> kept;
  for (const TopoDS_Shape& part : split(solid, {wide_face(plane, plan, low.Z(), high.Z())}, what)) {
    const gp_Vec from_plane(plane.Location(), centre_of_mass(part));
    if (from_plane.Dot(gp_Vec(plane.Axis().Direction())) < 0) kept.push_back(part);
  }
  return gathered(kept);
}

}  // namespace haftwright::kernel
