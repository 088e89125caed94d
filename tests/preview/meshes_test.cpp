// Preview meshes: closed, on the height field, as large as the handle says.
#include "haftwright/preview/meshes.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <cstdlib>
#include <map>

#include "haftwright/design/starters.hpp"
#include "haftwright/handle/lay_out.hpp"
#include "support/random_design.hpp"

using namespace haftwright;

namespace {

using Place = std::array<float, 3>;

/// How often each edge is used one way less the other way, vertices joined where their places are equal.
std::map<std::pair<Place, Place>, int> open_edges(const Body& body) {
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

bool all_finite(const Body& body) {
  for (const Vertex& vertex : body.vertices)
    for (std::size_t k = 0; k < 3; ++k)
      if (!std::isfinite(vertex.position[k]) || !std::isfinite(vertex.normal[k])) return false;
  return true;
}

Vec3 at(const std::array<float, 3>& v) {
  return {v[0], v[1], v[2]};
}

std::uint64_t designs() {
  return std::getenv("HAFTWRIGHT_SHORT") ? 40 : 400;
}

}  // namespace

TEST_CASE("every body of every random design is closed, finite and has unit normals") {
  for (std::uint64_t seed = 1; seed <= designs(); ++seed) {
    const Design design = test::random_design(seed);
    const Handle handle = lay_out(design);
    const Preview preview = build_preview(design, handle);
    INFO("seed " << seed);
    for (const Body& body : preview.bodies) {
      INFO(body.name);
      REQUIRE(body.triangle_count() > 0);
      REQUIRE(all_finite(body));
      REQUIRE(open_edges(body).empty());
      for (const Vertex& vertex : body.vertices)
        REQUIRE(glm::length(at(vertex.normal)) == Approx(1).margin(1e-5));
    }
  }
}
