#include "polygon_rows.hpp"

#include <algorithm>
#include <cmath>

namespace haftwright::pictures {

void find_crossings(const std::vector<Vec2>& polygon, double row, std::vector<double>& crossings) {
  crossings.clear();
  for (std::size_t i = 0; i < polygon.size(); ++i) {
    const Vec2 a = polygon[i];
    const Vec2 b = polygon[(i + 1) % polygon.size()];
    if ((a.y <= row) != (b.y <= row)) crossings.push_back(a.x + (row - a.y) / (b.y - a.y) * (b.x - a.x));
  }
  std::sort(crossings.begin(), crossings.end());
}

Mask inside_of(const std::vector<Vec2>& polygon, int width, int height) {
  Mask mask(width, height);
  std::vector<double> crossings;
  for (int y = 0; y < height; ++y) {
    find_crossings(polygon, y + 0.5, crossings);
    for (std::size_t i = 0; i + 1 < crossings.size(); i += 2) {
      const double from = std::clamp(std::ceil(crossings[i] - 0.5), 0.0, double(width));
      const double to = std::clamp(std::ceil(crossings[i + 1] - 0.5), 0.0, double(width));
      for (int x = static_cast<int>(from); x < static_cast<int>(to); ++x) mask(x, y) = 1;
    }
  }
  return mask;
}

}  // namespace haftwright::pictures
