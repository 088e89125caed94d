#include "disc_bands.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace haftwright::layout {
namespace {

constexpr double kPi = std::numbers::pi;
/// Thinner bands hold nothing that counts, and their middle would be lost in rounding.
constexpr double kThinnest_mm = 1e-11;

/// Integral of sqrt(r^2 - v^2) from 0 to v.
double under_circle(double r, double v) {
  v = std::clamp(v, -r, r);
  return (v * std::sqrt(std::max(0.0, r * r - v * v)) + r * r * std::asin(v / r)) / 2;
}

struct Range {
  double low = 0;
  double high = 0;
  bool holds(double y) const { return y >= low && y <= high; }
  bool meets(const Range& other) const { return low <= other.high && other.low <= high; }
};

Range y_range(const Edge& edge) {
  if (edge.is_arc()) return {edge.centre.y - edge.radius, edge.centre.y + edge.radius};
  return {std::min(edge.from.y, edge.to.y), std::max(edge.from.y, edge.to.y)};
}

/// Whether a place of the edge's circle, seen from its centre, lies on the edge.
bool on_arc(const Edge& edge, Vec2 spoke) {
  const Vec2 start = edge.from - edge.centre;
  double turn = std::atan2(spoke.y, spoke.x) - std::atan2(start.y, start.x);
  if (edge.sweep < 0) turn = -turn;
  turn = std::remainder(turn, 2 * kPi);
  return (turn < 0 ? turn + 2 * kPi : turn) <= std::abs(edge.sweep);
}

/// A place on a row, and the boundary it lies on.
struct Met {
  double x = 0;
  RowEnd end;
};
struct Interval {
  Met from;
  Met to;
};

std::vector<Interval> row_of(const Outline& outline, double y) {
  std::vector<Met> met;
  for (const Edge& edge : outline.edges()) {
    if (!edge.is_arc()) {
      if ((edge.from.y < y) == (edge.to.y < y)) continue;
      const RowEnd end = RowEnd::on_line(edge.from, edge.to);
      met.push_back({end.x_at(y), end});
      continue;
    }
    const double off = y - edge.centre.y;
    if (!(std::abs(off) < edge.radius)) continue;
    const double half_chord = std::sqrt(edge.radius * edge.radius - off * off);
    for (const double half : {-1.0, 1.0})
      if (on_arc(edge, {half * half_chord, off}))
        met.push_back({edge.centre.x + half * half_chord, RowEnd::on_circle(edge.centre, edge.radius, half)});
  }
  std::ranges::sort(met, {}, &Met::x);
  std::vector<Interval> row;
  for (std::size_t i = 0; i + 1 < met.size(); i += 2) row.push_back({met[i], met[i + 1]});
  return row;
}

Interval chord_of(const Disc& disc, double y) {
  const RowEnd from = RowEnd::on_circle(disc.centre, disc.radius_mm, -1);
  const RowEnd to = RowEnd::on_circle(disc.centre, disc.radius_mm, 1);
  return {{from.x_at(y), from}, {to.x_at(y), to}};
}

void subtract(std::vector<Interval>& from, const Interval& hole) {
  std::vector<Interval> left;
  for (const Interval& piece : from) {
    if (piece.from.x < hole.from.x)
      left.push_back({piece.from, piece.to.x < hole.from.x ? piece.to : hole.from});
    if (piece.to.x > hole.to.x) left.push_back({piece.from.x > hole.to.x ? piece.from : hole.to, piece.to});
  }
  from = std::move(left);
}

/// Heights at which a row may begin to meet other boundaries, or the same ones in another order.
class Heights {
 public:
  explicit Heights(const Disc& disc)
      : range_{disc.centre.y - disc.radius_mm, disc.centre.y + disc.radius_mm} {
    found_ = {range_.low, range_.high};
  }

  void add(double y) {
    if (y > range_.low && y < range_.high) found_.push_back(y);
  }
  void add_circle(const Disc& disc) {
    add(disc.centre.y - disc.radius_mm);
    add(disc.centre.y + disc.radius_mm);
  }
  void add_edge(const Edge& edge) {
    add(edge.from.y);
    add(edge.to.y);
    if (edge.is_arc()) add_circle({edge.centre, edge.radius});
  }
  void add_meeting(const Disc& a, const Disc& b) {
    std::vector<double> ys;
    add_meetings(a, b, ys);
    for (const double y : ys) add(y);
  }
  void add_meeting(const Disc& disc, const Edge& edge) {
    if (edge.is_arc()) return add_meeting(disc, Disc{edge.centre, edge.radius});
    const Vec2 along = glm::normalize(edge.to - edge.from);
    const double foot = glm::dot(disc.centre - edge.from, along);
    const double off = glm::distance(edge.from + foot * along, disc.centre);
    if (off > disc.radius_mm) return;
    const double half_chord = std::sqrt(disc.radius_mm * disc.radius_mm - off * off);
    for (const double sign : {-1.0, 1.0}) add((edge.from + (foot + sign * half_chord) * along).y);
  }
  void add_meeting(const Edge& a, const Edge& b) {
    if (!y_range(a).meets(y_range(b))) return;
    if (a.is_arc()) return add_meeting(Disc{a.centre, a.radius}, b);
    if (b.is_arc()) return add_meeting(Disc{b.centre, b.radius}, a);
    const double turn = cross(a.to - a.from, b.to - b.from);
    if (turn == 0) return;
    const double y = (a.from + (a.to - a.from) * (cross(b.from - a.from, b.to - b.from) / turn)).y;
    if (y_range(a).holds(y) && y_range(b).holds(y)) add(y);
  }

  std::vector<double> sorted() && {
    std::ranges::sort(found_);
    return std::move(found_);
  }

