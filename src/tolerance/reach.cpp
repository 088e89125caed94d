// A pose fits when for every pin and every direction f the motion along f is at most the pin's support there:
// radius + sum of |f . off|. Of these endlessly many bounds three, weighted so that together they push
// against the effect and nothing else, already prove that no pose goes farther than their weighted sum. The
// simplex method finds the best three: it starts from any, looks where the pose that they leave breaks
// another bound most, and takes that one in for one of the three.
#include "reach.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <glm/mat3x3.hpp>
#include <glm/matrix.hpp>
#include <glm/vec3.hpp>

#include "pose_space.hpp"

namespace haftwright::tolerance {
namespace {

/// Of shift and turn, the turn in mm at the farthest pin from the middle.
using Way = glm::dvec3;

/// way . pose <= most_mm
struct HalfSpace {
  Way way{0, 0, 0};
  double most_mm = 0;
};

/// What a hole may be off by: a polygon about zero, its corners in order.
std::vector<Vec2> corners_of(std::vector<Vec2> off) {
  std::erase_if(off, [](Vec2 v) { return v == Vec2{0, 0}; });
  for (Vec2& v : off)
    if (v.y < 0 || (v.y == 0 && v.x < 0)) v = -v;
  std::ranges::sort(off, {}, [](Vec2 v) { return std::atan2(v.y, v.x); });
  Vec2 corner{0, 0};
  for (const Vec2 v : off) corner -= v;
  std::vector<Vec2> corners{corner};
  for (const double sign : {2.0, -2.0})
    for (const Vec2 v : off) corners.push_back(corner += sign * v);
  return corners;
}

/// Whether the polygon encloses anything, beside rounding.
bool has_area(const std::vector<Vec2>& corners) {
  double area = 0;
  double around = 0;
  for (std::size_t i = 0; i + 1 < corners.size(); ++i) {
    area += cross(corners[i], corners[i + 1]);
    around += glm::distance(corners[i], corners[i + 1]);
  }
  return area > 1e-12 * around * around;
}

/// From the nearest point of the polygon to `p`; zero when `p` is inside.
Vec2 out_of(const std::vector<Vec2>& corners, bool encloses, Vec2 p) {
  Vec2 nearest = p - corners.front();
  bool inside = encloses;
  for (std::size_t i = 0; i + 1 < corners.size(); ++i) {
    const Vec2 edge = corners[i + 1] - corners[i];
    const Vec2 from = p - corners[i];
    inside = inside && cross(edge, from) >= 0;
    const double squares = glm::dot(edge, edge);
    const double part = squares > 0 ? std::clamp(glm::dot(from, edge) / squares, 0.0, 1.0) : 0;
    const Vec2 out = from - part * edge;
    if (glm::dot(out, out) < glm::dot(nearest, nearest)) nearest = out;
  }
  return inside ? Vec2{0, 0} : nearest;
}

struct Pin {
  Vec2 at{0, 0};  ///< from the pins' middle, over the reach
  double radius_mm = 0;
  std::vector<Vec2> off_mm;
  std::vector<Vec2> corners;
  bool encloses = false;

  Way way(Vec2 f) const { return {f.x, f.y, cross(at, f)}; }
  HalfSpace bound(Vec2 f) const {
    double most = radius_mm;
    for (const Vec2 off : off_mm) most += std::abs(glm::dot(f, off));
    return {way(f), most};
  }
  Vec2 motion(const Way& pose) const { return {pose.x - pose.z * at.y, pose.y + pose.z * at.x}; }
};

class Search {
 public:
  Search(std::vector<Pin> pins, bool turns, const Way& effect)
      : pins_(std::move(pins)), turns_(turns), effect_(effect) {
    begin();
  }

  double farthest() {
    double best = value();
    for (int step = 0; step < kMostSteps; ++step) {
      const Way pose =
          glm::inverse(glm::transpose(ways())) * Way(three_[0].most_mm, three_[1].most_mm, three_[2].most_mm);
      HalfSpace broken;
      if (!most_broken(pose, kCloseEnough * std::max(1.0, best), broken) || !take_in(broken)) break;
      best = std::min(best, value());
    }
    return best;
  }

