#include "disc.hpp"

#include <numbers>

#include "numeric.hpp"
#include "plane_section.hpp"

namespace haftwright::layout {
namespace {

constexpr double kPi = std::numbers::pi;
constexpr double kTouch_mm = 1e-9;

using Interval = std::pair<double, double>;

/// A set of intervals on a row, cut down step by step.
void subtract(std::vector<Interval>& from, Interval hole) {
  std::vector<Interval> left;
  for (const Interval& piece : from) {
    if (piece.first < hole.first) left.emplace_back(piece.first, std::min(piece.second, hole.first));
    if (piece.second > hole.second) left.emplace_back(std::max(piece.first, hole.second), piece.second);
  }
  from = std::move(left);
}

std::vector<Interval> row_of(const Outline& outline, double y) {
  std::vector<Interval> row;
  const std::vector<Crossing> places = crossings(outline, {0, y}, {1, 0});
  for (std::size_t i = 0; i + 1 < places.size(); i += 2)
    row.emplace_back(places[i].along_mm, places[i + 1].along_mm);
  return row;
}

Interval chord_of(const Disc& disc, double y) {
  const double off = y - disc.centre.y;
  const double half = std::sqrt(std::max(0.0, disc.radius_mm * disc.radius_mm - off * off));
  return {disc.centre.x - half, disc.centre.x + half};
}

bool covers(const Disc& disc, const Disc& other) {
  return glm::distance(disc.centre, other.centre) + other.radius_mm <= disc.radius_mm + kTouch_mm;
}

/// Largest first, none inside another.
void drop_covered(std::vector<Disc>& discs) {
  std::ranges::stable_sort(discs, std::ranges::greater{}, &Disc::radius_mm);
  std::vector<Disc> kept;
  for (const Disc& disc : discs)
    if (std::ranges::none_of(kept, [&](const Disc& larger) { return covers(larger, disc); }))
      kept.push_back(disc);
  discs = std::move(kept);
}

bool near_box(const Disc& disc, const Bounds& box) {
  return disc.centre.x > box.low.x - disc.radius_mm && disc.centre.x < box.high.x + disc.radius_mm &&
         disc.centre.y > box.low.y - disc.radius_mm && disc.centre.y < box.high.y + disc.radius_mm;
}

enum class Standing { outside, crossing, inside };
Standing standing(const Disc& disc, const Outline& outline) {
  if (!near_box(disc, outline.bounds())) return Standing::outside;
  const double depth = outline.depth_mm(disc.centre);
  if (depth >= disc.radius_mm - kTouch_mm) return Standing::inside;
  return depth <= -disc.radius_mm ? Standing::outside : Standing::crossing;
}
Standing standing(const Disc& disc, const std::vector<Outline>& outlines) {
  Standing most = Standing::outside;
  for (const Outline& outline : outlines) most = std::max(most, standing(disc, outline));
  return most;
}

/// The disc's part of the face that neither an opening nor an earlier disc has taken.
Taken by_rows(const Disc& disc, std::span<const Disc> earlier, const std::vector<Outline>& face,
              const std::vector<Outline>& openings) {
  constexpr int kRows = 64;
  Taken taken;
  for (int i = 0; i < kRows; ++i) {
    // Rows evenly spaced in angle, so that their ends crowd toward the rim.
    const double angle = kPi * (i + 0.5) / kRows;
    const double y = disc.centre.y - disc.radius_mm * std::cos(angle);
    const Interval chord = chord_of(disc, y);
    std::vector<Interval> free;
    for (const Outline& outline : face)
      for (const Interval& span : row_of(outline, y)) {
        const Interval common{std::max(span.first, chord.first), std::min(span.second, chord.second)};
        if (common.first < common.second) free.push_back(common);
      }
    for (const Outline& opening : openings)
      for (const Interval& span : row_of(opening, y)) subtract(free, span);
    for (const Disc& other : earlier)
      if (std::abs(y - other.centre.y) < other.radius_mm) subtract(free, chord_of(other, y));
    const double height = disc.radius_mm * std::sin(angle) * kPi / kRows;
    for (const Interval& span : free) {
      const double area = (span.second - span.first) * height;
      taken.area_mm2 += area;
      taken.x_moment_mm3 += area * (span.first + span.second) / 2;
    }
  }
  return taken;
}

}  // namespace

double Disc::area_mm2() const {
  return kPi * radius_mm * radius_mm;
}

Taken taken_by(std::vector<Disc> discs, const std::vector<Outline>& face,
               const std::vector<Outline>& openings) {
  drop_covered(discs);
  Taken sum;
  for (std::size_t i = 0; i < discs.size(); ++i) {
    const Disc& disc = discs[i];
    const Standing in_face = standing(disc, face);
    if (in_face == Standing::outside) continue;
    const Standing in_opening = standing(disc, openings);
    if (in_opening == Standing::inside) continue;
    const bool touched = std::ranges::any_of(discs, [&](const Disc& other) {
      return &other != &disc &&
             glm::distance(other.centre, disc.centre) < other.radius_mm + disc.radius_mm - kTouch_mm;
    });
    Taken here{disc.area_mm2(), disc.area_mm2() * disc.centre.x};
    if (touched || in_face == Standing::crossing || in_opening == Standing::crossing)
      here = by_rows(disc, std::span(discs).first(i), face, openings);
    sum.area_mm2 += here.area_mm2;
    sum.x_moment_mm3 += here.x_moment_mm3;
  }
  return sum;
}

double Slice::column_mm(Vec2 p, double top) const {
  double low = 0;
  double high = std::max(0.0, top);
  // The part of the column where behind - s tan(rake) has the wanted sign.
  const auto keep = [&](double behind, double tan_rake) {
    if (tan_rake > 0)
      high = std::min(high, behind / tan_rake);
    else if (tan_rake < 0)
      low = std::max(low, behind / tan_rake);
    else if (behind < 0)
      high = low;
  };
  keep(front.behind_mm(p.x, p.y, 0), front.tan_rake);
  if (!to_butt) keep(-rear.behind_mm(p.x, p.y, 0), -rear.tan_rake);
  return std::max(0.0, high - low);
}

namespace {

/// Whether a hole lies wholly behind, wholly ahead of or across a plane, from s = 0 to the top.
int side_of(const ScaleBody& body, const CutPlane& plane, const Disc& hole) {
  const double reach = hole.radius_mm * std::hypot(1, plane.tan_slant);
  const double inner = plane.behind_mm(hole.centre.x, hole.centre.y, 0);
  const double outer = plane.behind_mm(hole.centre.x, hole.centre.y, body.top_mm);
  if (std::min(inner, outer) >= reach) return 1;
  return std::max(inner, outer) <= -reach ? -1 : 0;
}

template <class Visit>
void visit_columns(const Disc& hole, bool fine, Visit&& visit) {
  const int rings = fine ? 8 : 2;
  const int spokes = fine ? 48 : 6;
  // Rings of equal area for the fine rule, the two Gauss nodes in the square of the radius for the other.
  const double weight = hole.area_mm2() / (rings * spokes);
  for (int ring = 0; ring < rings; ++ring) {
    const double middle = (ring + 0.5) / rings;
    const double square = fine ? middle : 0.5 + (ring == 0 ? -0.5 : 0.5) / std::numbers::sqrt3;
    const double r = hole.radius_mm * std::sqrt(square);
    for (int spoke = 0; spoke < spokes; ++spoke) {
      const double angle = 2 * kPi * (spoke + 0.5) / spokes;
      visit(hole.centre + r * Vec2{std::cos(angle), std::sin(angle)}, weight);
    }
  }
}

/// Rows along x over a hole that planes cross, each parted where a plane enters or leaves the scale: a thin
/// strip that only clips the hole is measured as exactly as a whole piece.
template <class Visit>
void visit_parted_rows(const ScaleBody& body, const Disc& hole, std::span<const CutPlane> planes,
                       Visit&& visit) {
  constexpr int kRows = 48;
  constexpr double kGauss = 0.5 / std::numbers::sqrt3;
  for (int i = 0; i < kRows; ++i) {
    // Even in angle, as in by_rows.
    const double angle = kPi * (i + 0.5) / kRows;
    const double y = hole.centre.y - hole.radius_mm * std::cos(angle);
    const double height = hole.radius_mm * std::sin(angle) * kPi / kRows;
    const Interval chord = chord_of(hole, y);
    std::vector<double> breaks{chord.first, chord.second};
    for (const CutPlane& plane : planes) {
      const double inner = plane.x_at(y, 0);
      breaks.push_back(inner);
      breaks.push_back(plane.x_at(y, body.s_at({plane.x_at(y, body.s_at({inner, y})), y})));
    }
    for (double& x : breaks) x = std::clamp(x, chord.first, chord.second);
    std::ranges::sort(breaks);
    for (std::size_t k = 0; k + 1 < breaks.size(); ++k) {
      const double width = breaks[k + 1] - breaks[k];
      if (width <= 0) continue;
      for (const double share : {0.5 - kGauss, 0.5 + kGauss})
        visit(Vec2{breaks[k] + share * width, y}, height * width / 2);
    }
  }
}

}  // namespace

std::vector<double> drilled_mm3(const ScaleBody& body, const Disc& hole, std::span<const Slice> slices) {
  std::vector<std::size_t> met;
  std::vector<CutPlane> crossing;
  const double clear_mm = body.edge().depth_mm(hole.centre) - hole.radius_mm;
  const bool fine = clear_mm < 2 * body.surface.shape().round_over_mm;
  for (std::size_t i = 0; i < slices.size(); ++i) {
    const int front = side_of(body, slices[i].front, hole);
    const int rear = slices[i].to_butt ? -1 : side_of(body, slices[i].rear, hole);
    if (front < 0 || rear > 0) continue;
    met.push_back(i);
    if (front == 0) crossing.push_back(slices[i].front);
    if (rear == 0) crossing.push_back(slices[i].rear);
  }
  std::vector<double> volumes(slices.size(), 0);
  if (met.empty()) return volumes;
  const auto add = [&](Vec2 p, double weight) {
    const double top = body.s_at(p);
    for (const std::size_t i : met) volumes[i] += weight * slices[i].column_mm(p, top);
  };
  if (crossing.empty())
    visit_columns(hole, fine, add);
  else
    visit_parted_rows(body, hole, crossing, add);
  return volumes;
}

double drilled_face_mm2(const ScaleBody& body, const CutPlane& plane, const Disc& hole) {
  if (side_of(body, plane, hole) != 0) return 0;
  // Seen along z the plane is a line that moves with s. At height s it passes the hole's axis at the distance
  // `off` and the foot of that distance lies at y_foot.
  const double length = std::hypot(1, plane.tan_slant);
  const double r = hole.radius_mm;
  const auto off = [&](double s) { return plane.behind_mm(hole.centre.x, hole.centre.y, s) / length; };
  const auto y_foot = [&](double s) { return hole.centre.y + off(s) * plane.tan_slant / length; };
  double top = surface_s_mm(body, plane, hole.centre.y, body.top_mm / 2);
  top = surface_s_mm(body, plane, y_foot(top), top);
  // Area under the chord 2 sqrt(r^2 - off^2) as off runs from one end to the other.
  const auto under_chord = [&](double at) {
    const double o = std::clamp(at, -r, r);
    return o * std::sqrt(std::max(0.0, r * r - o * o)) + r * r * std::asin(o / r);
  };
  if (std::abs(plane.tan_rake) < 1e-6) {
    const double o = off(top / 2);
    return std::abs(o) < r ? top * 2 * std::sqrt(r * r - o * o) / length : 0;
  }
  return std::abs((under_chord(off(top)) - under_chord(off(0))) / plane.tan_rake);
}

}  // namespace haftwright::layout
