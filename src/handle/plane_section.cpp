#include "plane_section.hpp"

#include <numbers>
#include <utility>

#include "numeric.hpp"

namespace haftwright::layout {
namespace {

/// Places on the surface are found to this: far below what a file or a solid can tell.
constexpr double kExact_mm = 1e-10;
/// A Newton step so short is followed by an error below kExact_mm.
constexpr double kLastStep_mm = 1e-6;
constexpr double kLineStep_mm = 0.95;
constexpr double kRightAngle = std::numbers::pi / 2;

std::size_t even_steps(double length_mm, Closeness closeness, std::size_t few) {
  if (closeness == Closeness::area) return few;
  return std::max(few, 2 * static_cast<std::size_t>(std::ceil(length_mm / (2 * kLineStep_mm))));
}

/// s from 0 to `roof` at which something nearly level lies at s itself; above(s) is how far it lies above s,
/// so that this is nearly the way to go. 0 when it lies below 0.
template <class Above>
double level_zero(Above&& above, double guess, double roof) {
  double s = guess;
  double above_s = above(s);
  double next = s + above_s;
  for (int step = 0; step < 6; ++step) {
    const double above_next = above(next);
    if (std::abs(above_next) < kExact_mm) return next;
    if (above_next == above_s) break;
    const double after = next - above_next * (next - s) / (above_next - above_s);
    s = next, above_s = above_next;
    next = after;
  }
  const double above_floor = above(0);
  return above_floor > 0 ? find_zero(above, 0, above_floor, roof, above(roof), kExact_mm) : 0;
}

/// One unbroken part of a face, from its wall on the belly side to its wall on the spine side.
///
/// Its area is taken apart into what can be followed closely: a strip along each wall, a quarter round about
/// the foot of each round-over, where the surface turns upright, and the middle between, where s is a smooth
/// function of y.
class Lobe {
 public:
  Lobe(const ScaleBody& body, const CutPlane& plane, const std::vector<Crossing>& base, std::size_t belly);

  void measure(Closeness closeness);

  FaceEnd belly;
  FaceEnd spine;
  double area_mm2 = 0;
  double s_moment_mm3 = 0;
  std::vector<Vec2> line;

 private:
  /// How far the surface lies above the place (y, s) of the plane.
  double gap(Vec2 ys) const { return body_.s_at({plane_.x_at(ys.x, ys.y), ys.x}) - ys.y; }
  std::optional<Crossing> wall_at(std::size_t place, double s) const;
  FaceEnd end_at(std::size_t place, Crossing& outer) const;
  double to_surface(Vec2 from, Vec2 direction, double guess) const;
  double search_surface(Vec2 from, Vec2 direction, double guess) const;
  void add_wall_strip(std::size_t place, double s_top, double y_outer, double y_centre, double inward);
  void add_corner(const FaceEnd& end, double s_over, double inward, Closeness closeness);
  void add_middle(Closeness closeness);
  void fill_gaps();
  void fill_gap(Vec2 from, Vec2 to, int depth, std::vector<Vec2>& filled) const;

