#include <algorithm>
#include <cmath>
#include <limits>

#include <BRepBuilderAPI_Transform.hxx>
#include <Standard_Failure.hxx>
#include <TopoDS.hxx>
#include <gp_Trsf.hxx>

#include "envelope.hpp"
#include "haftwright/solids/solids.hpp"
#include "parts.hpp"
#include "shapes.hpp"
#include "side_frame.hpp"

namespace haftwright::kernel {

namespace {

constexpr double kOvershoot_mm = 2;

bool every_solid(const TopoDS_Shape&) {
  return true;
}

/// What is done first where a block is drilled and parted into pieces.
enum class Order { holes_first, joints_first };

class SideMaker {
 public:
  SideMaker(const Handle& handle, const SideLayout& side, const SideVolumes& expected)
      : handle_(handle),
        side_(side),
        expected_(expected),
        frame_(handle, side),
        name_(std::string(name_of(side.which)) + " scale") {
    const Bounds& plan = side.edge.bounds();
    for (const double x : {plan.low.x, plan.high.x}) {
      lowest_z_ = std::min(lowest_z_, frame_.z_of(x, -side.liner_total_mm));
      for (const Part& part : side.parts) highest_z_ = std::max(highest_z_, frame_.z_of(x, part.s_high_mm));
    }
  }

  /// Reaches down past the other side's surface, so that a pin can be cut to length with it.
  Envelope envelope(RimWay from) const {
    double deepest = 0;
    for (const PinLayout& pin : handle_.pins) deepest = std::max(deepest, pin.length_mm);
    deepest = std::max(deepest, highest_z_);
    return kernel::envelope(
        {side_.surface, frame_.tang_front_z(), -deepest - kOvershoot_mm, clear_of_front_mm(), name_}, from);
  }

  /// Measured and held against the layout.
  std::vector<MeasuredBody> parts(const Envelope& envelope, Order order) const {
    std::vector<const Part*> woods;
    std::vector<MeasuredBody> bodies;
    for (const Part& part : side_.parts) {
      if (part.kind != PartKind::liner)
        woods.push_back(&part);
      else
        bodies.push_back(as_laid_out(liner(part), part, 0));
    }
    const std::vector<TopoDS_Shape> cut = pieces(envelope.shape, woods, order);
    for (std::size_t i = 0; i < woods.size(); ++i)
      bodies.push_back(
          as_laid_out(cut[i], *woods[i], envelope.as_laid_out ? 0 : most_rounded_off(*woods[i])));
    return bodies;
  }

 private:
  /// `part` is one of the side's own.
  MeasuredBody as_laid_out(const TopoDS_Shape& shape, const Part& part, double more_mm3) const {
    MeasuredBody body = measured_sound(with_borders_closed(shape), part.name, part.material);
    const auto index = static_cast<std::size_t>(&part - side_.parts.data());
    require_as_expected(body.facts, expected_.parts[index].left_mm3(), more_mm3);
    return body;
  }

  /// What a part can have too much where its edge stays sharp: no more than a square rod along its rim.
  double most_rounded_off(const Part& part) const {
    const double radius = side_.surface.shape().round_over_mm;
    double rim = 0;
    for (const Outline& outline : part.inner_face) rim += outline.perimeter_mm();
    return radius * radius * rim;
  }

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
    std::vector<gp_Pln> planes;
    for (const Limit& limit : limits) planes.push_back(limit.plane);
    const auto within = [&](const TopoDS_Shape& solid) {
      return std::ranges::all_of(limits, [&](const Limit& limit) {
        return lies_ahead(limit.plane, solid, name) == limit.ahead_of_normal;
      });
    };
    std::vector<TopoDS_Shape> inside = split_all({body}, planes, name, within);
    std::erase_if(inside, [&](const TopoDS_Shape& solid) { return !within(solid); });
    if (inside.empty()) throw SolidError(name + ": nothing is left behind its front face");
    return gathered(inside);
  }

