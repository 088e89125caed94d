// Whether a mesh is closed.
#pragma once

#include <array>
#include <map>
#include <utility>

#include "haftwright/preview/meshes.hpp"

namespace haftwright::test {

using Place = std::array<float, 3>;

/// How often each edge is used one way less the other way, vertices joined where their places are equal.
inline std::map<std::pair<Place, Place>, int> open_edges(const Body& body) {
  std::map<std::pair<Place, Place>, int> use;
  for (std::size_t i = 0; i < body.triangles.size(); i += 3)
    for (std::size_t k = 0; k < 3; ++k) {
      const Place& a = body.vertices[body.triangles[i + k]].position;
      const Place& b = body.vertices[body.triangles[i + (k + 1) % 3]].position;
      if (a == b) continue;
      if (a < b)
        ++use[{a, b}];
      else
        --use[{b, a}];
    }
  std::erase_if(use, [](const auto& entry) { return entry.second == 0; });
  return use;
}

}  // namespace haftwright::test
