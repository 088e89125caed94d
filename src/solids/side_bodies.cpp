#include <algorithm>
#include <cmath>

#include <BRepBuilderAPI_Transform.hxx>
#include <gp_Trsf.hxx>

#include "envelope.hpp"
#include "haftwright/solids/solids.hpp"
#include "parts.hpp"
#include "shapes.hpp"
#include "side_frame.hpp"

namespace haftwright::kernel {

namespace {

constexpr double kOvershoot_mm = 2;

class SideMaker {
 public:
  SideMaker(const Handle& handle, const SideLayout& side)
      : handle_(handle),
        side_(side),
        frame_(handle, side),
        name_(std::string(name_of(side.which)) + " scale") {
    const Bounds& plan = side.edge.bounds();
    for (const double x : {plan.low.x, plan.high.x}) {
      lowest_z_ = std::min(lowest_z_, frame_.z_of(x, -side.liner_total_mm));
      for (const Part& part : side.parts) highest_z_ = std::max(highest_z_, frame_.z_of(x, part.s_high_mm));
    }
  }

  /// Reaches down past the other side's surface, so that a pin can be cut to length with it.
  TopoDS_Shape envelope() const {
    double deepest = 0;
    for (const PinLayout& pin : handle_.pins) deepest = std::max(deepest, pin.length_mm);
    deepest = std::max(deepest, highest_z_);
    return kernel::envelope({side_.surface, frame_.tang_front_z(), -deepest - kOvershoot_mm, name_});
  }

  std::vector<TopoDS_Shape> parts(const TopoDS_Shape& envelope) const {
    std::vector<TopoDS_Shape> bodies;
    std::vector<const Part*> layers;
    std::vector<const Part*> woods;
    for (const Part& part : side_.parts) (part.kind == PartKind::liner ? layers : woods).push_back(&part);
    for (const Part* part : layers) bodies.push_back(liner(*part));
    for (TopoDS_Shape& body : pieces(envelope, woods)) bodies.push_back(std::move(body));
    return bodies;
  }

 private:
  TopoDS_Face cut_face(const gp_Pln& plane) const {
    return wide_face(plane, side_.edge.bounds(), lowest_z_ - kOvershoot_mm, highest_z_ + kOvershoot_mm);
  }

  std::vector<TopoDS_Shape> drills(HoleLayer::Kind kind, std::size_t liner) const {
    std::vector<TopoDS_Shape> tools;
    for (const PinLayout& pin : handle_.pins) {
      for (const HoleLayer& layer : pin.layers) {
        const bool here = layer.kind == kind && layer.side == side_.which && layer.liner == liner;
        if (!here) continue;
        tools.push_back(upright_cylinder(pin.at, layer.diameter_mm / 2, lowest_z_ - kOvershoot_mm,
                                         highest_z_ + kOvershoot_mm));
      }
    }
    return tools;
  }

  /// Of the solids that planes part a body into, those that `wanted` says yes to at a point inside.
  template <class Wanted>
  TopoDS_Shape kept(const TopoDS_Shape& body, const std::vector<gp_Pln>& planes, const std::string& name,
                    Wanted wanted) const {
    std::vector<TopoDS_Shape> faces;
    for (const gp_Pln& plane : planes) faces.push_back(cut_face(plane));
    std::vector<TopoDS_Shape> inside;
    for (const TopoDS_Shape& solid : split(body, faces, name)) {
      // The planes part space into convex cells, so the centre of what lies in one lies in it too.
      if (wanted(centre_of_mass(solid))) inside.push_back(solid);
    }
    return gathered(inside);
  }

