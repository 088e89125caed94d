#include <algorithm>

#include <BOPAlgo_Operation.hxx>
#include <BRepAlgoAPI_BooleanOperation.hxx>
#include <BRepAlgoAPI_Common.hxx>
#include <BRepAlgoAPI_Cut.hxx>
#include <BRepAlgoAPI_Fuse.hxx>
#include <BRepAlgoAPI_Splitter.hxx>
#include <BRepBndLib.hxx>
#include <Bnd_Box.hxx>
#include <Standard_Failure.hxx>
#include <TopTools_ListOfShape.hxx>

#include "haftwright/solids/solids.hpp"
#include "shapes.hpp"

namespace haftwright::kernel {

namespace {

// Room for the rounding of intersection curves on fitted surfaces; far under every length that matters. The
// first does nearly always; where the kernel loses its way with it, another may find it.
constexpr double kFuzzy_mm[] = {1e-6, 1e-5, 0, 1e-4};

TopTools_ListOfShape list_of(const std::vector<TopoDS_Shape>& shapes) {
  TopTools_ListOfShape list;
  for (const TopoDS_Shape& shape : shapes) list.Append(shape);
  return list;
}

/// Runs one boolean. The kernel signals failure by flag or by exception; both become a SolidError.
void run(BRepAlgoAPI_BuilderAlgo& job, const std::string& what, double fuzzy_mm = kFuzzy_mm[0]) {
  job.SetNonDestructive(true);
  job.SetFuzzyValue(fuzzy_mm);
  job.SetRunParallel(false);
  try {
    job.Build();
  } catch (const Standard_Failure& failure) {
    throw SolidError(what + ": the solid kernel could not cut this shape: " + failure.GetMessageString());
  }
  if (!job.IsDone() || job.HasErrors())
    throw SolidError(what + ": the solid kernel could not cut this shape");
}

bool every(const TopoDS_Shape&) {
  return true;
}

/// The wanted solids of `from` and `tools`, with the first tolerance that gives sound ones.
template <class Job>
std::vector<TopoDS_Shape> sound_solids(const TopoDS_Shape& from, const std::vector<TopoDS_Shape>& tools,
                                       const std::string& what, const Wanted& wanted = every) {
  std::string problem = what + ": no closed solid came out of cutting it";
  for (const double fuzzy_mm : kFuzzy_mm) {
    try {
      Job job;
      job.SetArguments(list_of({from}));
      job.SetTools(list_of(tools));
      run(job, what, fuzzy_mm);
      std::vector<TopoDS_Shape> solids = solids_of(job.Shape());
      std::erase_if(solids, [&](const TopoDS_Shape& solid) { return !wanted(solid); });
      if (std::ranges::all_of(solids, closed_and_valid)) return solids;
    } catch (const SolidError& error) {
      problem = error.what();
    }
  }
  throw SolidError(problem);
}

/// Of each shape what lies inside `keep`, which has to be something.
std::vector<TopoDS_Shape> inside_of(const std::vector<TopoDS_Shape>& shapes, const TopoDS_Shape& keep,
                                    const std::string& what, double fuzzy_mm) {
  BRepAlgoAPI_Common job;
  job.SetArguments(list_of(shapes));
  job.SetTools(list_of({keep}));
  run(job, what, fuzzy_mm);
  std::vector<TopoDS_Shape> results;
  for (const TopoDS_Shape& shape : shapes) {
    std::vector<TopoDS_Shape> solids;
    for (const TopoDS_Shape& image : job.Modified(shape)) solids.push_back(image);
    if (solids.empty() && !job.IsDeleted(shape)) solids = solids_of(shape);
    if (solids.empty())
      throw SolidError(what + ": no closed solid came out of trimming to the finished surface");
    results.push_back(gathered(solids));
  }
  return results;
}

}  // namespace

TopoDS_Shape cut(const TopoDS_Shape& from, const std::vector<TopoDS_Shape>& tools, const std::string& what) {
  return tools.empty() ? from : gathered(sound_solids<BRepAlgoAPI_Cut>(from, tools, what));
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
                                const std::string& what, const Wanted& wanted) {
  return sound_solids<BRepAlgoAPI_Splitter>(solid, faces, what, wanted);
}

std::vector<TopoDS_Shape> common(const std::vector<TopoDS_Shape>& shapes, const TopoDS_Shape& keep,
                                 const TopoDS_Shape& and_keep, const std::string& what) {
  if (shapes.empty()) return {};
  std::string problem = what + ": no closed solid came out of trimming to the finished surface";
  for (const double fuzzy_mm : kFuzzy_mm) {
    try {
      std::vector<TopoDS_Shape> inside =
          inside_of(inside_of(shapes, keep, what, fuzzy_mm), and_keep, what, fuzzy_mm);
      if (std::ranges::all_of(inside, closed_and_valid)) return inside;
    } catch (const SolidError& error) {
      problem = error.what();
    }
  }
  throw SolidError(problem);
}

TopoDS_Shape below(const TopoDS_Shape& solid, const gp_Pln& plane, const std::string& what) {
  Bnd_Box box;
  BRepBndLib::Add(solid, box, false);
  const gp_Pnt low = box.CornerMin();
  const gp_Pnt high = box.CornerMax();
  const Bounds plan{{low.X(), low.Y()}, {high.X(), high.Y()}};
  const auto is_below = [&](const TopoDS_Shape& part) { return !lies_ahead(plane, part, what); };
  return gathered(split(solid, {wide_face(plane, plan, low.Z(), high.Z())}, what, is_below));
}

}  // namespace haftwright::kernel
