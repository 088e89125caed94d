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
/// How far a crease of the thickness curve may be rounded off.
constexpr double kCrease_mm = 0.004;

/// The thickness curve with its creases rounded: where it turns constant beyond an outer station with a kink,
/// an arc takes the kink's place.
class Thickness {
 public:
  explicit Thickness(const SurfaceShape& shape) : curve_(shape.thickness_mm) {
    const double first = curve_.first().x;
    const double last = curve_.last().x;
    round(first, 0, curve_.slope(first), shape.round_over_mm);
    if (last > first) round(last, curve_.slope(last), 0, shape.round_over_mm);
  }

  double value(double x) const {
    double value = curve_.value(x);
    for (const Crease& crease : creases_) {
      const double from = std::abs(x - crease.x);
      if (from >= crease.half) continue;
      const double room = crease.half - from;
      value += crease.turn * room * room / (4 * crease.half);
    }
    return value;
  }
  /// Where the curvature jumps, inside the range.
  std::vector<double> jumps(const SurfaceShape& shape, double from, double to) const {
    std::vector<double> places;
    for (const auto& station : shape.thickness_mm) places.push_back(station.x);
    for (const Crease& crease : creases_) {
      places.push_back(crease.x - crease.half);
      places.push_back(crease.x + crease.half);
    }
    const auto outside = [&](double x) { return x < from + kLeastSpan_mm || x > to - kLeastSpan_mm; };
    places.erase(std::remove_if(places.begin(), places.end(), outside), places.end());
    places.push_back(from);
    places.push_back(to);
    std::sort(places.begin(), places.end());
    const auto near = [](double a, double b) { return b - a < kLeastSpan_mm; };
    places.erase(std::unique(places.begin(), places.end(), near), places.end());
    return places;
  }

 private:
  struct Crease {
    double x = 0;
    double turn = 0;  // slope after less slope before
    double half = 0;  // half the length the arc takes
  };
  static constexpr double kLeastSpan_mm = 1e-3;

  /// An arc of radius r over a kink takes r turn of length and leaves the kink by r turn^2 / 8. On a ridge
  /// the ball of the round-over has to roll over it.
  void round(double x, double slope_before, double slope_after, double ball_mm) {
    const double turn = slope_after - slope_before;
    if (std::abs(turn) < 1e-9) return;
    double radius = 8 * kCrease_mm / (turn * turn);
    if (turn < 0) radius = std::max(radius, 1.3 * ball_mm);
    creases_.push_back({x, turn, std::min(radius, kWidest_mm / std::abs(turn)) * std::abs(turn) / 2});
  }

  static constexpr double kWidest_mm = 6;

  MonotoneCubic curve_;
  std::vector<Crease> creases_;
};

Curve along_x(const SurfaceShape& shape, double z_of_base, double from, double to) {
  const Thickness thickness(shape);
  const auto z = [&](double x) {
    return Points{gp_Pnt(x, 0, z_of_base + shape.base_slope * x + thickness.value(x))};
  };
  return fit(z, thickness.jumps(shape, from, to), kAlongTolerance_mm).front();
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
