#include "haftwright/nesting/places.hpp"

#include <algorithm>
#include <cmath>

#include "checks.hpp"
#include "obstacles.hpp"
#include "turns.hpp"

namespace haftwright::nesting {

using namespace inner;

namespace inner {

Others others_of(std::span<const Obstacle> obstacles, const Rules& rules) {
  Others others;
  others.gap = to_grid(rules.kerf_mm);
  for (const Obstacle& obstacle : obstacles)
    others.outlines.push_back(moved(turned(obstacle.shape, obstacle.angle_deg), to_grid(obstacle.at_mm)));
  return others;
}

namespace {

double distance_2(const Point& a, const Point& b) {
  const double x = static_cast<double>(a.X - b.X), y = static_cast<double>(a.Y - b.Y);
  return x * x + y * y;
}

/// The point of a contact nearest to `hand`, on the grid.
Point nearest_on(const Contact& contact, const Point& hand) {
  const Vec2 d{static_cast<double>((contact.b - contact.a).X),
               static_cast<double>((contact.b - contact.a).Y)};
  const Vec2 h{static_cast<double>((hand - contact.a).X), static_cast<double>((hand - contact.a).Y)};
  const double t = std::clamp(glm::dot(h, d) / glm::dot(d, d), 0.0, 1.0);
  return contact.a + Point{std::llround(d.x * t), std::llround(d.y * t)};
}

/// The free space is bounded by contacts: its nearest point is the hand itself, the nearest of a contact, or
/// one of the free space's corners.
std::optional<Point> nearest_at(const Room& room, const Turned& shape, const Others& others,
                                const Point& hand) {
  if (room.usable.empty()) return std::nullopt;
  if (legal_at(room, shape.full, others, hand)) return hand;
  std::vector<Point> places = free_corners(room, shape, others);
  std::optional<Point> best;
  const auto take = [&](const Point& place) {
    if (!best || distance_2(place, hand) < distance_2(*best, hand)) best = place;
  };
  for (const Point& place : places) take(place);
  for (const Contact& contact : contacts(room, shape.full.outline, others)) {
    const Point foot = nearest_on(contact, hand);
    if (best && distance_2(foot, hand) >= distance_2(*best, hand)) continue;
    for (Int dx = -1; dx <= 1; ++dx)
      for (Int dy = -1; dy <= 1; ++dy) {
        const Point near{foot.X + dx, foot.Y + dy};
        if (legal_at(room, shape.full, others, near)) take(near);
      }
  }
  return best;
}

}  // namespace
}  // namespace inner

Polygon placed_outline(const Polygon& shape, Vec2 at_mm, double angle_deg) {
  return to_mm(moved(turned(shape, angle_deg), to_grid(at_mm)));
}

bool legal(const Stock& stock, const Polygon& shape, const Place& place, const Rules& rules,
           std::span<const Obstacle> obstacles) {
  check_single(stock, shape, {}, rules, obstacles);
  check_place(place.at_mm, "place");
  const Room room = room_of(stock, rules);
  return !room.usable.empty() && legal_at(room, shape_of(turned(shape, place.angle_deg)),
                                          others_of(obstacles, rules), to_grid(place.at_mm));
}

std::optional<Place> nearest_place(const Stock& stock, const Polygon& shape, const Place& hand,
                                   std::span<const Angles> allowed, const Rules& rules,
                                   std::span<const Obstacle> obstacles) {
  check_single(stock, shape, allowed, rules, obstacles);
  check_place(hand.at_mm, "hand");
  const Room room = room_of(stock, rules);
  const Others others = others_of(obstacles, rules);
  std::vector<double> turns, more;
  for (const Angles& angles : allowed) {
    turns.push_back(nearest_turn(angles, hand.angle_deg));
    for (const double turn : tried_turns(room, shape, angles)) more.push_back(turn);
  }
  const auto nearer = [&](double a, double b) {
    return std::abs(std::remainder(a - hand.angle_deg, 360.0)) <
           std::abs(std::remainder(b - hand.angle_deg, 360.0));
  };
  std::stable_sort(turns.begin(), turns.end(), nearer);
  std::stable_sort(more.begin(), more.end(), nearer);
  turns.insert(turns.end(), more.begin(), more.end());
  for (const double turn : turns)
    if (const auto at = nearest_at(room, turned_of(turned(shape, turn)), others, to_grid(hand.at_mm)))
      return Place{to_mm(*at), turn};
  return std::nullopt;
}

Fit fits(const Stock& stock, const Polygon& shape, const Angles& angles, const Rules& rules,
         std::span<const Obstacle> obstacles) {
  check_single(stock, shape, {&angles, 1}, rules, obstacles);
  const FitFound found = fit_in(room_of(stock, rules), shape, angles, others_of(obstacles, rules));
  Fit fit{found.answer, std::nullopt};
  if (found.answer == Answer::yes) fit.place = Place{to_mm(found.at), found.angle_deg};
  return fit;
}

}  // namespace haftwright::nesting
