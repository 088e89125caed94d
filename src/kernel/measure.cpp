#include "measure.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include <BRepAdaptor_Surface.hxx>
#include <BRepTools.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <gp_Cylinder.hxx>
#include <gp_Vec.hxx>

#include "extent.hpp"
#include "haftwright/design/units.hpp"
#include "parts.hpp"
#include "shapes.hpp"

namespace haftwright::kernel {

namespace {

// Halves of one bore, parted by a joint, agree far better than this; two bores never lie this near.
constexpr double kSameBore_mm = 1e-6;

struct Bore {
  Vec3 on_axis{0, 0, 0};
  double radius_mm = 0;
};

bool same_bore(const Bore& a, const Bore& b) {
  return glm::distance(Vec2(a.on_axis), Vec2(b.on_axis)) < kSameBore_mm &&
         std::abs(a.radius_mm - b.radius_mm) < kSameBore_mm;
}

/// True where the face looks toward its own axis: the wall of a hole.
bool looks_inward(const BRepAdaptor_Surface& surface, const TopoDS_Face& face, double u, double v) {
  gp_Pnt at;
  gp_Vec along_u;
  gp_Vec along_v;
  surface.D1(u, v, at, along_u, along_v);
  gp_Vec normal = along_u.Crossed(along_v);
  if (face.Orientation() == TopAbs_REVERSED) normal.Reverse();
  const gp_Ax1 axis = surface.Cylinder().Axis();
  const gp_Vec from_axis(axis.Location(), at);
  return normal.Dot(from_axis - gp_Vec(axis.Direction()) * from_axis.Dot(gp_Vec(axis.Direction()))) < 0;
}

/// The upright bores of a shape, each once, in the order of its faces.
std::vector<Bore> bores_of(const TopoDS_Shape& shape) {
  std::vector<Bore> bores;
  for (TopExp_Explorer it(shape, TopAbs_FACE); it.More(); it.Next()) {
    const TopoDS_Face& face = TopoDS::Face(it.Current());
    const BRepAdaptor_Surface surface(face);
    if (surface.GetType() != GeomAbs_Cylinder) continue;
    const gp_Cylinder cylinder = surface.Cylinder();
    if (std::abs(std::abs(cylinder.Axis().Direction().Z()) - 1) > 1e-9) continue;
    double u0, u1, v0, v1;
    BRepTools::UVBounds(face, u0, u1, v0, v1);
    if (!looks_inward(surface, face, (u0 + u1) / 2, (v0 + v1) / 2)) continue;
    const gp_Pnt middle = surface.Value((u0 + u1) / 2, (v0 + v1) / 2);
    const Bore bore{{cylinder.Location().X(), cylinder.Location().Y(), middle.Z()}, cylinder.Radius()};
    const auto is_same = [&](const Bore& other) { return same_bore(bore, other); };
    if (std::none_of(bores.begin(), bores.end(), is_same)) bores.push_back(bore);
  }
  return bores;
}

}  // namespace

MeasuredBody measured_sound(const TopoDS_Shape& shape, const std::string& name, const std::string& material) {
  BodyFacts facts;
  facts.name = name;
  facts.material = material;
  facts.closed_and_valid = true;
  facts.volume_mm3 = volume_mm3(shape);
  const Extent box = extent(shape);
  facts.low = box.low;
  facts.high = box.high;
  for (const Bore& bore : bores_of(shape)) {
    facts.bore_axis_points.push_back(bore.on_axis);
    facts.bore_radii_mm.push_back(bore.radius_mm);
  }
  return {shape, std::move(facts)};
}

MeasuredBody measured(const TopoDS_Shape& shape, const std::string& name, const std::string& material) {
  MeasuredBody body = measured_sound(shape, name, material);
  body.facts.closed_and_valid = closed_and_valid(shape);
  return body;
}

MeasuredBody mirrored(const MeasuredBody& body) {
  BodyFacts facts = body.facts;
  std::swap(facts.low.z, facts.high.z);
  facts.low.z = -facts.low.z;
  facts.high.z = -facts.high.z;
  for (Vec3& point : facts.bore_axis_points) point.z = -point.z;
  return {mirrored(body.shape), std::move(facts)};
}

void require_as_expected(const BodyFacts& facts, double expected_mm3, double more_mm3) {
  constexpr double kVolumeShare = 0.005;
  if (!facts.closed_and_valid) throw SolidError(facts.name + ": the body came out open or damaged");
  const double room = kVolumeShare * expected_mm3;
  if (facts.volume_mm3 < expected_mm3 - room || facts.volume_mm3 > expected_mm3 + room + more_mm3)
    throw SolidError(facts.name + ": the body measures " + format_number(facts.volume_mm3, 1) +
                     " mm3 where the layout has " + format_number(expected_mm3, 1));
}

}  // namespace haftwright::kernel
