// Lines that planes leave on the finished surface of a side, front face first.
#pragma once

#include <vector>

#include "haftwright/handle/handle.hpp"

namespace haftwright::preview {

struct SurfaceLine {
  bool front_face = false;
  std::size_t joint = 0;
  std::size_t line = 0;  ///< in its joint, front to rear
  CutPlane plane;
  LineEnd spine;
  LineEnd belly;
  std::vector<Vec3> points;  ///< belly to spine, both ends at the edge, in the handle's frame
};

/// The front face's line and those of all joints, front to rear: line i is the front of piece or strip i.
std::vector<SurfaceLine> surface_lines(const Handle& handle, const SideLayout& side);

}  // namespace haftwright::preview
