// Which turns are tried, and whether any turn of an interval has a place.
#pragma once

#include <vector>

#include "haftwright/nesting/places.hpp"
#include "room.hpp"

namespace haftwright::nesting::inner {

/// The middle, the turns that lay an edge along the rim (the four nearest to the middle), the ends; each
/// once.
std::vector<double> tried_turns(const Room& room, const Polygon& shape, const Angles& angles);
/// The turn within the interval nearest to `angle_deg`.
double nearest_turn(const Angles& angles, double angle_deg);

struct FitFound {
  Answer answer = Answer::no;
  Point at;
  double angle_deg = 0;
};
/// As fits(). Cheap where the shape is plainly too large.
FitFound fit_in(const Room& room, const Polygon& shape, const Angles& angles, const Others& others);

}  // namespace haftwright::nesting::inner