  /// All planes in one go is quickest; one after the other is what holds where a hole meets several, or where
  /// the kernel misses one among many. May leave some that are not wanted.
  std::vector<TopoDS_Shape> split_all(const std::vector<TopoDS_Shape>& bodies,
                                      const std::vector<gp_Pln>& planes, const std::string& name,
                                      const Wanted& wanted) const {
    std::vector<TopoDS_Shape> faces;
    for (const gp_Pln& plane : planes) faces.push_back(cut_face(plane));
    if (faces.empty()) return bodies;
    const auto checked = [&](const TopoDS_Shape& solid) {
      for (const gp_Pln& plane : planes) lies_ahead(plane, solid, name);
      return wanted(solid);
    };
    const auto parted_by = [&](const std::vector<TopoDS_Shape>& tools) {
      std::vector<TopoDS_Shape> solids;
      for (const TopoDS_Shape& body : bodies)
        for (const TopoDS_Shape& part : split(body, tools, name, checked)) solids.push_back(part);
      return solids;
    };
    try {
      return parted_by(faces);
    } catch (const SolidError&) {
      if (faces.size() == 1) return parted_by({as_spline(TopoDS::Face(faces.front()))});
    }
    std::vector<TopoDS_Shape> solids = bodies;
    for (const gp_Pln& plane : planes) solids = split_all(solids, {plane}, name, every_solid);
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

  std::vector<TopoDS_Shape> pieces(const TopoDS_Shape& envelope, const std::vector<const Part*>& woods,
                                   Order order) const {
    const TopoDS_Shape block =
        kept(envelope, {{frame_.level(0), true}, {frame_.plane(side_.front), true}}, name_);
    const std::vector<TopoDS_Shape> holes = drills(HoleLayer::Kind::scale, 0);
    if (order == Order::holes_first) return parted(cut(block, holes, name_), woods);
    std::vector<TopoDS_Shape> bodies = parted(block, woods);
    for (std::size_t i = 0; i < woods.size(); ++i) bodies[i] = cut(bodies[i], holes, woods[i]->name);
    return bodies;
  }

  std::vector<TopoDS_Shape> parted(const TopoDS_Shape& block, const std::vector<const Part*>& woods) const {
    std::vector<gp_Pln> planes;
    for (std::size_t i = 1; i < woods.size(); ++i) planes.push_back(frame_.plane(woods[i]->front));
    return sorted(split_all({block}, planes, name_, every_solid), woods);
  }

  /// The solids of each piece and spacer, by the planes they lie between.
  std::vector<TopoDS_Shape> sorted(const std::vector<TopoDS_Shape>& solids,
                                   const std::vector<const Part*>& woods) const {
    std::vector<std::vector<TopoDS_Shape>> of(woods.size());
    for (const TopoDS_Shape& solid : solids) {
      std::size_t at = 0;
      while (at + 1 < woods.size() && lies_ahead(frame_.plane(woods[at + 1]->front), solid, name_)) ++at;
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
  const SideVolumes& expected_;
  SideFrame frame_;
  std::string name_;
  double lowest_z_ = 0;
  double highest_z_ = 0;
};

}  // namespace

SideBodies side_bodies(const Handle& handle, const SideLayout& side, const SideVolumes& expected,
                       const std::function<void(const std::string&)>& step) {
  const SideMaker maker(handle, side, expected);
  const std::string name = name_of(side.which);
  step(name + " side: finished surface");
  Envelope envelope = maker.envelope(RimWay::whole);
  step(name + " side: pieces and liners");
  while (true) {
    std::string problem;
    // What the kernel can't cut in one order it may cut in the other, and what it can't cut with its edges
    // rounded one way, another way or with them sharp.
    for (const Order order : {Order::holes_first, Order::joints_first}) {
      try {
        std::vector<MeasuredBody> parts = maker.parts(envelope, order);
        return {std::move(parts), envelope.shape, std::move(envelope.warnings), envelope.as_laid_out};
      } catch (const SolidError& error) {
        problem = error.what();
      } catch (const Standard_Failure& failure) {
        problem = name + " side: the solid kernel failed: " + failure.GetMessageString();
      }
    }
    if (envelope.way == RimWay::sharp) throw SolidError(problem);
    envelope = maker.envelope(next(envelope.way));
  }
}

TopoDS_Shape mirrored(const TopoDS_Shape& shape) {
  gp_Trsf across;
  across.SetMirror(gp_Ax2(gp_Pnt(0, 0, 0), gp_Dir(0, 0, 1)));
  return BRepBuilderAPI_Transform(shape, across, true).Shape();
}

}  // namespace haftwright::kernel
