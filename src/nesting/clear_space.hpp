// The largest clear rectangles along x and y that a stock has.
#pragma once

#include <vector>

#include "room.hpp"

namespace haftwright::nesting::inner {

/// What no clear rectangle may cover, as rectangles: outside of the usable outline and the keep-outs, on a
/// mesh of lines through all corners, and where a border is slanted, of even steps between: never less than
/// what is really lost.
struct ClearSpace {
  Box box;
  std::vector<Box> blocked;
};
ClearSpace clear_space_of(const Room& room);

struct Clear {
  Box box;
  std::int64_t worth = 0;
};
/// All rectangles that are clear of `more` too and that no other contains, and are worth something; the best
/// first.
std::vector<Clear> clear_rectangles(const ClearSpace& space, const std::vector<Box>& more,
                                    const Rules& rules);

inline Path corners_of(const Box& box) {
  return {{box.left, box.bottom}, {box.right, box.bottom}, {box.right, box.top}, {box.left, box.top}};
}
inline Box grown_by(const Box& box, Int by) {
  return {box.left - by, box.bottom - by, box.right + by, box.top + by};
}

}  // namespace haftwright::nesting::inner
