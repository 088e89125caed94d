#include "crown_sheet.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

#include <BRepBuilderAPI_MakeFace.hxx>
#include <Geom_BSplineSurface.hxx>
#include <TColStd_Array1OfInteger.hxx>
#include <TColStd_Array1OfReal.hxx>
#include <TColgp_Array2OfPnt.hxx>
#include <gp_Dir.hxx>
#include <gp_Pln.hxx>
#include <gp_Vec.hxx>

#include "shapes.hpp"
#include "spline_fit.hpp"

namespace haftwright::kernel {

namespace {

using Curve = opencascade::handle<Geom_BSplineCurve>;

constexpr double kAlongTolerance_mm = 3e-4;
constexpr double kFaceTolerance_mm = 1e-6;
constexpr double kAcrossTolerance_mm = 2e-5;
/// Sites nearer than this would make a span too short to interpolate.
constexpr double kLeastSpan_mm = 1e-3;

/// From end to end, with the places inside where the thickness curve's curvature jumps.
std::vector<double> sites(const MonotoneCubic& thickness, double from, double to) {
  std::vector<double> places = thickness.knots();
  std::erase_if(places, [&](double x) { return x < from + kLeastSpan_mm || x > to - kLeastSpan_mm; });
  places.insert(places.end(), {from, to});
  std::sort(places.begin(), places.end());
  const auto near = [](double a, double b) { return b - a < kLeastSpan_mm; };
  places.erase(std::unique(places.begin(), places.end(), near), places.end());
  return places;
}

Curve along_x(const SurfaceShape& shape, double z_of_base, double from, double to) {
  const MonotoneCubic thickness(shape.thickness_mm);
  const auto z = [&](double x) {
    return Points{gp_Pnt(x, 0, z_of_base + shape.base_slope * x + thickness.value(x))};
  };
  return fit(z, sites(thickness, from, to), kAlongTolerance_mm).front();
}

Curve across_y(const SurfaceShape& shape, double from, double to) {
  const auto z = [&](double y) {
    if (!shape.crown_radius_mm) return Points{gp_Pnt(0, y, 0)};
    const double v = y - shape.crest_y_mm;
    const double r = *shape.crown_radius_mm;
    return Points{gp_Pnt(0, y, -v * v / (r + std::sqrt(r * r - v * v)))};
  };
  return fit(z, {from, to}, kAcrossTolerance_mm).front();
}

/// A spline lies below its highest pole.
double highest(const Curve& curve) {
  double z = curve->Pole(1).Z();
  for (int i = 2; i <= curve->NbPoles(); ++i) z = std::max(z, curve->Pole(i).Z());
  return z;
}

bool is_straight(const Curve& curve) {
  const gp_Pnt from = curve->StartPoint();
  const gp_Vec along = gp_Vec(from, curve->EndPoint()).Normalized();
  for (int i = 1; i <= curve->NbPoles(); ++i) {
    if (gp_Vec(from, curve->Pole(i)).Crossed(along).Magnitude() > 1e-9) return false;
  }
  return true;
}

opencascade::handle<Geom_Surface> sum_surface(const Curve& along, const Curve& across) {
  TColgp_Array2OfPnt poles(1, along->NbPoles(), 1, across->NbPoles());
  for (int i = 1; i <= along->NbPoles(); ++i) {
    for (int j = 1; j <= across->NbPoles(); ++j) {
      poles.SetValue(i, j, gp_Pnt(along->Pole(i).XYZ() + across->Pole(j).XYZ()));
    }
  }
  TColStd_Array1OfReal u(1, along->NbKnots());
  TColStd_Array1OfReal v(1, across->NbKnots());
  TColStd_Array1OfInteger u_times(1, along->NbKnots());
  TColStd_Array1OfInteger v_times(1, across->NbKnots());
  along->Knots(u);
  across->Knots(v);
  along->Multiplicities(u_times);
  across->Multiplicities(v_times);
  return new Geom_BSplineSurface(poles, u, v, u_times, v_times, along->Degree(), across->Degree());
}

}  // namespace

CrownSheet::CrownSheet(const SurfaceShape& shape, double z_of_base, const Bounds& plan) {
  const double overshoot = shape.round_over_mm + 1;
  Vec2 low = plan.low - Vec2(overshoot);
  Vec2 high = plan.high + Vec2(overshoot);
  if (shape.crown_radius_mm) {
    // Past the outline, but not up to where the circle stands upright.
    low.y = std::max(low.y, (plan.low.y + shape.crest_y_mm - *shape.crown_radius_mm) / 2);
    high.y = std::min(high.y, (plan.high.y + shape.crest_y_mm + *shape.crown_radius_mm) / 2);
  }
  const Curve along = along_x(shape, z_of_base, low.x, high.x);
  const Curve across = across_y(shape, low.y, high.y);
  greatest_z_ = highest(along) + highest(across);
  if (!shape.crown_radius_mm && is_straight(along)) {
    gp_Pnt origin;
    gp_Vec slope;
    along->D1(0, origin, slope);
    const gp_Pln plane(origin, gp_Dir(-slope.Z(), 0, slope.X()));
    face_ = wide_face(plane, {low, high}, -greatest_z_ - 1, greatest_z_ + 1);
  } else {
    face_ = BRepBuilderAPI_MakeFace(sum_surface(along, across), kFaceTolerance_mm).Face();
  }
}

}  // namespace haftwright::kernel