  const ScaleBody& body_;
  const CutPlane& plane_;
  const std::vector<Crossing>& base_;
  std::size_t belly_place_;
  Vec2 belly_centre_{0, 0};  // (y, s), where the round-over's quarter is swept from
  Vec2 spine_centre_{0, 0};
};

Lobe::Lobe(const ScaleBody& body, const CutPlane& plane, const std::vector<Crossing>& base,
           std::size_t belly_place)
    : body_(body), plane_(plane), base_(base), belly_place_(belly_place) {
  Crossing belly_outer, spine_outer;
  belly = end_at(belly_place, belly_outer);
  spine = end_at(belly_place + 1, spine_outer);
  const double half = std::max(0.0, (spine.outer.y - belly.outer.y) / 2);
  belly.inset_y_mm = inset_y_mm(body, plane.tan_slant, belly_outer, half);
  spine.inset_y_mm = inset_y_mm(body, plane.tan_slant, spine_outer, half);
  belly_centre_ = {belly.outer.y + belly.inset_y_mm, belly.outer_s_mm};
  spine_centre_ = {spine.outer.y - spine.inset_y_mm, spine.outer_s_mm};
}

/// The place on the wall at height s that belongs to place `place` at s = 0. Where a rake takes the plane
/// past a corner of a waisted plan the places may not pair up; the nearest one then stands in.
std::optional<Crossing> Lobe::wall_at(std::size_t place, double s) const {
  const Crossing& base = base_[place];
  if (plane_.tan_rake == 0 || s == 0) return base;
  // Mostly the same edge, met a little further on.
  const Edge& edge = body_.edge().edges()[base.edge];
  const EdgeCrossings along = edge_crossings(edge, plane_, s, 0);
  if (along.count == 1 && edge_crossings(edge, plane_, 0, 0).count == 1)
    return Crossing{0, edge.point(along.t[0]), base.edge};
  const std::vector<Crossing> here = wall_places(body_, plane_, s);
  if (here.size() == base_.size()) return here[place];
  const auto off = [&](const Crossing& other) { return std::abs(other.point.y - base.point.y); };
  const auto nearest = std::ranges::min_element(here, {}, off);
  return nearest == here.end() ? std::nullopt : std::optional(*nearest);
}

FaceEnd Lobe::end_at(std::size_t place, Crossing& outer) const {
  FaceEnd end;
  end.inner = base_[place].point;
  outer = base_[place];
  const auto wall_s = [&](const Crossing& wall) {
    Nearest at;
    at.point = wall.point;
    at.edge = wall.edge;
    return body_.surface.wall_height_mm(at) - body_.liner_total_mm;
  };
  end.outer_s_mm = wall_s(outer);
  if (plane_.tan_rake != 0 && end.outer_s_mm > 0) {
    const auto above = [&](double s) {
      const auto wall = wall_at(place, s);
      return wall ? wall_s(*wall) - s : -s;
    };
    end.outer_s_mm = level_zero(above, end.outer_s_mm, body_.top_mm + 1);
    const auto wall = wall_at(place, end.outer_s_mm);
    end.reaches_top = wall && std::abs(wall_s(*wall) - end.outer_s_mm) < 1e-6;
    if (wall) outer = *wall;
  }
  end.outer = outer.point;
  return end;
}

/// Distance along a ray of the plane from a place under the surface to the surface.
double Lobe::to_surface(Vec2 from, Vec2 direction, double guess) const {
  const Vec2 in_plan{plane_.tan_slant * direction.x + plane_.tan_rake * direction.y, direction.x};
  double r = guess;
  for (int step = 0; step < 6; ++step) {
    const Vec2 ys = from + r * direction;
    const HeightField::Sample sample = body_.surface.sample({plane_.x_at(ys.x, ys.y), ys.x});
    const double rate = glm::dot(sample.gradient, in_plan) - direction.y;
    if (sample.height_mm <= body_.liner_total_mm || !(rate < 0)) break;
    const double to_go = (sample.height_mm - body_.liner_total_mm - ys.y) / -rate;
    r += to_go;
    if (std::abs(to_go) < kLastStep_mm && r > 0) return r;
  }
  return search_surface(from, direction, guess);
}

/// The same where Newton's steps go astray, as they may beside the upright wall.
double Lobe::search_surface(Vec2 from, Vec2 direction, double guess) const {
  const auto under = [&](double r) { return gap(from + r * direction); };
  double low = 0;
  double under_low = under(low);
  double high = guess;
  double under_high = under(high);
  for (int step = 0; under_high > 0 && step < 40; ++step) {
    low = high, under_low = under_high;
    high *= 1.25;
    under_high = under(high);
  }
  if (under_low <= 0 || under_high > 0) return low;
  return find_zero(under, low, under_low, high, under_high, kExact_mm);
}

/// Between the wall and the upright line through the round-over's foot; `inward` is +1 on the belly side.
void Lobe::add_wall_strip(std::size_t place, double s_top, double y_outer, double y_centre, double inward) {
  const auto width = [&](double y) { return inward * (y_centre - y); };
  const double low = width(base_[place].point.y);
  const double high = width(y_outer);
  double middle = (low + high) / 2;
  if (low != high)
    if (const auto wall = wall_at(place, s_top / 2)) middle = width(wall->point.y);
  area_mm2 += s_top * (low + 4 * middle + high) / 6;
  s_moment_mm3 += s_top * s_top * (2 * middle + high) / 6;
}

void Lobe::add_corner(const FaceEnd& end, double s_over, double inward, Closeness closeness) {
  if (end.inset_y_mm <= 0) return;
  const Vec2 centre{end.outer.y + inward * end.inset_y_mm, end.outer_s_mm};
  const double rise = s_over - centre.y;
  const double stretch = std::sqrt(1 + plane_.tan_slant * plane_.tan_slant);
  const double quarter = kRightAngle * std::max(end.inset_y_mm * stretch, rise);
  const std::size_t steps = even_steps(quarter, closeness, 6);
  // The quarter is nearly one of an ellipse; how far the last place was off it is a good guess for the next.
  double off = 1;
  for (std::size_t i = 0; i <= steps; ++i) {
    const double angle = kRightAngle * static_cast<double>(i) / static_cast<double>(steps);
    const Vec2 direction{-inward * std::cos(angle), std::sin(angle)};
    double here = i == 0 ? end.inset_y_mm : rise;
    if (i > 0 && i < steps) {
      const double ellipse = 1 / std::hypot(direction.x / end.inset_y_mm, direction.y / rise);
      here = to_surface(centre, direction, off * ellipse);
      off = here / ellipse;
    }
    const double weight = simpson_weight(i, steps) * kRightAngle / static_cast<double>(steps);
    area_mm2 += weight * here * here / 2;
    s_moment_mm3 += weight * here * here * (centre.y / 2 + here * direction.y / 3);
    line.push_back(centre + here * direction);
  }
}

void Lobe::add_middle(Closeness closeness) {
  const double from = belly_centre_.x;
  const double width = spine_centre_.x - from;
  // Without a round-over the crown itself may turn upright at the walls: steps that shrink toward both ends
  // follow it there.
  const bool shrinking = belly.inset_y_mm == 0;
  const double stretch = std::sqrt(1 + plane_.tan_slant * plane_.tan_slant) * (shrinking ? kRightAngle : 1);
  const std::size_t steps = width > 0 ? even_steps(width * stretch, closeness, shrinking ? 16 : 8) : 0;
  double s = belly.outer_s_mm;
  double before = s;
  double weights = 0;
  double heights = 0;
  double squares = 0;
  for (std::size_t i = 0; i <= steps; ++i) {
    const double share = steps == 0 ? 0 : static_cast<double>(i) / static_cast<double>(steps);
    const double angle = 2 * kRightAngle * share;
    const double y = from + width * (shrinking ? (1 - std::cos(angle)) / 2 : share);
    if (!shrinking || (i > 0 && i < steps)) {
      const double guess = s + (s - before);
      before = s;
      s = plane_.tan_rake == 0 ? gap({y, 0}) : to_surface({y, 0}, {0, 1}, guess);
    }
    line.push_back({y, s});
    const double weight = simpson_weight(i, steps) * (shrinking ? std::sin(angle) : 1);
    weights += weight;
    heights += weight * s;
    squares += weight * s * s;
  }
  if (steps == 0) return;
  // Weights that sum up to the width, so that a level surface is measured exactly.
  area_mm2 += heights / weights * width;
  s_moment_mm3 += squares / weights * width / 2;
}

void Lobe::measure(Closeness closeness) {
  add_wall_strip(belly_place_, belly.outer_s_mm, belly.outer.y, belly_centre_.x, +1);
  add_wall_strip(belly_place_ + 1, spine.outer_s_mm, spine.outer.y, spine_centre_.x, -1);
  add_middle(closeness);
  std::vector<Vec2> middle = std::exchange(line, {});
  add_corner(spine, middle.back().y, -1, closeness);
  std::vector<Vec2> far_corner = std::exchange(line, {});
  add_corner(belly, middle.front().y, +1, closeness);
  // The corners' last places are the middle's ends, found already.
  if (!line.empty()) line.pop_back();
  line.insert(line.end(), middle.begin(), middle.end());
  if (!far_corner.empty()) line.insert(line.end(), far_corner.rbegin() + 1, far_corner.rend());
  if (belly.inset_y_mm == 0) {
    line.front() = {belly.outer.y, belly.outer_s_mm};
    line.back() = {spine.outer.y, spine.outer_s_mm};
  }
  if (closeness == Closeness::line) fill_gaps();
}

/// Places between two that lie too far apart, found square to the chord between them.
void Lobe::fill_gap(Vec2 from, Vec2 to, int depth, std::vector<Vec2>& filled) const {
  if (depth == 0 || true_length_mm(body_, plane_, to - from) <= 1) return;
  const Vec2 middle = (from + to) / 2.0;
  const Vec2 outward = turned_left(to - from) / 2.0;
  const auto under = [&](double r) { return gap(middle + r * outward); };
  const double low = under(-1);
  const double high = under(1);
  if (low <= 0 || high >= 0) return;
  const Vec2 between = middle + find_zero(under, -1, low, 1, high, kExact_mm) * outward;
  fill_gap(from, between, depth - 1, filled);
  filled.push_back(between);
  fill_gap(between, to, depth - 1, filled);
}

void Lobe::fill_gaps() {
  std::vector<Vec2> filled;
  filled.reserve(line.size());
  for (std::size_t i = 0; i < line.size(); ++i) {
    if (i > 0) fill_gap(line[i - 1], line[i], 6, filled);
    filled.push_back(line[i]);
  }
  line = std::move(filled);
}

Vec3 true_step(const ScaleBody& body, const CutPlane& plane, Vec2 step) {
  const double x = step.x * plane.tan_slant + step.y * plane.tan_rake;
  return {x, step.x, step.y + x * body.surface.shape().base_slope};
}

}  // namespace

double true_length_mm(const ScaleBody& body, const CutPlane& plane, Vec2 step) {
  return glm::length(true_step(body, plane, step));
}

double true_area_factor(const ScaleBody& body, const CutPlane& plane) {
  return glm::length(glm::cross(true_step(body, plane, {1, 0}), true_step(body, plane, {0, 1})));
}

double surface_s_mm(const ScaleBody& body, const CutPlane& plane, double y, double guess) {
  const auto above = [&](double s) { return body.s_at({plane.x_at(y, s), y}) - s; };
  return std::max(0.0, plane.tan_rake == 0 ? above(0) : level_zero(above, guess, body.top_mm + 1));
}

std::optional<PlaneSection> cut(const ScaleBody& body, const CutPlane& plane, Closeness closeness) {
  const std::vector<Crossing> base = wall_places(body, plane, 0);
  if (base.size() < 2) return std::nullopt;
  PlaneSection section;
  for (std::size_t place = 0; place + 1 < base.size(); place += 2) {
    Lobe lobe(body, plane, base, place);
    lobe.measure(closeness);
    if (place == 0) section.belly = lobe.belly;
    section.spine = lobe.spine;
    section.area_mm2 += lobe.area_mm2;
    section.s_moment_mm3 += lobe.s_moment_mm3;
    section.line.insert(section.line.end(), lobe.line.begin(), lobe.line.end());
  }
  return section;
}

}  // namespace haftwright::layout
