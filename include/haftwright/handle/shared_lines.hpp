// The lines that the left and the right side are compared at: both front faces, and every joint line that
// both sides have.
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "haftwright/handle/handle.hpp"
#include "haftwright/words/where.hpp"

namespace haftwright {

/// One side's line: its plane, and where it meets the edge of the handle.
struct LineOnSide {
  CutPlane plane;
  LineEnd spine;
  LineEnd belly;
  const LineEnd& at(HandleEdge edge) const { return edge == HandleEdge::spine ? spine : belly; }
};

struct SharedLine {
  std::optional<std::size_t> joint;  ///< index; none: the front face
  std::size_t line = 0;              ///< within the joint, front to rear
  Spot spot;                         ///< the front face, joint 2, line 3 of joint 1
  LineOnSide left;
  LineOnSide right;
};

/// Front face first, then joints front to rear, each with its lines front to rear. Joint i of the left side
/// belongs to joint i of the right side and line to line; joints and lines that only one side has are left
/// out.
std::vector<SharedLine> shared_lines(const Handle& handle);

}  // namespace haftwright
