#include <catch2/catch.hpp>

#include "haftwright/geometry/segment.hpp"

using namespace haftwright;

TEST_CASE("distance to a straight stretch: square to it, or to its nearer end") {
  CHECK(distance_to_segment_mm({3, 2}, {0, 0}, {10, 0}) == 2);
  CHECK(distance_to_segment_mm({-3, 4}, {0, 0}, {10, 0}) == 5);
  CHECK(distance_to_segment_mm({13, -4}, {10, 0}, {0, 0}) == 5);
  CHECK(distance_to_segment_mm({3, 4}, {0, 0}, {0, 0}) == 5);
}