  TopoDS_Shape liner(const Part& part) const {
    const TopoDS_Shape block =
        frame_.tapered() ? upright(side_.edge, lowest_z_ - kOvershoot_mm, highest_z_ + kOvershoot_mm)
                         : upright(side_.edge, frame_.z_of(0, part.s_low_mm), frame_.z_of(0, part.s_high_mm));
    std::vector<gp_Pln> planes{frame_.plane(part.front)};
    if (frame_.tapered()) {
      planes.push_back(frame_.level(part.s_low_mm));
      planes.push_back(frame_.level(part.s_high_mm));
    }
    const TopoDS_Shape sheet = kept(block, planes, part.name, [&](const gp_Pnt& p) {
      const double s = frame_.s_of(p);
      return s > part.s_low_mm && s < part.s_high_mm && frame_.is_behind(part.front, p);
    });
    const TopoDS_Shape body = cut(sheet, drills(HoleLayer::Kind::liner, part.index), part.name);
    require_sound(body, part.name, "cutting its front and holes");
    return body;
  }

  std::vector<TopoDS_Shape> pieces(const TopoDS_Shape& envelope,
                                   const std::vector<const Part*>& woods) const {
    const TopoDS_Shape block =
        kept(envelope, {frame_.level(0), frame_.plane(side_.front)}, name_,
             [&](const gp_Pnt& p) { return frame_.s_of(p) > 0 && frame_.is_behind(side_.front, p); });
    require_sound(block, name_, "cutting the front face");
    const TopoDS_Shape drilled = cut(block, drills(HoleLayer::Kind::scale, 0), name_);
    require_sound(drilled, name_, "drilling");
    std::vector<TopoDS_Shape> faces;
    for (std::size_t i = 1; i < woods.size(); ++i) faces.push_back(cut_face(frame_.plane(woods[i]->front)));
    std::vector<TopoDS_Shape> bodies = sorted(split(drilled, faces, name_), woods);
    if (!std::all_of(bodies.begin(), bodies.end(), closed_and_valid)) {
      // All planes in one go is quickest; one after the other is what holds where a hole meets several.
      std::vector<TopoDS_Shape> solids{drilled};
      for (const TopoDS_Shape& plane : faces) {
        std::vector<TopoDS_Shape> finer;
        for (const TopoDS_Shape& solid : solids)
          for (const TopoDS_Shape& part : split(solid, {plane}, name_)) finer.push_back(part);
        solids = std::move(finer);
      }
      bodies = sorted(solids, woods);
    }
    for (std::size_t i = 0; i < woods.size(); ++i)
      require_sound(bodies[i], woods[i]->name, "cutting the joints");
    return bodies;
  }

  /// The solids of each piece and spacer, by the planes they lie between.
  std::vector<TopoDS_Shape> sorted(const std::vector<TopoDS_Shape>& solids,
                                   const std::vector<const Part*>& woods) const {
    std::vector<std::vector<TopoDS_Shape>> of(woods.size());
    for (const TopoDS_Shape& solid : solids) {
      const gp_Pnt centre = centre_of_mass(solid);
      std::size_t at = 0;
      while (at + 1 < woods.size() && frame_.is_behind(woods[at + 1]->front, centre)) ++at;
      of[at].push_back(solid);
    }
    std::vector<TopoDS_Shape> bodies;
    for (const auto& mine : of) bodies.push_back(gathered(mine));
    return bodies;
  }

  const Handle& handle_;
  const SideLayout& side_;
  SideFrame frame_;
  std::string name_;
  double lowest_z_ = 0;
  double highest_z_ = 0;
};

}  // namespace

SideBodies side_bodies(const Handle& handle, const SideLayout& side,
                       const std::function<void(const std::string&)>& step) {
  const SideMaker maker(handle, side);
  const std::string name = name_of(side.which);
  step(name + " side: finished surface");
  SideBodies bodies;
  bodies.envelope = maker.envelope();
  step(name + " side: pieces and liners");
  bodies.parts = maker.parts(bodies.envelope);
  return bodies;
}

TopoDS_Shape mirrored(const TopoDS_Shape& shape) {
  gp_Trsf across;
  across.SetMirror(gp_Ax2(gp_Pnt(0, 0, 0), gp_Dir(0, 0, 1)));
  return BRepBuilderAPI_Transform(shape, across, true).Shape();
}

}  // namespace haftwright::kernel