 private:
  static constexpr int kMostSteps = 400;
  static constexpr double kCloseEnough = 1e-11;

  /// Forces along the line of the two pins farthest apart and square to it at either balance any effect.
  void begin() {
    const Pin* a = &pins_.front();
    const Pin* b = a;
    for (const Pin& one : pins_)
      for (const Pin& other : pins_)
        if (glm::distance(one.at, other.at) > glm::distance(a->at, b->at)) a = &one, b = &other;
    Vec2 along{1, 0};
    if (turns_) along = glm::normalize(b->at - a->at);
    const Vec2 square = turned_left(along);
    three_ = {a->bound(along), a->bound(square), b->bound(square)};
    if (!turns_) three_[2] = {.way = {0, 0, 1}};
    const Way forces = weights();
    for (int i = 0; i < 3; ++i)
      if (forces[i] < 0) three_[static_cast<std::size_t>(i)].way *= -1.0;
  }

  glm::dmat3 ways() const { return {three_[0].way, three_[1].way, three_[2].way}; }
  Way weights() const { return glm::inverse(ways()) * effect_; }
  /// The weights are not below zero but for rounding, so this is a bound.
  double value() const {
    const Way forces = weights();
    double sum = 0;
    for (int i = 0; i < 3; ++i) sum += std::abs(forces[i]) * three_[static_cast<std::size_t>(i)].most_mm;
    return sum;
  }

  bool most_broken(const Way& pose, double least_mm, HalfSpace& broken) const {
    double most = least_mm;
    for (const Pin& pin : pins_) {
      const Vec2 out = out_of(pin.corners, pin.encloses, pin.motion(pose));
      const double length = glm::length(out);
      if (length - pin.radius_mm <= most) continue;
      most = length - pin.radius_mm;
      broken = pin.bound(out / length);
    }
    if (!turns_ && std::abs(pose.z) > most) {
      most = std::abs(pose.z);
      broken = {.way = {0, 0, pose.z > 0 ? 1 : -1}};
    }
    return most > least_mm;
  }

  /// In place of the one of the three that first comes to nothing as the new one pushes. False when none
  /// does.
  bool take_in(const HalfSpace& bound) {
    const glm::dmat3 back = glm::inverse(ways());
    const Way forces = back * effect_;
    const Way part = back * bound.way;
    int out = -1;
    double least = 0;
    for (int i = 0; i < 3; ++i) {
      if (!(part[i] > 1e-14)) continue;
      const double ratio = std::max(0.0, forces[i]) / part[i];
      if (out < 0 || ratio < least) out = i, least = ratio;
    }
    if (out < 0) return false;
    three_[static_cast<std::size_t>(out)] = bound;
    return true;
  }

  std::vector<Pin> pins_;
  bool turns_ = false;
  Way effect_{0, 0, 0};
  std::array<HalfSpace, 3> three_;
};

FromMiddle from_middle(std::span<const LoosePin> pins) {
  std::vector<PinClearance> places;
  for (const LoosePin& pin : pins) places.push_back({.at_mm = pin.at_mm});
  return FromMiddle(places);
}

}  // namespace

bool on_one_spot(std::span<const LoosePin> pins) {
  return from_middle(pins).one_spot();
}

double farthest_mm(std::span<const LoosePin> pins, const PoseEffect& effect) {
  if (pins.empty()) return 0;
  const FromMiddle seen = from_middle(pins);
  const bool turns = !seen.one_spot();
  std::vector<Pin> made;
  for (std::size_t i = 0; i < pins.size(); ++i) {
    Pin& pin = made.emplace_back();
    if (turns) pin.at = seen.pins()[i].at_mm / seen.reach_mm();
    pin.radius_mm = pins[i].radius_mm;
    pin.off_mm = pins[i].off_mm;
    pin.corners = corners_of(pins[i].off_mm);
    pin.encloses = has_area(pin.corners);
  }
  const PoseEffect about_middle = seen.seen(effect);
  const Way way{about_middle.along.x, about_middle.along.y,
                turns ? about_middle.turn_mm / seen.reach_mm() : 0};
  const double size = glm::length(way);
  if (size == 0) return 0;
  return size * Search(std::move(made), turns, way / size).farthest();
}

}  // namespace haftwright::tolerance
