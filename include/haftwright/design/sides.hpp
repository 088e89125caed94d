// Names for the two sides and the two long edges of a handle.
#pragma once

namespace haftwright {

enum class Which { left, right };
inline const char* name_of(Which side) {
  return side == Which::left ? "left" : "right";
}

enum class HandleEdge { spine, belly };
inline const char* name_of(HandleEdge edge) {
  return edge == HandleEdge::spine ? "spine" : "belly";
}

}  // namespace haftwright
