#include <array>
#include <cmath>

#include "edge_geometry.hpp"
#include "haftwright/geometry/outline.hpp"
#include "tolerances.hpp"

namespace haftwright {

using namespace geometry;

Edge::Edge(Vec2 from_point, Vec2 to_point, double bulge_value) : from(from_point), to(to_point) {
  const Vec2 chord = to - from;
  const double chord_mm = distance_mm(from, to);
  if (std::abs(bulge_value) * chord_mm / 2 < kStraightSagitta_mm) return;
  bulge = bulge_value;
  centre = from + chord / 2.0 + turned_left(chord) * ((1 - bulge * bulge) / (4 * bulge));
  radius = chord_mm * (1 + bulge * bulge) / (4 * std::abs(bulge));
  sweep = 4 * std::atan(bulge);
}

double Edge::length() const {
  return is_arc() ? radius * std::abs(sweep) : distance_mm(from, to);
}

Vec2 Edge::point(double t) const {
  if (t == 1) return to;
  if (!is_arc()) return from + (to - from) * t;
  // The chord from `from` to the point: the whole chord turned and scaled.
  const double scale = std::sin(sweep * t / 2) / std::sin(sweep / 2);
  return from + turned(to - from, sweep * (t - 1) / 2) * scale;
}

Vec2 Edge::direction(double t) const {
  const Vec2 chord = (to - from) / distance_mm(from, to);
  return is_arc() ? turned(chord, sweep * (t - 0.5)) : chord;
}

Bounds geometry::bounds_of(const Edge& edge) {
  Bounds box{edge.from, edge.from};
  include(box, edge.to);
  if (!edge.is_arc()) return box;
  const Vec2 k = edge.centre - edge.from;
  const double r = edge.radius;
  // r - |k| from the other component, so that a huge radius loses no digits.
  const auto past = [r](double along, double other) {
    return along >= 0 ? along + r : other * other / (r - along);
  };
  const std::array<Vec2, 4> spokes{Vec2{r, 0}, Vec2{-r, 0}, Vec2{0, r}, Vec2{0, -r}};
  const std::array<Vec2, 4> steps{Vec2{past(k.x, k.y), 0}, Vec2{-past(-k.x, k.y), 0}, Vec2{0, past(k.y, k.x)},
                                  Vec2{0, -past(-k.y, k.x)}};
  for (std::size_t i = 0; i < spokes.size(); ++i) {
    if (!arc_spans(edge, k + spokes[i], edge.centre - edge.to + spokes[i])) continue;
    if (spokes[i].x > 0) box.high.x = std::max(box.high.x, edge.from.x + steps[i].x);
    if (spokes[i].x < 0) box.low.x = std::min(box.low.x, edge.from.x + steps[i].x);
    if (spokes[i].y > 0) box.high.y = std::max(box.high.y, edge.from.y + steps[i].y);
    if (spokes[i].y < 0) box.low.y = std::min(box.low.y, edge.from.y + steps[i].y);
  }
  return box;
}

namespace {

// Integrals over the circular segment of half angle a and unit radius, u from the chord toward the arc and v
// along the chord.
struct UnitSegment {
  double area;
  double u;
  double uu;
  double vv;
};

UnitSegment unit_segment(double a) {
  if (a < 0.1) {  // the closed forms would cancel; four terms are good to rounding here
    const double b = a * a;
    const double a3 = a * b;
    const double a5 = a3 * b;
    const double a7 = a5 * b;
    return {a3 * (2.0 / 3 - b * (2.0 / 15 - b * (4.0 / 315 - b * (2.0 / 2835)))),
            a5 * (2.0 / 15 - b * (11.0 / 315 - b * (17.0 / 3780 - b * (461.0 / 1247400)))),
            a7 * (4.0 / 105 - b * (4.0 / 315 - b * (4.0 / 1925 - b * (64.0 / 289575)))),
            a5 * (2.0 / 15 - b * (4.0 / 63 - b * (2.0 / 135 - b * (68.0 / 31185))))};
  }
  const double s = std::sin(a);
  const double c = std::cos(a);
  const double s3 = s * s * s;
  const double area = a - s * c;
  const double u_from_centre = 2.0 / 3 * s3;
  const double uu_from_centre = area / 4 + s3 * c / 2;
  return {area, u_from_centre - c * area, uu_from_centre - 2 * c * u_from_centre + c * c * area,
          area / 4 - s3 * c / 6};
}

}  // namespace

SegmentIntegrals geometry::segment_integrals(const Edge& edge) {
  if (!edge.is_arc()) return {};
  const UnitSegment unit = unit_segment(std::abs(edge.sweep) / 2);
  const double sign = edge.bulge > 0 ? 1 : -1;
  const double r = edge.radius;
  const Vec2 v = (edge.to - edge.from) / distance_mm(edge.from, edge.to);
  const Vec2 u = turned_left(v) * -sign;  // the arc lies to the right of its chord when it turns left
  const double uu = sign * unit.uu * r * r * r * r;
  const double vv = sign * unit.vv * r * r * r * r;
  return {sign * unit.area * r * r, u * (sign * unit.u * r * r * r), uu * u.x * u.x + vv * v.x * v.x,
          uu * u.y * u.y + vv * v.y * v.y, uu * u.x * u.y + vv * v.x * v.y};
}

}  // namespace haftwright
