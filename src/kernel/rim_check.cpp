#include "rim_check.hpp"

#include <cmath>

#include <BRepAdaptor_Surface.hxx>
#include <BRepTools.hxx>
#include <BRepTopAdaptor_FClass2d.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Face.hxx>
#include <gp_Pnt2d.hxx>

namespace haftwright::kernel {

namespace {

constexpr int kSteps = 12;  // of a face each way
/// Nearer to the upright wall the surface is so steep that a height says little.
constexpr double kWithinEdge_mm = 0.05;

class UpperSide {
 public:
  explicit UpperSide(const EnvelopeShape& shape)
      : shape_(shape), foremost_(shape.ahead_mm + 2 * shape.surface.shape().round_over_mm) {}

  void take(const TopoDS_Face& face) {
    const BRepAdaptor_Surface surface(face, false);
    double u_low = 0, u_high = 0, v_low = 0, v_high = 0;
    BRepTools::UVBounds(face, u_low, u_high, v_low, v_high);
    BRepTopAdaptor_FClass2d within(face, 1e-7);
    for (int i = 0; i < kSteps; ++i)
      for (int j = 0; j < kSteps; ++j) {
        const double u = u_low + (i + 0.5) / kSteps * (u_high - u_low);
        const double v = v_low + (j + 0.5) / kSteps * (v_high - v_low);
        const gp_Pnt place = surface.Value(u, v);
        if (!counts(place) || within.Perform(gp_Pnt2d(u, v)) != TopAbs_IN) continue;
        const double off = place.Z() - wanted_z({place.X(), place.Y()});
        if (std::abs(off) > std::abs(most_.too_high_mm)) most_ = {off, {place.X(), place.Y()}};
      }
  }

  const RimDeviation& most() const { return most_; }

 private:
  double wanted_z(Vec2 p) const {
    return shape_.z_of_base + shape_.surface.shape().base_slope * p.x + shape_.surface.height_mm(p);
  }
  /// Of the upper side, and kept.
  bool counts(const gp_Pnt& place) const {
    return place.X() > foremost_ && place.Z() > shape_.z_deep + kWithinEdge_mm &&
           shape_.surface.sample({place.X(), place.Y()}).edge_distance_mm > kWithinEdge_mm;
  }

  const EnvelopeShape& shape_;
  double foremost_;
  RimDeviation most_;
};

}  // namespace

RimDeviation rim_deviation(const TopoDS_Shape& solid, const EnvelopeShape& shape) {
  UpperSide side(shape);
  for (TopExp_Explorer it(solid, TopAbs_FACE); it.More(); it.Next()) side.take(TopoDS::Face(it.Current()));
  return side.most();
}

}  // namespace haftwright::kernel
