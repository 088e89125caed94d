// Places of one shape on one stock: whether one is legal, the nearest legal one, whether there is any.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "haftwright/nesting/problem.hpp"

namespace haftwright::nesting {

/// Another shape that lies on the stock.
struct Obstacle {
  Polygon shape;
  Vec2 at_mm{0, 0};
  double angle_deg = 0;
};

struct Place {
  Vec2 at_mm{0, 0};
  double angle_deg = 0;
};

/// Within the outline less its trim, clear of the keep-outs and their margin, a kerf from each obstacle.
/// Exact on the micrometre grid. Says nothing of the angle, nor of whether straight cuts can free the shape.
bool legal(const Stock& stock, const Polygon& shape, const Place& place, const Rules& rules,
           std::span<const Obstacle> obstacles);

/// The legal place nearest to `hand`: at its angle, taken into the intervals `allowed` first; where that
/// angle has no place, at the nearest of the other angles that the planner would try. None: no such angle has
/// a place.
std::optional<Place> nearest_place(const Stock& stock, const Polygon& shape, const Place& hand,
                                   std::span<const Angles> allowed, const Rules& rules,
                                   std::span<const Obstacle> obstacles);

enum class Answer {
  yes,
  no,         ///< proven: no turn within the interval, whatever the place
  no_closely  ///< none was found, and if there is one it leaves less room than kCloseMm
};
inline constexpr double kCloseMm = 0.02;

struct Fit {
  Answer answer = Answer::no;
  std::optional<Place> place;  ///< where the answer is yes
};

/// Whether the shape has a place at any turn within `angles`. The interval is halved: a shape shrunk by as
/// much as any of its points moves in a turn by half of the interval lies within all turned ones, so where
/// even that has no place there is none (after V. Milenkovic's range intersection, Computational Geometry,
/// 1999); the full shape that has a place at the middle settles it the other way.
Fit fits(const Stock& stock, const Polygon& shape, const Angles& angles, const Rules& rules,
         std::span<const Obstacle> obstacles);

}  // namespace haftwright::nesting