 private:
  Range range_;
  std::vector<double> found_;
};

std::vector<Edge> edges_near(const Disc& disc, const std::vector<Outline>& outlines) {
  std::vector<Edge> near;
  for (const Outline& outline : outlines)
    for (const Edge& edge : outline.edges()) {
      // Up to a half circle an edge lies in the circle over its chord.
      const bool in_chord = std::abs(edge.bulge) <= 1;
      const double reach = in_chord ? glm::distance(edge.from, edge.to) / 2 : edge.radius;
      const Vec2 middle = in_chord ? (edge.from + edge.to) / 2.0 : edge.centre;
      if (glm::distance(middle, disc.centre) <= reach + disc.radius_mm) near.push_back(edge);
    }
  return near;
}

std::vector<double> heights(const Disc& disc, std::span<const Disc> taken, const std::vector<Outline>& face,
                            const std::vector<Outline>& openings) {
  const std::vector<Edge> face_edges = edges_near(disc, face);
  const std::vector<Edge> opening_edges = edges_near(disc, openings);
  Heights heights(disc);
  for (const std::vector<Edge>* edges : {&face_edges, &opening_edges})
    for (const Edge& edge : *edges) {
      heights.add_edge(edge);
      heights.add_meeting(disc, edge);
      for (const Disc& other : taken) heights.add_meeting(other, edge);
    }
  for (const Edge& a : face_edges)
    for (const Edge& b : opening_edges) heights.add_meeting(a, b);
  for (std::size_t i = 0; i < taken.size(); ++i) {
    heights.add_circle(taken[i]);
    heights.add_meeting(disc, taken[i]);
    for (std::size_t j = 0; j < i; ++j) heights.add_meeting(taken[i], taken[j]);
  }
  return std::move(heights).sorted();
}

std::vector<Disc> those_near(const Disc& disc, std::span<const Disc> others) {
  std::vector<Disc> near;
  for (const Disc& other : others)
    if (glm::distance(other.centre, disc.centre) < other.radius_mm + disc.radius_mm) near.push_back(other);
  return near;
}

}  // namespace

double Disc::area_mm2() const {
  return kPi * radius_mm * radius_mm;
}

void add_meetings(const Disc& a, const Disc& b, std::vector<double>& ys) {
  const Vec2 way = b.centre - a.centre;
  const double d = glm::length(way);
  if (d == 0) return;
  const double along = (d * d + a.radius_mm * a.radius_mm - b.radius_mm * b.radius_mm) / (2 * d);
  const double square = a.radius_mm * a.radius_mm - along * along;
  if (square < 0) return;
  for (const double sign : {-1.0, 1.0})
    ys.push_back(a.centre.y + (along * way.y + sign * std::sqrt(square) * way.x) / d);
}

RowEnd RowEnd::on_line(Vec2 from, Vec2 to) {
  RowEnd end;
  end.at_ = from;
  end.slope_ = (to.x - from.x) / (to.y - from.y);
  return end;
}

RowEnd RowEnd::on_circle(Vec2 centre, double radius_mm, double half) {
  RowEnd end;
  end.at_ = centre;
  end.radius_mm_ = radius_mm;
  end.half_ = half;
  return end;
}

double RowEnd::x_at(double y) const {
  const double off = y - at_.y;
  if (half_ == 0) return at_.x + off * slope_;
  return at_.x + half_ * std::sqrt(std::max(0.0, radius_mm_ * radius_mm_ - off * off));
}

double RowEnd::area_mm2(double low, double high) const {
  if (half_ == 0) return x_at((low + high) / 2) * (high - low);
  return at_.x * (high - low) +
         half_ * (under_circle(radius_mm_, high - at_.y) - under_circle(radius_mm_, low - at_.y));
}

double RowEnd::moment_mm3(double low, double high) const {
  if (half_ == 0) {
    const double a = x_at(low);
    const double b = x_at(high);
    return (a * a + a * b + b * b) / 6 * (high - low);
  }
  const double u = low - at_.y;
  const double v = high - at_.y;
  const double circle = under_circle(radius_mm_, v) - under_circle(radius_mm_, u);
  const double square = radius_mm_ * radius_mm_ * (v - u) - (v * v * v - u * u * u) / 3;
  return (at_.x * at_.x * (v - u) + square) / 2 + half_ * at_.x * circle;
}

std::vector<Band> bands_of(const Disc& disc, std::span<const Disc> taken, const std::vector<Outline>& face,
                           const std::vector<Outline>& openings) {
  const std::vector<Disc> near = those_near(disc, taken);
  const std::vector<double> ys = heights(disc, near, face, openings);
  std::vector<Band> bands;
  for (std::size_t i = 0; i + 1 < ys.size(); ++i) {
    if (ys[i + 1] - ys[i] < kThinnest_mm) continue;
    const double y = (ys[i] + ys[i + 1]) / 2;
    const Interval chord = chord_of(disc, y);
    std::vector<Interval> row;
    for (const Outline& outline : face)
      for (const Interval& span : row_of(outline, y)) {
        const Interval common{span.from.x > chord.from.x ? span.from : chord.from,
                              span.to.x < chord.to.x ? span.to : chord.to};
        if (common.from.x < common.to.x) row.push_back(common);
      }
    for (const Outline& opening : openings)
      for (const Interval& span : row_of(opening, y)) subtract(row, span);
    for (const Disc& other : near)
      if (std::abs(y - other.centre.y) < other.radius_mm) subtract(row, chord_of(other, y));
    if (row.empty()) continue;
    Band band{ys[i], ys[i + 1], {}};
    for (const Interval& span : row) band.spans.push_back({span.from.end, span.to.end});
    bands.push_back(std::move(band));
  }
  return bands;
}

}  // namespace haftwright::layout
