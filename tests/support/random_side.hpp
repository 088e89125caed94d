// The sides of a random design (see random_design.hpp).
#pragma once

#include "haftwright/design/design.hpp"
#include "random.hpp"

namespace haftwright::test {

/// What a side has to fit.
struct Steel {
  double length_mm = 0;       ///< front face to butt
  double butt_corner_mm = 0;  ///< joints keep clear of it
  double low_y_mm = 0;
  double high_y_mm = 0;
};

std::string_view random_wood(Random& random);
Side random_side(Random& random, const Steel& steel);
/// None, small misses, or another side: always such that the right side is a good one too.
SideOverrides random_overrides(Random& random, const Steel& steel, const Side& left);

}  // namespace haftwright::test
