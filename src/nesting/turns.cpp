#include "turns.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <deque>
#include <numbers>

namespace haftwright::nesting::inner {

namespace {

constexpr std::size_t kMostAlongRim = 4;
constexpr double kSameTurnDeg = 1e-7;
constexpr double kShortestRimMm = 5;
/// Each halving of the interval at most doubles the number of its parts; a shape that just does not fit
/// anywhere in a wide interval would else take seconds.
constexpr std::size_t kMostParts = 4096;

double direction_deg(const Point& d) {
  return std::atan2(static_cast<double>(d.Y), static_cast<double>(d.X)) * (180 / std::numbers::pi);
}

double length_of(const Point& d) {
  return std::hypot(static_cast<double>(d.X), static_cast<double>(d.Y));
}

/// How far a polygon reaches along a direction.
double extent(const Path& path, double x, double y) {
  double low = 1e300, high = -1e300;
  for (const Point& p : path) {
    const double t = static_cast<double>(p.X) * x + static_cast<double>(p.Y) * y;
    low = std::min(low, t);
    high = std::max(high, t);
  }
  return high - low;
}

double radius_um(const Path& outline) {
  const Box box = box_of(outline);
  const double x = static_cast<double>(box.left + box.right) / 2,
               y = static_cast<double>(box.bottom + box.top) / 2;
  double most = 0;
  for (const Point& p : outline)
    most = std::max(most, std::hypot(static_cast<double>(p.X) - x, static_cast<double>(p.Y) - y));
  return most;
}

/// How far a point may move in a turn by `play_deg` about the middle.
double travel_um(double radius, double play_deg) {
  return 2 * radius * std::sin(std::min(play_deg, 180.0) * std::numbers::pi / 360);
}

/// Longer in some direction than all there is, whatever the turn.
bool too_large(const Room& room, const Path& outline, double travel) {
  constexpr std::array<Vec2, 4> directions{Vec2{1, 0},
                                           {0, 1},
                                           {0.7071067811865476, 0.7071067811865476},
                                           {0.7071067811865476, -0.7071067811865476}};
  constexpr double rounding = 3;
  return std::any_of(directions.begin(), directions.end(), [&](const Vec2& d) {
    return extent(outline, d.x, d.y) - 2 * travel > extent(room.usable_hull, d.x, d.y) + rounding;
  });
}

}  // namespace

std::vector<double> tried_turns(const Room& room, const Polygon& shape, const Angles& angles) {
  std::vector<double> turns{angles.middle_deg};
  if (angles.play_deg == 0) return turns;
  const Path outline = turned(shape, 0);
  std::vector<double> offsets;
  for (const Path& path : room.usable)
    for (std::size_t i = 0; i < path.size(); ++i) {
      const Point rim = next(path, i) - path[i];
      if (length_of(rim) < kShortestRimMm * kPerMm) continue;
      for (std::size_t j = 0; j < outline.size(); ++j) {
        const Point edge = next(outline, j) - outline[j];
        const double offset =
            std::remainder(direction_deg(rim) - direction_deg(edge) - angles.middle_deg, 360.0);
        if (std::abs(offset) < angles.play_deg) offsets.push_back(offset);
      }
    }
  std::sort(offsets.begin(), offsets.end(), [](double a, double b) {
    return std::abs(a) != std::abs(b) ? std::abs(a) < std::abs(b) : a < b;
  });
  const auto add = [&](double turn) {
    const auto same = [&](double known) { return std::abs(known - turn) < kSameTurnDeg; };
    if (std::none_of(turns.begin(), turns.end(), same)) turns.push_back(turn);
  };
  for (const double offset : offsets)
    if (turns.size() <= kMostAlongRim) add(angles.middle_deg + offset);
  add(angles.middle_deg - angles.play_deg);
  add(angles.middle_deg + angles.play_deg);
  return turns;
}

double nearest_turn(const Angles& angles, double angle_deg) {
  const double offset = std::remainder(angle_deg - angles.middle_deg, 360.0);
  if (std::abs(offset) <= angles.play_deg) return angle_deg;
  return angles.middle_deg + std::copysign(angles.play_deg, offset);
}

FitFound fit_in(const Room& room, const Polygon& shape, const Angles& angles, const Others& others) {
  if (room.usable.empty()) return {};
  const Path middle = turned(shape, angles.middle_deg);
  const double radius = radius_um(middle);
  if (area_mm2(middle) > room.area_mm2 * (1 + 1e-6)) return {};
  if (too_large(room, middle, travel_um(radius, angles.play_deg))) return {};
  for (const double turn : tried_turns(room, shape, angles)) {
    const Turned tried = turned_of(turned(shape, turn));
    if (const std::optional<Point> at = any_place(room, tried, others)) return {Answer::yes, *at, turn};
  }
  FitFound found;
  std::deque<Angles> parts{angles};
  for (std::size_t done = 0; !parts.empty(); ++done) {
    const Angles part = parts.front();
    parts.pop_front();
    const Path outline = turned(shape, part.middle_deg);
    const double travel = travel_um(radius, part.play_deg);
    if (done > 0)
      if (const std::optional<Point> at = any_place(room, turned_of(outline), others))
        return {Answer::yes, *at, part.middle_deg};
    if (too_large(room, outline, travel) || !shrunk_has_place(room, outline, travel, others)) continue;
    if (travel < kCloseMm * kPerMm || done > kMostParts) {
      found.answer = Answer::no_closely;
      if (done > kMostParts) return found;
      continue;
    }
    parts.push_back({part.middle_deg - part.play_deg / 2, part.play_deg / 2});
    parts.push_back({part.middle_deg + part.play_deg / 2, part.play_deg / 2});
  }
  return found;
}

}  // namespace haftwright::nesting::inner
