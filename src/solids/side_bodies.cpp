#include <algorithm>
#include <cmath>
#include <limits>

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
  Envelope envelope(Rim rim) const {
    double deepest = 0;
    for (const PinLayout& pin : handle_.pins) deepest = std::max(deepest, pin.length_mm);
    deepest = std::max(deepest, highest_z_);
    return kernel::envelope(
        {side_.surface, frame_.tang_front_z(), -deepest - kOvershoot_mm, clear_of_front_mm(), name_}, rim);
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
  /// x ahead of which no round-over reaches back to the front face.
  double clear_of_front_mm() const {
    double foremost = std::numeric_limits<double>::infinity();
    for (const double y : {side_.edge.bounds().low.y, side_.edge.bounds().high.y})
      for (const double s : {-side_.liner_total_mm, highest_z_})
        foremost = std::min(foremost, side_.front.x_at(y, s));
    return foremost - 2 * side_.surface.shape().round_over_mm;
  }

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

  /// A plane, and on which side of it a part lies.
  struct Limit {
    gp_Pln plane;
    bool ahead_of_normal = true;
  };

  /// Of the solids that the planes part a body into, those on the wanted side of each.
  TopoDS_Shape kept(const TopoDS_Shape& body, const std::vector<Limit>& limits,
                    const std::string& name) const {
    std::vector<TopoDS_Shape> faces;
    for (const Limit& limit : limits) faces.push_back(cut_face(limit.plane));
    std::vector<TopoDS_Shape> inside;
    for (const TopoDS_Shape& solid : split_all({body}, faces, name)) {
      const auto within = [&](const Limit& limit) {
        return (farthest_off(limit.plane, solid) > 0) == limit.ahead_of_normal;
      };
      if (std::ranges::all_of(limits, within)) inside.push_back(solid);
    }
    if (inside.empty()) throw SolidError(name + ": nothing is left behind its front face");
    return gathered(inside);
  }

  /// All planes in one go is quickest; one after the other is what holds where a hole meets several.
  static std::vector<TopoDS_Shape> split_all(const std::vector<TopoDS_Shape>& bodies,
                                             const std::vector<TopoDS_Shape>& faces,
                                             const std::string& name) {
    try {
      std::vector<TopoDS_Shape> solids;
      for (const TopoDS_Shape& body : bodies)
        for (const TopoDS_Shape& part : split(body, faces, name)) solids.push_back(part);
      return solids;
    } catch (const SolidError&) {
      if (faces.size() < 2) throw;
    }
    std::vector<TopoDS_Shape> solids = bodies;
    for (const TopoDS_Shape& face : faces) solids = split_all(solids, {face}, name);
    return solids;
  }

  TopoDS_Shape liner(const Part& part) const {
    const TopoDS_Shape block =
        frame_.tapered() ? upright(side_.edge, lowest_z_ - kOvershoot_mm, highest_z_ + kOvershoot_mm)
                         : upright(side_.edge, frame_.z_of(0, part.s_low_mm), frame_.z_of(0, part.s_high_mm));
    std::vector<Limit> limits{{frame_.plane(part.front), true}};
    if (frame_.tapered()) {
      limits.push_back({frame_.level(part.s_low_mm), true});
      limits.push_back({frame_.level(part.s_high_mm), false});
    }
    return cut(kept(block, limits, part.name), drills(HoleLayer::Kind::liner, part.index), part.name);
  }

  std::vector<TopoDS_Shape> pieces(const TopoDS_Shape& envelope,
                                   const std::vector<const Part*>& woods) const {
    const TopoDS_Shape block =
        kept(envelope, {{frame_.level(0), true}, {frame_.plane(side_.front), true}}, name_);
    const TopoDS_Shape drilled = cut(block, drills(HoleLayer::Kind::scale, 0), name_);
    std::vector<TopoDS_Shape> faces;
    for (std::size_t i = 1; i < woods.size(); ++i) faces.push_back(cut_face(frame_.plane(woods[i]->front)));
    return sorted(split_all({drilled}, faces, name_), woods);
  }

  /// The solids of each piece and spacer, by the planes they lie between.
  std::vector<TopoDS_Shape> sorted(const std::vector<TopoDS_Shape>& solids,
                                   const std::vector<const Part*>& woods) const {
    std::vector<std::vector<TopoDS_Shape>> of(woods.size());
    for (const TopoDS_Shape& solid : solids) {
      std::size_t at = 0;
      while (at + 1 < woods.size() && farthest_off(frame_.plane(woods[at + 1]->front), solid) > 0) ++at;
      of[at].push_back(solid);
    }
    std::vector<TopoDS_Shape> bodies;
    for (std::size_t i = 0; i < woods.size(); ++i) {
      if (of[i].empty())
        throw SolidError(woods[i]->name + ": no closed solid came out of cutting the joints");
      bodies.push_back(gathered(of[i]));
    }
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
  Envelope envelope = maker.envelope(Rim::rounded);
  step(name + " side: pieces and liners");
  std::vector<TopoDS_Shape> parts;
  try {
    parts = maker.parts(envelope.shape);
  } catch (const SolidError& error) {
    if (side.surface.shape().round_over_mm == 0 || !envelope.as_laid_out) throw;
    // What the kernel can't cut with its edges rounded it may cut with them sharp.
    envelope = maker.envelope(Rim::sharp);
    parts = maker.parts(envelope.shape);
  }
  return {std::move(parts), envelope.shape, std::move(envelope.warnings), envelope.as_laid_out};
}

TopoDS_Shape mirrored(const TopoDS_Shape& shape) {
  gp_Trsf across;
  across.SetMirror(gp_Ax2(gp_Pnt(0, 0, 0), gp_Dir(0, 0, 1)));
  return BRepBuilderAPI_Transform(shape, across, true).Shape();
}

}  // namespace haftwright::kernel
