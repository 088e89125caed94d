#include "triangulate.hpp"

#include <algorithm>
#include <numeric>

namespace haftwright::app {
namespace {

double signed_area(const std::vector<Vec2>& loop) {
  double sum = 0;
  for (std::size_t i = 0; i < loop.size(); ++i) sum += cross(loop[i], loop[(i + 1) % loop.size()]);
  return sum / 2;
}

bool inside(Vec2 a, Vec2 b, Vec2 c, Vec2 p) {
  return cross(b - a, p - a) > 0 && cross(c - b, p - b) > 0 && cross(a - c, p - c) > 0;
}

}  // namespace

std::vector<std::uint32_t> triangulate(const std::vector<Vec2>& loop) {
  std::vector<std::uint32_t> triangles;
  if (loop.size() < 3) return triangles;
  std::vector<std::uint32_t> ring(loop.size());
  std::iota(ring.begin(), ring.end(), 0U);
  if (signed_area(loop) < 0) std::reverse(ring.begin(), ring.end());
  std::size_t at = 0;
  std::size_t misses = 0;
  while (ring.size() > 3 && misses < ring.size()) {
    const std::size_t n = ring.size();
    const std::size_t before = (at + n - 1) % n;
    const std::size_t after = (at + 1) % n;
    const Vec2 a = loop[ring[before]];
    const Vec2 b = loop[ring[at]];
    const Vec2 c = loop[ring[after]];
    bool ear = cross(b - a, c - b) >= 0;
    for (std::size_t i = 0; ear && i < n; ++i)
      if (i != before && i != at && i != after && inside(a, b, c, loop[ring[i]])) ear = false;
    if (!ear) {
      at = after;
      ++misses;
      continue;
    }
    triangles.insert(triangles.end(), {ring[before], ring[at], ring[after]});
    ring.erase(ring.begin() + static_cast<std::ptrdiff_t>(at));
    at = at % ring.size();
    misses = 0;
  }
  if (ring.size() == 3) triangles.insert(triangles.end(), {ring[0], ring[1], ring[2]});
  return triangles;
}

}  // namespace haftwright::app
